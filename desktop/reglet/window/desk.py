"""The desk: the one object that holds the book as it is now, and tells the views what changed.

It has no rules of its own. A view asks for a change by naming an operation of the manuscript; the
desk keeps the earlier value for undo and sends word.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from reglet.errors import WriterError
from reglet.manuscript import editing
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.window.undoing import Rearrangement, Timeline, scene_as_it_was

Operation = Callable[[Book], Book]


class Desk(QObject):
    """The book on the desk, the scene that lies open, and the stage it is worked in."""

    text_changed = Signal(str, object)
    """A scene's text: its id, and the `Change` that turned the old text into the new one."""
    facts_changed = Signal(str)
    """What is tied to a scene (sheet, notes, stets, stages passed): its id."""
    arranged = Signal()
    """The order, titles or Offcuts of the book, or its own facts: anything but a scene's text."""
    replaced = Signal()
    """Another book altogether."""
    book_changed = Signal(object)
    """Sent after every one of these, with the new `Book`."""
    scene_shown = Signal(str)
    """Another scene lies open: its id, "" for none."""
    scene_wanted = Signal()
    """The scene that lies open is to be seen: it was asked for, and does not merely lie there
    because another has left the book.
    """
    stage_changed = Signal(object)
    """Another `Stage` is worked in."""
    refused = Signal(str)
    """What was asked for could not be done: a sentence for the writer."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._book = Book()
        self._scene_id = ""
        self._refusal = ""
        self._stage = Stage.FIRST_READ
        self._timelines: dict[str, Timeline] = {}
        self._past: list[Rearrangement] = []
        self._future: list[Rearrangement] = []
        self.may_change: Callable[[], bool] = lambda: True
        """Asked before a whole act changes the text of a draft that may be at rest."""

    @property
    def book(self) -> Book:
        """The book as it is now."""
        return self._book

    @property
    def scene(self) -> Scene | None:
        """The scene that lies open."""
        return self._book.scene(self._scene_id) if self._scene_id else None

    @property
    def stage(self) -> Stage:
        """The stage that is worked in."""
        return self._stage

    @property
    def read_only(self) -> bool:
        """Whether every change of the book is refused."""
        return bool(self._refusal)

    def lay_out(
        self,
        book: Book,
        scene_id: str = "",
        stage: Stage = Stage.FIRST_READ,
        refusal: str = "",
    ) -> None:
        """Put another book on the desk; its first scene lies open unless another is named. Where
        it can only be read, `refusal` is the sentence with which every change is refused.
        """
        self._refusal = refusal
        self._book, self._stage = book, stage
        self._timelines, self._past, self._future = {}, [], []
        first = next((scene.id for scene in (*book.scenes, *book.texts)), "")
        self._scene_id = scene_id if book.has_scene(scene_id) else first
        self.replaced.emit()
        self.stage_changed.emit(stage)
        self.scene_shown.emit(self._scene_id)

    def show_scene(self, scene_id: str) -> None:
        """Lay a scene open."""
        if not self._book.has_scene(scene_id):
            return
        if scene_id != self._scene_id:
            self._scene_id = scene_id
            self.scene_shown.emit(scene_id)
        self.scene_wanted.emit()

    def enter(self, stage: Stage) -> None:
        """Work in a stage."""
        if stage is not self._stage:
            self._stage = stage
            self.stage_changed.emit(stage)

    def step_scene(self, by: int) -> bool:
        """Lay open the scene that stands `by` places on; False where the book ends before it."""
        ids = [scene.id for scene in self._book.texts]
        at = ids.index(self._scene_id) + by if self._scene_id in ids else -1
        if not 0 <= at < len(ids):
            return False
        self.show_scene(ids[at])
        return True

    # Text

    def typed(self, scene_id: str, passage: Passage, change: Change) -> None:
        """A scene's text after a key stroke; strokes in one run are undone together."""
        self._set_text(scene_id, passage, change, joins=True)

    def rewrite(self, scene_id: str, passage: Passage) -> None:
        """A scene's text after one whole act: a query taken, a passage rolled back."""
        old = self._book.scene(scene_id).passage
        if passage != old and self.may_change():
            self._set_text(scene_id, passage, Change.between(old.text, passage.text), joins=False)

    def undo_text(self) -> None:
        """Take back the last act on the text of the scene that lies open."""
        timeline = self._timelines.get(self._scene_id)
        if not timeline or not timeline.past:
            return
        step = timeline.past[-1]
        if isinstance(step, Rearrangement):
            self.undo_arrangement(step)
            return
        timeline.past.pop()
        now = self._book.scene(self._scene_id)
        timeline.future.append(now)
        self._put_scene(scene_as_it_was(step.before, now), now)

    def redo_text(self) -> None:
        """Do again what `undo_text` took back."""
        timeline = self._timelines.get(self._scene_id)
        if not timeline or not timeline.future:
            return
        step = timeline.future[-1]
        if isinstance(step, Rearrangement):
            self.redo_arrangement(step)
            return
        now = self._book.scene(self._scene_id)
        kept = timeline.future[:-1]
        change = Change.between(now.passage.text, step.passage.text)
        timeline.typed(now, change, self._now_ms(), joins=False)
        timeline.future[:] = kept
        self._put_scene(scene_as_it_was(step, now), now)

    def _set_text(self, scene_id: str, passage: Passage, change: Change, *, joins: bool) -> None:
        if self._refusal:
            self.refused.emit(self._refusal)
            return
        before = self._book.scene(scene_id)
        timeline = self._timelines.setdefault(scene_id, Timeline())
        timeline.typed(before, change, self._now_ms(), joins=joins)
        self._book = editing.rewrite(self._book, scene_id, passage, change)
        self.text_changed.emit(scene_id, change)
        self.book_changed.emit(self._book)

    def _put_scene(self, scene: Scene, now: Scene) -> None:
        self._book = self._book.with_scene(scene)
        change = Change.between(now.passage.text, scene.passage.text)
        self.text_changed.emit(scene.id, change)
        self.book_changed.emit(self._book)

    # Facts, order and division

    def amend(self, scene_id: str, operation: Operation) -> bool:
        """Change the facts of a scene: its sheet, notes, stets, stages passed."""
        book = self._tried(operation)
        if book is None or book is self._book:
            return False
        self._book = book
        self.facts_changed.emit(scene_id)
        self.book_changed.emit(book)
        return True

    def remember(self, operation: Operation) -> bool:
        """Change what the book keeps of the work on it (how far it was read, its rest, the plan of
        work, an order that is tried): not a word of it, nor its order, and nothing to undo.
        """
        book = self._tried(operation)
        if book is None or book is self._book:
            return False
        self._book = book
        self.book_changed.emit(book)
        return True

    def perform(self, label: str, operation: Operation) -> bool:
        """Change the book's order, division, Offcuts or facts, or the text of several scenes at
        once. `label` names it where it can be undone. False, with a sentence, if it is refused.
        """
        before, after = self._book, self._tried(operation)
        if after is None or after == before:
            return False
        if _rewritten(before, after) and not self.may_change():
            return False
        step = Rearrangement(label, before, after)
        self._past.append(step)
        self._future.clear()
        for scene_id in _rewritten(before, after):
            self._timelines.setdefault(scene_id, Timeline()).arranged(step)
        self._rearrange(after)
        return True

    def undo_arrangement(self, step: Rearrangement | None = None) -> None:
        """Take back the last `perform`; refused if `step` is given and is not the last one."""
        if not self._past or not self._is_last(step, self._past):
            return
        last = self._past[-1]
        book = self._tried(last.undone)
        if book is None:
            return
        self._future.append(self._past.pop())
        for timeline in self._timelines.values():
            if timeline.past and timeline.past[-1] is last:
                timeline.future.append(last)
                timeline.past.pop()
        self._rearrange(book)

    def redo_arrangement(self, step: Rearrangement | None = None) -> None:
        """Do again what `undo_arrangement` took back."""
        if not self._future or not self._is_last(step, self._future):
            return
        last = self._future[-1]
        book = self._tried(last.redone)
        if book is None:
            return
        self._past.append(self._future.pop())
        for timeline in self._timelines.values():
            if timeline.future and timeline.future[-1] is last:
                timeline.past.append(last)
                timeline.future.pop()
        self._rearrange(book)

    def last_arrangement(self) -> str:
        """The label of what `undo_arrangement` would take back; "" for nothing."""
        return self._past[-1].label if self._past else ""

    def _is_last(self, step: Rearrangement | None, steps: list[Rearrangement]) -> bool:
        if step is None or steps[-1] is step:
            return True
        self.refused.emit(f"“{steps[-1].label}” came later; undo that in Contents first.")
        return False

    def _tried(self, operation: Operation) -> Book | None:
        if self._refusal:
            self.refused.emit(self._refusal)
            return None
        try:
            return operation(self._book)
        except WriterError as error:
            self.refused.emit(str(error))
            return None

    def _rearrange(self, book: Book) -> None:
        old, self._book, open_id = self._book, book, self._scene_id
        if not book.has_scene(open_id):
            self._scene_id = _neighbour(old, book, open_id)
        for scene_id in _rewritten(old, book):
            change = Change.between(
                old.scene(scene_id).passage.text, book.scene(scene_id).passage.text
            )
            self.text_changed.emit(scene_id, change)
        self.arranged.emit()
        self.book_changed.emit(book)
        if self._scene_id != open_id:
            self.scene_shown.emit(self._scene_id)

    @staticmethod
    def _now_ms() -> int:
        return time.monotonic_ns() // 1_000_000


def _rewritten(before: Book, after: Book) -> list[str]:
    """The scenes in both books whose text differs."""
    return [
        scene.id
        for scene in before.texts
        if after.has_scene(scene.id) and after.scene(scene.id).passage != scene.passage
    ]


def _neighbour(old: Book, new: Book, scene_id: str) -> str:
    """The nearest scene still in the book to one that has left it; "" in an empty book."""
    ids = [scene.id for scene in old.texts]
    at = ids.index(scene_id) if scene_id in ids else 0
    for other in (*ids[at + 1 :], *reversed(ids[:at])):
        if new.has_scene(other):
            return other
    return new.texts[0].id if new.texts else ""
