"""Copies of the book file, kept beside it in a folder of its own.

A copy is made of the whole file, history included, through SQLite's own backup, and is checked
before an older one is let go. Nothing is ever written over.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from reglet.bookfile.naming import ENDING, backup_folder
from reglet.errors import BookFileError

KEPT = 7
"""How many copies are kept."""

_EVERY = timedelta(days=1)
_TIME = "%Y-%m-%d %H.%M.%S"


def backups(path: Path) -> list[Path]:
    """The copies there are of the book at `path`, newest first."""
    return [copy for _, copy in _dated(path)]


def due(path: Path, when: datetime) -> bool:
    """Whether the book has been written since its newest copy, and that is a day old."""
    there = _dated(path)
    if not there:
        return True
    made, newest = there[0]
    return when - made >= _EVERY and path.stat().st_mtime > newest.stat().st_mtime


def back_up(connection: sqlite3.Connection, path: Path, when: datetime) -> Path:
    """A copy of the book at `path`, which `connection` is of; the oldest beyond `KEPT` are removed.

    Raises BookFileError; then nothing has changed.
    """
    try:
        return _copied(connection, path, when)
    except (sqlite3.Error, OSError) as error:
        raise BookFileError(
            f"Today’s copy of {path.name} could not be laid by ({error}). The book itself is "
            "sound. Make some room on its disk, or copy the file yourself."
        ) from error


def _copied(connection: sqlite3.Connection, path: Path, when: datetime) -> Path:
    folder = backup_folder(path)
    folder.mkdir(exist_ok=True)
    copy = folder / f"{path.stem} {when:{_TIME}}{ENDING}"
    if copy.exists():
        return copy
    copy_whole(connection, copy)
    for old in backups(path)[KEPT:]:
        old.unlink()
    return copy


def copy_whole(connection: sqlite3.Connection, copy: Path) -> None:
    """Make `copy` of the whole file that `connection` is of; it is there whole or not at all.

    Raises sqlite3.Error, OSError.
    """
    unchecked = copy.with_suffix(".unchecked")
    try:
        with closing(sqlite3.connect(unchecked)) as target:
            connection.backup(target)
            found = target.execute("PRAGMA quick_check(1)").fetchone()[0]
            if found != "ok":
                raise sqlite3.DatabaseError(f"the copy is not whole: {found}")
        unchecked.rename(copy)
    finally:
        unchecked.unlink(missing_ok=True)


def _dated(path: Path) -> list[tuple[datetime, Path]]:
    found = []
    for copy in backup_folder(path).glob(f"*{ENDING}"):
        if copy.stem.startswith(f"{path.stem} "):
            try:
                made = datetime.strptime(copy.stem[len(path.stem) + 1 :], _TIME)
            except ValueError:
                continue  # a file of the writer's own
            found.append((made, copy))
    return sorted(found, reverse=True)
