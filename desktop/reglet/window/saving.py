"""Saving while the writer types: on disk within half a second, off the interface thread."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from enum import Enum
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from reglet.bookfile.file import BookFile
from reglet.errors import RegletError
from reglet.manuscript.book import Book

WAIT_MS = 200
"""From the first unsaved change to its saving; what is typed meanwhile is saved with it."""

AGAIN_MS = 5000
"""From a saving that failed to the next try, as room may have been made meanwhile."""

_HOUR_MS = 3_600_000
"""How often it is looked whether the day's copy is due, in a window that is left open for days."""


class Saved(Enum):
    """Whether what was typed is on the disk."""

    SAVED = "Saved"
    SAVING = "Saving …"
    READ_ONLY = "Reading only"
    NOT_SAVED = "Not saved"


class Saver(QObject):
    """Writes one book file from a thread of its own, in the order it was asked."""

    state_changed = Signal(object)
    """Another `Saved`."""
    failed = Signal(str)
    """The book could not be saved: a sentence for the writer. It is tried again on each change, and
    every few seconds.
    """
    filed = Signal()
    """A job that `after_saving` was given is done."""
    _written = Signal(str)

    def __init__(self, file: BookFile, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._file = file
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="saving")
        self._waiting: Book | None = None
        self._latest: Book | None = None
        self._given_up = False
        self._soon = QTimer(self, singleShot=True, interval=WAIT_MS)
        self._soon.timeout.connect(self._hand_over)
        self._written.connect(self._report)
        self._hourly = QTimer(self, interval=_HOUR_MS)
        self._hourly.timeout.connect(lambda: self.after_saving(BookFile.lay_copy_by))
        self._hourly.start()
        self.state = Saved.READ_ONLY if file.read_only else Saved.SAVED

    @property
    def file(self) -> BookFile:
        """The file that is written."""
        return self._file

    def save(self, book: Book) -> None:
        """Have a book on disk soon; a later call takes the place of one that still waits."""
        if self._file.read_only:
            return
        self._waiting = self._latest = book
        if self.state is not Saved.NOT_SAVED:  # which holds until it is saved
            self._set(Saved.SAVING)
        if not self._soon.isActive() or self._soon.interval() != WAIT_MS:
            self._soon.start(WAIT_MS)

    def flush(self) -> None:
        """Return when all that was asked for is done. Raises BookFileError if it could not be; then
        nothing is given up, and it is tried again as ever.
        """
        self._soon.stop()
        # The last one asked for, whatever became of it: that an earlier try failed may be on its
        # way here still. To save what is saved already costs nothing.
        book = self._latest
        try:
            self._thread.submit(int if book is None else partial(self._file.save, book)).result()
        except RegletError:
            self._try_again()
            raise
        self._waiting = None
        if book is not None:
            self._set(Saved.SAVED)

    def after_saving(self, job: Callable[[BookFile], object]) -> None:
        """Do a job on the file when all that was typed is in it; `filed` tells of its end."""
        if self._file.read_only:
            return
        self._hand_over()
        self._thread.submit(job, self._file).add_done_callback(self._job_done)

    def close(self) -> None:
        """Finish what was asked for and let the file go. Raises BookFileError as `flush` does; then
        the file is not let go.
        """
        self.flush()
        self.give_up()

    def give_up(self) -> None:
        """Let the file go with what is unsaved left aside."""
        self._given_up = True
        self._soon.stop()
        self._hourly.stop()
        self._thread.shutdown()
        self._file.close()

    def copy_to(self, path: Path) -> bool:
        """Make a copy of the book as it is on the desk, and wait for it; whether its history is in
        it too. Raises BookFileError as `BookFile.copy_to` does.
        """
        return self._thread.submit(self._file.copy_to, path, self._latest).result()

    def _hand_over(self) -> None:
        book, self._waiting = self._waiting, None
        if book is not None:
            self._thread.submit(self._write, book)

    def _write(self, book: Book) -> None:
        try:
            self._file.save(book)
        except RegletError as error:
            self._written.emit(str(error))
        else:
            self._written.emit("")

    def _report(self, sentence: str) -> None:
        if self._given_up:  # what was under way has nobody to tell
            return
        if sentence:
            self._try_again()
            self.failed.emit(sentence)
        elif self._waiting is None:
            self._set(Saved.SAVED)

    def _try_again(self) -> None:
        self._waiting = self._latest
        self._set(Saved.NOT_SAVED)
        self._soon.start(AGAIN_MS)

    def _job_done(self, done: Future) -> None:
        error = done.exception()
        if isinstance(error, RegletError):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        self.filed.emit()

    def _set(self, state: Saved) -> None:
        if state is not self.state:
            self.state = state
            self.state_changed.emit(state)
