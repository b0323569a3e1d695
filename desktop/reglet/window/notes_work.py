"""What gestures in the notes room do to the desk, and what notes of the desk it shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal

from reglet.manuscript.anchored import BY_EAR, Answer, Note
from reglet.manuscript.book import fresh_id
from reglet.manuscript.editing import add_note, remove_note, replace_note
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.window.contents_model import name_of
from reglet.window.desk import Desk
from reglet.window.page.page import Page
from reglet.window.rooms.notes import NotesRoom, PlacedNote

_SOON_MS = 250


class NotesWork(QObject):
    """Joins the notes room to the desk and the page."""

    going = Signal()
    """A note is about to be gone to: the page should be on top."""

    def __init__(self, desk: Desk, page: Page, room: NotesRoom, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._page, self._room = desk, page, room
        self._on: tuple[str, int, int] = ("", 0, 0)
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.show)
        room.write_wanted.connect(self.write)
        room.written.connect(self._written)
        room.rewritten.connect(self._rewrite)
        room.answered.connect(self._answer)
        room.wanted.connect(self._go)
        room.thrown_away.connect(self._throw_away)
        room.reach_changed.connect(self.show)
        page.editor.note_pressed.connect(lambda note: room.point_to(note.id))
        desk.scene_shown.connect(self.show)
        desk.stage_changed.connect(self.show)
        desk.arranged.connect(self.show)
        desk.facts_changed.connect(self.show)
        desk.replaced.connect(self.show)
        desk.text_changed.connect(self._text_changed)

    def show(self) -> None:
        """Show the notes of the scene that lies open, or of the book."""
        self._room.show_notes(self._placed())
        self._mark()

    def write(self) -> None:
        """Let a note be written on the words selected on the page."""
        scene = self._desk.scene
        if scene is not None:
            start, end = self._page.editor.span_selected()
            self._on = (scene.id, start, end)
            self._room.write(scene.passage.text[start:end])

    def _text_changed(self) -> None:
        self._mark()
        self._soon.start()

    def _mark(self) -> None:
        """Mark the open notes of the scene on the page."""
        notes = self._notes(self._desk.scene) if self._desk.scene else ()
        self._page.editor.set_notes([note for note in notes if note.answer is Answer.OPEN])

    def _notes(self, scene: Scene) -> Iterator[Note]:
        """The notes of a scene; in Proof, what was marked by ear stands among the queries."""
        proof = self._desk.stage is Stage.PROOF
        for note in scene.notes:
            if not (proof and note.kind == BY_EAR and note.answer is Answer.OPEN):
                yield note

    def _placed(self) -> Iterator[PlacedNote]:
        scene = self._desk.scene
        scenes = self._desk.book.texts if self._room.whole_book else (scene,) if scene else ()
        for each in scenes:
            for note in self._notes(each):
                yield PlacedNote(each.id, name_of(each), note)

    def _written(self, text: str) -> None:
        scene_id, start, end = self._on
        if not self._desk.book.has_scene(scene_id):
            return
        passage = self._desk.book.scene(scene_id).passage
        end = min(end, len(passage))
        start = min(start, end)
        words = passage.text[start:end]
        now = datetime.now().astimezone()
        note = Note(fresh_id("note"), start, end, words, text, now, self._desk.book.author)
        self._desk.amend(scene_id, lambda book: add_note(book, scene_id, note))

    def _rewrite(self, placed: PlacedNote, text: str) -> None:
        note = self._as_it_stands(placed)
        if note is not None:
            self._replace(placed.scene, replace(note, text=text))

    def _answer(self, placed: PlacedNote, answer: Answer) -> None:
        note = self._as_it_stands(placed)
        if note is not None:
            self._replace(placed.scene, replace(note, answer=answer))

    def _replace(self, scene_id: str, note: Note) -> None:
        self._desk.amend(scene_id, lambda book: replace_note(book, scene_id, note))

    def _throw_away(self, placed: PlacedNote) -> None:
        self._desk.amend(placed.scene, lambda book: remove_note(book, placed.scene, placed.note.id))

    def _go(self, placed: PlacedNote) -> None:
        note = self._as_it_stands(placed)
        if note is not None:
            self.going.emit()
            self._desk.show_scene(placed.scene)
            self._page.editor.select(note.start, note.end)

    def _as_it_stands(self, placed: PlacedNote) -> Note | None:
        """A note as the book has it now: it may have moved since the room was told of it."""
        if not self._desk.book.has_scene(placed.scene):
            return None
        notes = self._desk.book.scene(placed.scene).notes
        return next((note for note in notes if note.id == placed.note.id), None)
