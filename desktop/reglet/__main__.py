"""Where Reglet starts: `reglet BOOK` opens the window, `reglet COMMAND …` does one job without."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from reglet.cli import COMMANDS, guarded, run
from reglet.errors import WriterError


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
    # Commands must start without Qt, and where there is none.
    from reglet.window.application import run as open_window

    return open_window(path)


if __name__ == "__main__":
    sys.exit(main())
