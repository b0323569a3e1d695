"""One writer at a time: a lock of the operating system's on a small file beside the book.

The system lets go of it when the program ends, however it ends, so a crash never leaves a book
locked. The file itself is taken away when the book is closed; one left by a crash means nothing.
Readers need no lock: SQLite shows them the last state committed.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

_TRIES = 20


class Held(Exception):
    """Another program, or another window of this one, holds the lock."""


class Lock:
    """The right to write to a book, held from here on until `release`.

    Raises Held if somebody else has it, OSError where no file can be made or locked.
    """

    def __init__(self, book: Path) -> None:
        self.path = book.with_name(f".{book.name}.in-use")
        self._descriptor = self._acquired()

    def release(self) -> None:
        """Give the right back. More than once does no harm."""
        if self._descriptor is None:
            return
        descriptor, self._descriptor = self._descriptor, None
        if sys.platform == "win32":  # an open file cannot be removed there
            os.close(descriptor)
            with suppress(OSError):  # the next holder has it open already
                self.path.unlink()
        else:
            self.path.unlink(missing_ok=True)
            os.close(descriptor)

    def _acquired(self) -> int | None:
        for _ in range(_TRIES):
            descriptor = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o600)
            try:
                _lock(descriptor)
                if self._is_at_path(descriptor):
                    return descriptor
            except BaseException:
                os.close(descriptor)
                raise
            # Its holder took the file away between our opening and our locking it: look again.
            os.close(descriptor)
        raise Held

    def _is_at_path(self, descriptor: int) -> bool:
        try:
            return os.path.samestat(os.fstat(descriptor), self.path.stat())
        except FileNotFoundError:
            return False


if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int) -> None:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            raise Held from error

else:
    import fcntl

    def _lock(descriptor: int) -> None:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise Held from error
