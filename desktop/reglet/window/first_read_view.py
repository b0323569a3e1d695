"""First read: the whole book to be read, noted and not touched; at its end the notes in order."""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from reglet.manuscript.anchored import Answer, Note
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.editing import add_note, remove_note, replace_note
from reglet.numbers import counted, hours
from reglet.story.first_read import (
    Progress,
    begin_again,
    kinds_of,
    notes_in_order,
    pace,
    read_to,
    remark,
)
from reglet.window.contents_model import name_of, shown_title
from reglet.window.controls import Act, Entry, KeyButton
from reglet.window.desk import Desk
from reglet.window.flow import FlowLayout, empty
from reglet.window.lettering import Hairline, Label, dress_all
from reglet.window.notes_in_order import NotesInOrder
from reglet.window.reading_text import ReadingText, Span
from reglet.window.rooms.notes import PlacedNote
from reglet.window.theme import GRID, LIGHT, Theme

_MOST_KINDS = 9
_KEEP_MS = 2000
"""How long a place is read before it is kept."""
_LONGEST_PAGE_S = 600
"""A page that takes longer was not read all the while (our own figure)."""


class FirstReadView(QWidget):
    """Takes the place of the page."""

    closed = Signal()
    note_wanted = Signal(object)
    """The `PlacedNote` to be gone to on the page."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._theme = LIGHT
        self._kinds: tuple[str, ...] = ()
        self._on: Span | None = None
        self._rewriting: PlacedNote | None = None
        self._made: list[tuple[str, str]] = []
        self._since, self._words = 0.0, 0
        self.text = ReadingText()
        self._told = Label(quiet=True, scale=0.93)
        self._phone, self._notes, self._back = (
            Act("On a phone"),
            Act("Notes in order"),
            Act("Back to the page"),
        )
        self._entry = Entry(
            "Note on the passage read",
            "what strikes you, then Enter; “#cold” makes a kind “cold” with a key of its own",
        )
        self._keys = QWidget()
        self._flow = FlowLayout(GRID, self._keys)
        self._listed = NotesInOrder()
        self._stack = QStackedWidget()
        self._keep_soon = QTimer(self, singleShot=True, interval=_KEEP_MS)
        self._keep_soon.timeout.connect(self._keep_place)
        self._lay_out()
        self.text.moved.connect(self._moved)
        self._phone.clicked.connect(self._change_measure)
        self._notes.clicked.connect(self._turn_over)
        self._back.clicked.connect(self.closed)
        self._entry.returnPressed.connect(self._write)
        self._listed.wanted.connect(self.note_wanted)
        self._listed.answered.connect(self._answer)
        self._listed.rewriting_wanted.connect(self._rewrite)
        self._listed.thrown_away.connect(lambda placed: self._remove(placed.scene, placed.note.id))
        self._listed.again_wanted.connect(self._begin_again)
        desk.facts_changed.connect(self._facts_changed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(5 * GRID, 3 * GRID, 5 * GRID, GRID)
        head.setSpacing(3 * GRID)
        head.addWidget(self._told, 1)
        for act in (self._phone, self._notes, self._back):
            head.addWidget(act)
        foot = QVBoxLayout()
        foot.setContentsMargins(5 * GRID, GRID, 5 * GRID, 2 * GRID)
        foot.setSpacing(GRID)
        foot.addWidget(self._entry)
        foot.addWidget(self._keys)
        self._entry.hide()
        for each in (self.text, self._listed):
            self._stack.addWidget(each)
        self._column = column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self._stack, 1)
        column.addWidget(Hairline())
        column.addLayout(foot)

    def begin(self) -> None:
        """Show the book where the reading has come to."""
        book = self._desk.book
        self._turn_to(self.text)
        self._entry.hide()
        self._show_kinds(book)
        self.text.show_book(book, book.reading.scene, book.reading.position)
        self._since, self._words = time.monotonic(), -1
        self._tell()

    def _show_kinds(self, book: Book) -> None:
        kinds = kinds_of(book)[:_MOST_KINDS]
        if kinds == self._kinds:
            return
        self._kinds = kinds
        empty(self._flow)
        typed = KeyButton("N", "note")
        typed.clicked.connect(self._start_note)
        self._add_key(typed)
        for number, kind in enumerate(kinds, start=1):
            button = KeyButton(str(number), kind)
            button.clicked.connect(lambda _=False, kind=kind: self._note("", kind))
            self._add_key(button)
        for key, says, act in (
            ("Space", "next page", lambda: self.text.turn(1)),
            ("J", "next passage", lambda: self.text.step(1)),
            ("Backspace", "take the last note back", self._take_back),
        ):
            button = KeyButton(key, says)
            button.clicked.connect(lambda _=False, act=act: act())
            self._add_key(button)

    def _add_key(self, button: KeyButton) -> None:
        self._flow.addWidget(button)
        button.dress(self._theme)
        button.show()

    # The place

    def _moved(self) -> None:
        if self.isVisible() and self.text.is_whole():
            self._keep_soon.start()
            self._tell()

    def _keep_place(self) -> None:
        place = self.text.place()
        if place is None or not self.text.is_whole():
            return
        words, now = self.text.words_read(), time.monotonic()
        read = words - self._words if self._words >= 0 else 0
        seconds = now - self._since
        if seconds > _LONGEST_PAGE_S:
            read = 0
        self._since, self._words = now, words
        scene, position = place
        book = self._desk.book
        if book.has_scene(scene) and (book.reading.scene, book.reading.position) != place:
            self._desk.remember(lambda b: read_to(b, scene, position, max(0, read), seconds))
        self._tell()

    def _tell(self) -> None:
        if not self.text.is_whole():
            self._told.setText("")
            return
        whole = self._desk.book.word_count
        read = min(whole, self.text.words_read())
        come = Progress(read, whole - read, pace(self._desk.book.reading))
        notes = sum(len(scene.notes) for scene in self._desk.book.texts)
        if self.text.at_end():
            said = f"The end · {counted(notes, 'note')}"
        else:
            said = f"{come.share:.0%} read · {hours(come.minutes)} left at your pace"
        self._told.setText(said)

    def hideEvent(self, event: QHideEvent) -> None:
        self._keep_place()
        self._keep_soon.stop()

    # Notes

    def _start_note(self) -> None:
        self._on = self.text.passage_read()
        if self._on is not None:
            self._entry.show()
            self._entry.setFocus()
            self._column.activate()  # the line to write on has taken its room from the text
            self.text.bring_into_sight()

    def _rewrite(self, placed: PlacedNote) -> None:
        self._rewriting = placed
        self._entry.setText(placed.note.text)
        self._entry.show()
        self._entry.setFocus()

    def _write(self) -> None:
        said, placed = self._entry.text().strip(), self._rewriting
        self._end_note()
        if placed is not None:
            note = replace(placed.note, text=said)
            self._desk.amend(placed.scene, lambda book: replace_note(book, placed.scene, note))
        elif said:
            kind, text = remark(said)
            self._note(text, kind, self._on)

    def _end_note(self) -> None:
        self._rewriting = None
        self._entry.clear()
        self._entry.hide()
        (self._listed if self._stack.currentWidget() is self._listed else self.text).setFocus()

    def _take_back(self) -> None:
        """The last note made in this sitting is thrown away."""
        if self._made:
            self._remove(*self._made.pop())
            self._told.setText("The last note is taken back.")

    def _remove(self, scene: str, note_id: str) -> None:
        if self._desk.book.has_scene(scene):
            self._desk.amend(scene, lambda book: remove_note(book, scene, note_id))

    def _note(self, text: str, kind: str, on: Span | None = None) -> None:
        on = on or self.text.passage_read()
        if on is None or not self._desk.book.has_scene(on.scene):
            return
        made = datetime.now().astimezone()
        author = self._desk.book.author
        note = Note(fresh_id("note"), on.start, on.end, on.text, text, made, author, kind)
        if self._desk.amend(on.scene, lambda book: add_note(book, on.scene, note)):
            self._made.append((on.scene, note.id))
        self._told.setText(f"Noted: {kind or text}")

    def _facts_changed(self) -> None:
        if self.isVisible():
            self.text.show_notes(self._desk.book)
            self._show_kinds(self._desk.book)
            if self._stack.currentWidget() is self._listed:
                self._list_notes()

    def _list_notes(self) -> None:
        scenes = notes_in_order(self._desk.book)
        names = {}
        for each in scenes:
            name = name_of(self._desk.book.scene(each.scene))
            names[each.scene] = " · ".join(filter(None, (shown_title(each.chapter), name)))
        self._listed.show_notes(scenes, names, self._theme)

    def _answer(self, placed: PlacedNote, answer: Answer) -> None:
        note = replace(placed.note, answer=answer)
        self._desk.amend(placed.scene, lambda book: replace_note(book, placed.scene, note))

    def _turn_over(self) -> None:
        reading = self._stack.currentWidget() is self.text
        if reading:
            self._keep_place()
            self._list_notes()
        self._turn_to(self._listed if reading else self.text)

    def _turn_to(self, side: QWidget) -> None:
        """Show the text, or the notes, with what belongs to it."""
        reading = side is self.text
        self._stack.setCurrentWidget(side)
        self._notes.setText("Notes in order" if reading else "Go on reading")
        self._phone.setVisible(reading)
        self._keys.setVisible(reading)
        side.setFocus()

    def _begin_again(self) -> None:
        self._desk.remember(begin_again)
        self._turn_over()
        self.begin()

    def _change_measure(self) -> None:
        self.text.change_measure()
        self._phone.setText("On a page" if self.text.on_phone else "On a phone")
        self.text.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        said, reading = event.text(), self._stack.currentWidget() is self.text
        if event.key() == Qt.Key.Key_Escape:
            if self._entry.isVisible():
                self._end_note()
            elif self._stack.currentWidget() is self._listed:
                self._turn_over()
            else:
                self.closed.emit()
        elif reading and said.upper() == "N":
            self._start_note()
        elif reading and event.key() == Qt.Key.Key_Backspace:
            self._take_back()
        elif reading and said.upper() == "P":
            self._change_measure()
        elif reading and said.isdigit() and 0 < int(said) <= len(self._kinds):
            self._note("", self._kinds[int(said) - 1])
        else:
            super().keyPressEvent(event)
