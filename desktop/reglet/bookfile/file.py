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
from reglet.bookfile.lock import Lock
from reglet.bookfile.opening import (
    cannot_write,
    check,
    connect,
    in_sentences,
    lock_to_create,
    lock_to_open,
    version_of,
)
from reglet.bookfile.rolling_back import rolled_back
from reglet.bookfile.schema import VERSION, create_tables
from reglet.bookfile.snapshot import NOW, Reason, Snapshot
from reglet.errors import BookFileError, NewerBookFile
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

    def __init__(
        self,
        path: Path,
        connection: sqlite3.Connection,
        lock: Lock | None,
        refusal: BookFileError | None,
    ) -> None:
        self.path = path
        self._connection = connection
        self._lock = lock
        self._refusal = refusal
        self._turn = threading.RLock()
        self._identity = path.stat()
        with self._reading():
            self._state, stage = connection.execute("SELECT state, stage FROM now").fetchone()
            self._stage = Stage(stage)
            self._stored = store.read_book(connection, self._state)

    @classmethod
    def create(cls, path: Path, book: Book) -> BookFile:
        """A new file for `book`, open for writing.

        Raises BookFileError if something of that name is there already, which stays as it is, or
        where the folder cannot be written.
        """
        path = path.resolve()
        if path.exists():
            raise BookFileError(
                f"{path} is there already and was left as it is. Choose another name."
            )
        lock = lock_to_create(path)
        draft = path.with_name(f".{path.name}.new")
        try:
            draft.unlink(missing_ok=True)
            with in_sentences(path), closing(sqlite3.connect(draft, isolation_level=None)) as new:
                create_tables(new)
                new.execute("BEGIN")
                state, _ = store.write_new_state(new, book)
                new.execute("INSERT INTO now VALUES (?, ?)", (state, Stage.FIRST_READ))
                new.execute("COMMIT")
            draft.rename(path)
            return cls._connected(path, lock, None)
        except BaseException:
            draft.unlink(missing_ok=True)
            lock.release()
            raise

    @classmethod
    def open(cls, path: Path, read_only: bool = False) -> BookFile:
        """The book at `path`, to write to unless `read_only`.

        A file or folder that cannot be written, and a book written by a later Reglet, open for
        reading only, and `notice` says why. Raises BookFileInUse if another window has the book
        open for writing, NewerBookFile if a later Reglet wrote it in a form this one cannot read,
        DamagedBookFile, BookFileError.
        """
        path = path.resolve()
        version = version_of(path)
        if version > VERSION:
            return cls._newer(path, version)
        if read_only:
            reading = BookFileError(
                f"{path.name} was opened for reading only. Nothing was changed."
            )
            return cls._connected(path, None, reading)
        try:
            lock = lock_to_open(path)
        except OSError:
            return cls._connected(path, None, cannot_write(path))
        try:
            return cls._connected(path, lock, None)
        except BaseException:
            lock.release()
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
        return self._refusal is not None

    @property
    def notice(self) -> str:
        """Why the book can only be read; else empty."""
        return str(self._refusal or "")

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

        The difference to the snapshot at the last entrance to a stage is stored too, after it has
        been proved to lead from the one text to the other; FaultOfOurs is raised and nothing
        stored if it should not. Going back and forth between stages with nothing changed takes no
        second snapshot: the earlier one is returned.
        """
        with self._writing() as connection:
            taken = history.same_entrance(connection, stage, self._state)
            if taken is None:
                before = history.last_entrance(connection)
                taken = self._take(connection, "", Reason.ENTERING_STAGE, stage, None, when)
                state = history.find(connection, taken)[1]
                if before:
                    history.store_differences(connection, before, (taken, state))
            connection.execute("UPDATE now SET stage = ?", (stage,))
            snapshot, _ = history.find(connection, taken)
        self._stage = stage
        return snapshot

    def close(self) -> None:
        """Let the file go. More than once does no harm."""
        with self._turn:
            self._connection.close()
            if self._lock:
                self._lock.release()

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
    def _connected(cls, path: Path, lock: Lock | None, refusal: BookFileError | None) -> BookFile:
        with in_sentences(path):
            connection = connect(path, read_only=lock is None)
            try:
                check(connection, path)
                return cls(path, connection, lock, refusal)
            except BaseException:
                connection.close()
                raise

    @classmethod
    def _newer(cls, path: Path, version: int) -> BookFile:
        refusal = NewerBookFile(
            f"{path.name} was written by a later Reglet (form {version}; this one knows "
            f"{VERSION}). It can be read here, and nothing in it is changed. Install the later "
            "Reglet to write."
        )
        try:
            return cls._connected(path, None, refusal)
        except BookFileError as error:
            raise NewerBookFile(
                f"{path.name} was written by a later Reglet (form {version}; this one knows "
                f"{VERSION}) and cannot be read here. Nothing in it was changed. Install the later "
                "Reglet to open it."
            ) from error

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
            if self._refusal:
                raise self._refusal
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
                "out. Nothing on the page is lost. Put it back, or save a copy under another name."
            ) from None
        if not ours:
            raise BookFileError(
                f"Another program has put a different file in the place of {self.path}. Nothing on "
                "the page is lost, and that file was left as it is. Save a copy under another name."
            )
