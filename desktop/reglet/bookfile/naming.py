"""How book files are called, and where the copies of one are kept."""

from __future__ import annotations

from pathlib import Path

ENDING = ".reglet"


def is_called_book(path: Path) -> bool:
    """Whether a file is called as books are."""
    return path.suffix.lower() == ENDING


def called_book(path: Path) -> Path:
    """`path`, with the ending by which the window, and whoever looks for it, knows a book."""
    return path if is_called_book(path) else path.with_name(path.name + ENDING)


def backup_folder(path: Path) -> Path:
    """Where the backup copies of the book at `path` are kept."""
    return path.with_name(f"{path.stem}{ENDING}-backups")
