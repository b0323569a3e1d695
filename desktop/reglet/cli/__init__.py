"""Every job of Reglet that needs no window, as a command.

What was asked for goes to standard output, everything else to standard error: the progress of long
work, and errors, each as one sentence. The exit status is 0, 2 for what the writer can put right,
1 for a fault of Reglet's own.
"""

from reglet.cli.run import COMMANDS, guarded, run

__all__ = ["COMMANDS", "guarded", "run"]
