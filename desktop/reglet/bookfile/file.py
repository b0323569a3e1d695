"""The book file as the rest of Reglet sees it: open, save, close."""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from reglet.bookfile import history, store
from reglet.bookfile.backups import back_up, due
from reglet.bookfile.connecting import in_memory, in_sentences
from reglet.bookfile.opening import Opened, make, make_copy, newer_and_unreadable, open_file
from reglet.bookfile.rolling_back import rolled_back
from reglet.bookfile.snapshot import NOW, Reason, Snapshot
from reglet.bookfile.stage_difference import steps_between
from reglet.bookfile.verifying import Progress, problems
from reglet.errors import BookFileError, NewerBookFile, RegletError
from reglet.manuscript.book import Book
from reglet.manuscript.comparison import BookComparison, compare_books
from reglet.manuscript.difference import Difference, difference
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage


class BookFile:
    """One writer's book and its history, in one file.

    Any thread may call any method; calls wait for one another, so the interface thread leaves
    `save` and all that reads the history to a worker. `book`, `stage`, `read_only` and `notice`
    never wait. Every method raises BookFileError, with nothing lost, where the file cannot be read
    or written, and DamagedBookFile where it holds what no Reglet wrote.
    """

    def __init__(self, opened: Opened) -> None:
        self.path = opened.path
        self._opened = opened
        self._connection = opened.connection
        self._turn = threading.RLock()
        self._identity = opened.path.stat()
        with self._reading() as connection:
            self._state, self._stage = store.read_now(connection)
            self._stored = store.read_book(connection, self._state)

    @classmethod
    def create(cls, path: Path, book: Book) -> BookFile:
        """A new file for `book`, open for writing.

        Raises BookFileError if something of that name is there already, which stays as it is, or
        where the folder cannot be written.
        """
        return cls._of(make(path, book))

    @classmethod
    def open(cls, path: Path, read_only: bool = False, when: datetime | None = None) -> BookFile:
        """The book at `path`, to write to unless `read_only`.

        A file or folder that cannot be written, and a book written by a later Reglet, open for
        reading only, and `notice` says why. `when` is now unless given: it decides whether a backup
        copy is due. Raises BookFileInUse if another window has the book open for writing,
        NewerBookFile if a later Reglet wrote it in a form this one cannot read, DamagedBookFile,
        BookFileError.
        """
        opened = open_file(path, read_only, when or datetime.now())
        try:
            return cls._of(opened)
        except RegletError as error:
            if isinstance(opened.refusal, NewerBookFile):
                raise newer_and_unreadable(opened.path) from error
            raise

    @property
    def book(self) -> Book:
        """The book as it was last saved."""
        return self._stored.book

    @property
    def stage(self) -> Stage:
        """The stage the book is in."""
        return self._stage

    @property
    def read_only(self) -> bool:
        """Whether `save` and everything else that writes would refuse."""
        return self._opened.refusal is not None

    @property
    def notice(self) -> str:
        """Why the book can only be read though writing was asked for, or what went wrong beside
        opening it; else empty.
        """
        return self._opened.remark

    def save(self, book: Book) -> None:
        """Make `book` the book as it stands, on the disk when this returns.

        Only what changed is written, so it can be called at every pause in the typing. The text
        that it replaces is kept only where a snapshot holds it.
        """
        with self._turn:
            if book is self.book:
                return
            with self._writing() as connection:
                stored = store.update_state(connection, self._state, self._stored, book)
            self._stored = stored

    def snapshot(
        self,
        label: str,
        reason: Reason = Reason.BY_HAND,
        scene_ids: Sequence[str] | None = None,
        when: datetime | None = None,
    ) -> Snapshot:
        """Keep the book as it was last saved, or these scenes of it, for good.

        `when` is now unless given. Raises UnknownThing.
        """
        with self._writing() as connection:
            taken = self._take(connection, label, reason, self._stage, scene_ids, when)
            return history.find(connection, taken)[0]

    def snapshots(self, scene_id: str | None = None) -> tuple[Snapshot, ...]:
        """All snapshots, or those that hold this scene, oldest first."""
        with self._reading() as connection:
            return history.listed(connection, scene_id)

    def state(self, snapshot_id: str) -> Book:
        """The whole book as a snapshot holds it, or as it is for `NOW`. Raises UnknownThing."""
        if snapshot_id == NOW:
            return self.book
        with self._reading() as connection:
            return history.book_at(connection, snapshot_id)

    def whole_states(self, most: int = 60) -> Iterator[Book]:
        """The book as it is, then as each whole-book snapshot has it, the latest first; at most
        `most` (our own figure: each takes a moment to read, and what is sought is rarely older).
        """
        yield self.book
        whole = [each.id for each in self.snapshots() if each.scenes is None]
        for snapshot_id in whole[:-most:-1]:
            yield self.state(snapshot_id)

    def scene_state(self, snapshot_id: str, scene_id: str) -> Scene:
        """A scene as a snapshot holds it, or as it is for `NOW`. Raises UnknownThing."""
        if snapshot_id == NOW:
            return self.book.scene(scene_id)
        with self._reading() as connection:
            return history.scene_at(connection, snapshot_id, scene_id)

    def compare_scene(self, earlier: str, later: str, scene_id: str) -> Difference:
        """What changed in a scene between two snapshots, or a snapshot and `NOW`.

        Raises UnknownThing.
        """
        old, new = self.scene_state(earlier, scene_id), self.scene_state(later, scene_id)
        return difference(old.passage, new.passage)

    def compare_book(self, earlier: str, later: str) -> BookComparison:
        """What became of each scene between two whole-book snapshots, or one and `NOW`.

        Raises UnknownThing.
        """
        return compare_books(self.state(earlier), self.state(later))

    def roll_back(
        self,
        scene_id: str,
        snapshot_id: str,
        place: int | None = None,
        when: datetime | None = None,
    ) -> Book:
        """The book, saved, with a scene's text as the snapshot has it; a snapshot of the scene as
        it is now is taken first, so that rolling back can itself be rolled back.

        With `place`, only that one of `compare_scene(snapshot_id, NOW, scene_id).changed` is put
        back. Raises UnknownThing.
        """
        with self._turn:
            then = self.scene_state(snapshot_id, scene_id)
            book = self.book.with_scene(rolled_back(self.book.scene(scene_id), then, place))
            label = f"Before rolling back to {snapshot_id}"
            self.snapshot(label, Reason.BEFORE_ROLL_BACK, (scene_id,), when)
            self.save(book)
            return self.book

    def enter_stage(self, stage: Stage, when: datetime | None = None) -> Snapshot:
        """Bring the book into a stage, and keep it as it is on entering.

        The difference to the snapshot at the last entrance to a stage is stored too, once it has
        been proved to lead from the one text to the other; FaultOfOurs is raised, and no difference
        stored, if one should not. After much work on a long book that takes seconds, in which
        another thread can save. Going back and forth between stages with nothing changed takes no
        second snapshot: the earlier one is returned.
        """
        with self._writing() as connection:
            taken = history.same_entrance(connection, stage, self._state)
            if taken is None:
                taken = self._take(connection, "", Reason.ENTERING_STAGE, stage, None, when)
            connection.execute("UPDATE now SET stage = ?", (stage,))
            snapshot, _ = history.find(connection, taken)
        self._stage = stage
        self._store_differences()
        return snapshot

    def lay_copy_by(self, when: datetime | None = None) -> Path | None:
        """The day's copy of the file, if one is due, as when it is opened; None if not.

        Raises BookFileError where there is no room for it; the book itself is as it was.
        """
        when = when or datetime.now()
        with self._turn:
            if self.read_only or not due(self.path, when):
                return None
            return back_up(self._connection, self.path, when)

    def copy_to(self, path: Path, book: Book | None = None) -> bool:
        """Make a copy of the whole file at `path`, with `book` as it stands where it is given; what
        is open stays open. Where this file can no longer be read, the copy holds the book alone.

        Whether the copy holds the history too. Raises BookFileError if something of that name is
        there already, or where it cannot be written; then there is no copy.
        """
        book = book or self.book
        try:
            with self._turn, in_sentences(self.path):
                copy = BookFile._of(make_copy(self._connection, path))
        except RegletError:  # either place may be the broken one; this tells which
            BookFile.create(path, book).close()
            return False
        try:
            with copy:
                copy.save(book)
        except BaseException:
            copy.path.unlink(missing_ok=True)
            raise
        return True

    def verify(self, progress: Progress | None = None) -> list[str]:
        """A sentence for each promise that the file does not keep; none if it is sound.

        Recomputes every hash, reads every snapshot and follows every stored difference; `progress`
        is told how many of how many checks are done.
        """
        # A copy is checked, so that nobody who writes meanwhile has to wait.
        with self._turn, in_sentences(self.path):
            copy = in_memory(self._connection)
        with closing(copy):
            return problems(copy, progress)

    def close(self) -> None:
        """Let the file go. More than once does no harm."""
        with self._turn:
            self._opened.close()

    def __enter__(self) -> Self:
        """The book file itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    @classmethod
    def _of(cls, opened: Opened) -> BookFile:
        try:
            return cls(opened)
        except BaseException:
            opened.close()
            raise

    def _store_differences(self) -> None:
        with self._reading() as connection:
            missing = history.missing_differences(connection)
        found = []
        for each in missing:
            with self._reading() as connection:
                old = store.read_passage(connection, each.old)
                new = store.read_passage(connection, each.new)
            found.append((each, steps_between(old, new)))
        if found:
            with self._writing() as connection:
                for each, steps in found:
                    history.store_difference(connection, each, steps)

    def _take(
        self,
        connection: sqlite3.Connection,
        label: str,
        reason: Reason,
        stage: Stage,
        scene_ids: Sequence[str] | None,
        when: datetime | None,
    ) -> str:
        made = when or datetime.now().astimezone()
        return history.take(
            connection, self._state, self._stored, label, reason, stage, scene_ids, made
        )

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        """A transaction that sees one state of the file throughout."""
        with self._turn, in_sentences(self.path):
            self._connection.execute("BEGIN")
            try:
                yield self._connection
            finally:
                self._connection.execute("ROLLBACK")

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction that is carried out as a whole or, if anything is raised, not at all."""
        with self._turn:
            if self._opened.refusal:
                raise self._opened.refusal
            self._check_file_is_ours()
            with in_sentences(self.path):
                self._connection.execute("BEGIN IMMEDIATE")
                try:
                    yield self._connection
                    self._connection.execute("COMMIT")
                except BaseException:
                    if self._connection.in_transaction:
                        self._connection.execute("ROLLBACK")
                    raise

    def _check_file_is_ours(self) -> None:
        """SQLite goes on writing to a file that has been deleted or replaced; the words would be
        gone. Raises BookFileError.
        """
        try:
            ours = os.path.samestat(self.path.stat(), self._identity)
        except OSError:
            raise BookFileError(
                f"{self.path} is no longer there: it was moved or deleted, or its disk was taken "
                "out. Nothing on the page is lost. Put it back, or keep a copy of the book "
                "elsewhere."
            ) from None
        if not ours:
            raise BookFileError(
                f"Another program has put a different file in the place of {self.path}. Nothing on "
                "the page is lost, and that file was left as it is. Keep a copy of the book "
                "elsewhere."
            )
