"""From a path to a connection, and from what SQLite says of it to sentences for the writer.

A rollback journal is used and not a write-ahead log: after every commit the one file is the whole
book, which matters where a writer keeps it on a stick or in a folder that another program copies
away, and readers need no shared memory beside it. Every commit is carried through to the disk
(`synchronous = EXTRA`), so that pulling the plug costs nothing that was saved.
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from reglet.bookfile.encoding import Unreadable
from reglet.bookfile.naming import backup_folder, is_called_book
from reglet.bookfile.schema import APPLICATION_ID, VERSION
from reglet.errors import BookFileError, DamagedBookFile, FaultOfOurs

_MAGIC = b"SQLite format 3\x00"
_VERSION_AT, _APPLICATION_AT, _HEADER = 60, 68, 100
"""Where the two marks stand in an SQLite file (sqlite.org/fileformat2.html, section 1.3)."""

_WAIT_MS = 5000
"""How long to wait for another program that is just reading or copying the book."""


def version_of(path: Path) -> int:
    """The version of the tables in the book file at `path`, from its first 100 bytes.

    Raises BookFileError if there is no such file or it is no book, DamagedBookFile if it is what
    is left of one.
    """
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER)
    except FileNotFoundError:
        raise BookFileError(f"There is no book at {path}. Check the name and the folder.") from None
    except IsADirectoryError:
        raise BookFileError(f"{path} is a folder. Name the book file inside it.") from None
    except PermissionError:
        raise BookFileError(
            f"You may not read {path}. Ask whoever set up this computer for the right to."
        ) from None
    except OSError as error:
        raise BookFileError(f"{path} cannot be read: {error.strerror}.") from error
    if not header.startswith(_MAGIC):
        if is_called_book(path):
            raise damaged(path, "It does not start as a book file does")
        raise BookFileError(
            f"{path.name} is not a Reglet book. To bring in a draft, use “new” and name it there."
        )
    if len(header) < _HEADER:
        raise damaged(path, "It ends after a few bytes")
    if int.from_bytes(header[_APPLICATION_AT : _APPLICATION_AT + 4], "big") != APPLICATION_ID:
        raise BookFileError(f"{path.name} belongs to another program and is not a Reglet book.")
    return int.from_bytes(header[_VERSION_AT : _VERSION_AT + 4], "big")


def connect(path: Path, read_only: bool) -> sqlite3.Connection:
    """A connection to the book file at `path`, ready to use from any thread, one at a time.

    To read, SQLite may still have to undo the commit that a crash cut short; where the folder
    forbids that, the file is read from a copy that is put in order. Raises sqlite3.Error.
    """
    connection = _connected(path, read_only)
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError as error:
        connection.close()
        if not read_only or _primary(error) not in _CANNOT_RECOVER or not _journal(path).exists():
            raise
        with (
            tempfile.TemporaryDirectory(prefix="reglet-") as folder,
            closing(_connected(copied(path, Path(folder)), read_only=False)) as settled,
        ):
            return in_memory(settled)
    return connection


def copied(path: Path, folder: Path) -> Path:
    """A copy of a book file, with its journal if a crash left one. Raises OSError."""
    copy = Path(shutil.copyfile(path, folder / path.name))
    if _journal(path).exists():
        shutil.copyfile(_journal(path), _journal(copy))
    return copy


def in_memory(connection: sqlite3.Connection) -> sqlite3.Connection:
    """A copy of what `connection` is of, held in memory, to do with as one likes."""
    copy = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    connection.backup(copy)
    return copy


@contextmanager
def in_sentences(path: Path) -> Iterator[None]:
    """Turns what SQLite and the decoding raise into errors for the writer.

    Raises DamagedBookFile, BookFileError, FaultOfOurs.
    """
    try:
        yield
    except Unreadable as error:
        raise damaged(path, f"A value in it cannot be read ({error})") from error
    except sqlite3.Error as error:
        raise _in_sentence(error, path) from error


def damaged(path: Path, finding: str) -> DamagedBookFile:
    """The error for a damaged book, with what can be done."""
    return DamagedBookFile(
        f"{path.name} is damaged. {finding}. It was left as it is. Open the newest copy in the "
        f"folder “{backup_folder(path).name}” beside it, or have what can still be read brought "
        f"into a new book (on the command line: reglet new NEW.reglet --from “{path.name}”)."
    )


def beyond_salvage(path: Path, finding: str) -> DamagedBookFile:
    """The error for a damaged book of which nothing can be read."""
    return DamagedBookFile(
        f"{path.name} is damaged. {finding}. It was left as it is. Open the newest copy in the "
        f"folder “{backup_folder(path).name}” beside it, or one that you keep elsewhere."
    )


def _connected(path: Path, read_only: bool) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=rw",
        uri=True,
        timeout=_WAIT_MS / 1000,
        isolation_level=None,
        check_same_thread=False,
    )
    # The file may come from anybody: SQLite's own advice for such files (sqlite.org/security.html).
    for pragma in ("trusted_schema = OFF", "cell_size_check = ON", "mmap_size = 0"):
        connection.execute(f"PRAGMA {pragma}")
    if read_only:
        connection.execute("PRAGMA query_only = ON")
    else:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = EXTRA")
    return connection


def _journal(path: Path) -> Path:
    return path.with_name(f"{path.name}-journal")


_CANNOT_RECOVER = (
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_PERM,
)


def _primary(error: sqlite3.Error) -> int:
    """SQLite's primary result code, in the low byte of the extended one."""
    return int(getattr(error, "sqlite_errorcode", 0)) & 0xFF


def _in_sentence(error: sqlite3.Error, path: Path) -> BookFileError | FaultOfOurs:
    code, name = _primary(error), path.name
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB) or "decode to UTF-8" in str(error):
        return damaged(path, f"SQLite reports: {error}")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BookFileError(
            f"Another program is holding {name} just now. Nothing is lost; try again in a moment."
        )
    if code == sqlite3.SQLITE_FULL:
        return BookFileError(
            f"The disk that holds {name} is full. What was saved before is safe, and nothing on "
            "the page is lost. Make some room; an open window then saves it by itself."
        )
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN):
        return BookFileError(
            f"{name} can be read but not written where it is. What was saved before is safe. "
            "Keep a copy of the book in a folder of your own to go on."
        )
    if code == sqlite3.SQLITE_IOERR:
        return BookFileError(
            f"The disk that holds {name} does not answer as it should ({error}). What was saved "
            "before is safe unless the disk is broken. Keep a copy of the book on another disk."
        )
    return FaultOfOurs(
        f"Reglet could not read or write {name} as it meant to (format {VERSION}: {error}). "
        "Nothing was changed in it."
    )
