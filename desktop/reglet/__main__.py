"""Where Reglet starts: `reglet BOOK` opens the window, `reglet COMMAND …` does one job without."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from reglet.cli import COMMANDS, guarded, run
from reglet.errors import WriterError

_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
"""One of these is set where Qt can open a window; without any it would end the program."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Open the window on a book or a draft, or run a command; the exit status."""
    told = list(sys.argv[1:] if arguments is None else arguments)
    if not told or (len(told) == 1 and told[0] not in COMMANDS and not told[0].startswith("-")):
        return guarded(lambda: _open_window(Path(told[0]) if told else None))
    return run(told)


def _open_window(path: Path | None) -> int:
    if path is not None and not path.exists():
        raise WriterError(
            f"There is no file {path}, and no command of that name. Check it, or see reglet --help."
        )
    if path is not None and path.is_dir():
        raise WriterError(f"{path} is a folder. Name the book or the draft inside it.")
    if sys.platform == "linux" and not any(map(os.environ.get, _SCREENS)):
        raise WriterError(
            "There is no screen here to open a window on. Give the command in a terminal of your "
            "desktop; “reglet --help” lists what can be done without a window."
        )
    # Commands must start without Qt, and where there is none.
    from reglet.window.application import run as open_window

    return open_window(path)


if __name__ == "__main__":
    sys.exit(main())
