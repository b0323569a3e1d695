"""Opening a book file and making a new one: who may write, and what is seen to first."""

from __future__ import annotations

import os
import sqlite3
import stat
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from reglet.bookfile import schema, store
from reglet.bookfile.backups import back_up, copy_whole, due
from reglet.bookfile.connecting import connect, damaged, in_memory, in_sentences, version_of
from reglet.bookfile.lock import Held, Lock
from reglet.errors import BookFileError, BookFileInUse, NewerBookFile
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage


@dataclass(frozen=True)
class Opened:
    """A book file that is open. `refusal` is what every attempt to write is answered with; without
    one it is open for writing, under `lock`. `remark` tells the writer what they did not ask for.
    """

    path: Path
    connection: sqlite3.Connection
    lock: Lock | None = None
    refusal: BookFileError | None = None
    remark: str = ""

    def close(self) -> None:
        """Let the file go. More than once does no harm."""
        self.connection.close()
        if self.lock:
            self.lock.release()


def make(path: Path, book: Book) -> Opened:
    """A new file for `book`, open for writing. Raises BookFileError, also if `path` is there."""
    path, lock = _place_for_new(path)
    draft = path.with_name(f".{path.name}.new")
    try:
        with in_sentences(path):
            draft.unlink(missing_ok=True)
            with closing(sqlite3.connect(draft, isolation_level=None)) as new:
                schema.create_tables(new)
                new.execute("BEGIN")
                state, _ = store.write_new_state(new, book)
                new.execute("INSERT INTO now VALUES (?, ?)", (state, Stage.FIRST_READ))
                new.execute("COMMIT")
            draft.rename(path)
            return Opened(path, connect(path, read_only=False), lock)
    except BaseException:
        draft.unlink(missing_ok=True)
        lock.release()
        raise


def make_copy(connection: sqlite3.Connection, path: Path) -> Opened:
    """A new file with all that the one of `connection` holds, open for writing. Raises
    BookFileError, also if `path` is there.
    """
    path, lock = _place_for_new(path)
    try:
        with in_sentences(path):
            copy_whole(connection, path)
            return Opened(path, connect(path, read_only=False), lock)
    except BaseException:
        lock.release()
        raise


def _place_for_new(path: Path) -> tuple[Path, Lock]:
    path = path.resolve()
    if path.exists():
        raise BookFileError(f"{path} is there already and was left as it is. Choose another name.")
    return path, lock_to_create(path)


def open_file(path: Path, read_only: bool, when: datetime) -> Opened:
    """The book file at `path`, to write to unless `read_only` or unless it cannot be.

    Before it is written to, a copy is laid by if the newest is a day old; before its tables are
    brought up to date, in any case. Raises BookFileInUse, DamagedBookFile, BookFileError.
    """
    path = path.resolve()
    version = version_of(path)
    if version > schema.VERSION:
        refusal: BookFileError = _newer(path, version)
        return _to_read(path, version, refusal, str(refusal))
    if version not in (schema.VERSION, *schema.MIGRATIONS):
        raise damaged(path, f"It says to be of form {version}, which no Reglet wrote")
    if read_only:
        reading = BookFileError(f"{path.name} is open for reading only. Nothing was changed.")
        return _to_read(path, version, reading)
    try:
        lock = lock_to_open(path)
    except OSError:
        refusal = cannot_write(path)
        return _to_read(path, version, refusal, str(refusal))
    try:
        return _to_write(path, version, lock, when)
    except BaseException:
        lock.release()
        raise


def _to_read(path: Path, version: int, refusal: BookFileError, remark: str = "") -> Opened:
    with in_sentences(path):
        connection = connect(path, read_only=True)
        try:
            _check(connection, path)
            if version < schema.VERSION:
                older, connection = connection, in_memory(connection)
                older.close()
                schema.migrate(connection, version)
        except BaseException:
            connection.close()
            raise
    return Opened(path, connection, None, refusal, remark)


def _to_write(path: Path, version: int, lock: Lock, when: datetime) -> Opened:
    with in_sentences(path):
        connection = connect(path, read_only=False)
        try:
            _check(connection, path)
            remark = ""
            if version < schema.VERSION or due(path, when):
                try:
                    back_up(connection, path, when)
                except BookFileError as error:
                    remark = str(error)
                    if version < schema.VERSION:
                        connection.close()
                        return _to_read(path, version, error, remark)
            if version < schema.VERSION:
                schema.migrate(connection, version)
        except BaseException:
            connection.close()
            raise
    return Opened(path, connection, lock, None, remark)


def _check(connection: sqlite3.Connection, path: Path) -> None:
    """Raises DamagedBookFile if SQLite finds the file's pages out of order."""
    found = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if found != "ok":
        raise damaged(path, f"SQLite reports: {found}")


def _newer(path: Path, version: int) -> NewerBookFile:
    return NewerBookFile(
        f"{path.name} was written by a later Reglet, in form {version}; this one writes form "
        f"{schema.VERSION}. It can be read here, and nothing in it was changed. Install the later "
        "Reglet to write to it."
    )


def newer_and_unreadable(path: Path) -> NewerBookFile:
    """The error for a later Reglet's book that not even can be read."""
    return NewerBookFile(
        f"{path.name} was written by a later Reglet in a form that this one cannot read. Nothing "
        "in it was changed. Install the later Reglet to open it."
    )


def cannot_write(path: Path) -> BookFileError:
    """The error for a book in a place that cannot be written."""
    return BookFileError(
        f"{path.name} can be read but not written where it is. Nothing was changed. Copy it into a "
        "folder of your own to write."
    )


def lock_to_open(path: Path) -> Lock:
    """The right to write to the book at `path`.

    Raises BookFileInUse if another window has it, OSError where the file or its folder cannot be
    written.
    """
    # For the superuser every file can be written; one marked read-only is meant to be left alone.
    if not path.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH):
        raise PermissionError(path)
    if not os.access(path, os.W_OK):
        raise PermissionError(path)
    try:
        return Lock(path)
    except Held:
        raise BookFileInUse(
            f"{path.name} is open in another window of Reglet. Nothing was changed. Close it there "
            "first, or open it here for reading only."
        ) from None


def lock_to_create(path: Path) -> Lock:
    """The right to write a book to be made at `path`. Raises BookFileError."""
    try:
        return Lock(path)
    except Held:
        raise BookFileInUse(f"{path.name} is being made by another Reglet just now.") from None
    except FileNotFoundError:
        raise BookFileError(
            f"There is no folder {path.parent}. Make it first, or choose another."
        ) from None
    except OSError as error:
        raise BookFileError(
            f"A book cannot be made in {path.parent} ({error.strerror}). Choose a folder of your "
            "own."
        ) from error
