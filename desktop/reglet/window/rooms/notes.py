"""The notes of the scene, or of the book, in order: to read, to answer, and to go to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from textwrap import shorten

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from reglet.manuscript.anchored import Answer, Note
from reglet.window import dressing
from reglet.window.controls import Act, KeyButton, Tick
from reglet.window.flow import empty
from reglet.window.lettering import Caption, Hairline, Label, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_WORDS_SHOWN = 90
_WRITING_HEIGHT = 9 * GRID


@dataclass(frozen=True, slots=True)
class PlacedNote:
    """A note with the scene it stands in, and what that scene is called."""

    scene: str
    title: str
    note: Note


class NotesRoom(QWidget):
    """Shows notes and tells what the writer makes of them."""

    write_wanted = Signal()
    """A note is to be made on the words selected on the page."""
    written = Signal(str)
    """A remark to be tied to the words that were selected when writing began."""
    rewritten = Signal(object, str)
    """A `PlacedNote`, and what it is to say from now on."""
    answered = Signal(object, object)
    """A `PlacedNote` and the `Answer` to it."""
    wanted = Signal(object)
    """The `PlacedNote` to be gone to on the page."""
    thrown_away = Signal(object)
    pointed = Signal(object)
    """A widget of this room that should be seen."""
    reach_changed = Signal()
    """The notes of the book are wanted, or again those of the scene: see `whole_book`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._shown: tuple[PlacedNote, ...] = ()
        self._caption = Caption("Notes")
        self._whole = Tick("Whole book")
        self._answered_too = Tick("Answered too")
        self._add = KeyButton("Ctrl+N", "note on the words selected")
        self._add.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._writing = _Writing()
        self._none = Label("No open notes here.", quiet=True)
        self._column = QVBoxLayout()
        self._column.setSpacing(0)
        choices = QHBoxLayout()
        choices.setSpacing(2 * GRID)
        choices.addWidget(self._whole)
        choices.addWidget(self._answered_too)
        choices.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID)
        layout.addWidget(self._caption)
        layout.addWidget(self._add, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addWidget(self._writing)
        layout.addLayout(choices)
        layout.addWidget(self._none)
        layout.addLayout(self._column)
        layout.addStretch(1)
        self._add.clicked.connect(self.write_wanted)
        self._writing.written.connect(self._keep)
        self._rewriting: PlacedNote | None = None
        self._whole.toggled.connect(self.reach_changed)
        self._answered_too.toggled.connect(self._show_again)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    @property
    def whole_book(self) -> bool:
        """Whether the notes of the whole book are to be shown."""
        return self._whole.isChecked()

    def show_notes(self, notes: Iterable[PlacedNote]) -> None:
        """Show these, in their order."""
        shown = tuple(notes)
        if [_without_place(each) for each in shown] != [_without_place(e) for e in self._shown]:
            self._shown = shown
            self._show_again()

    def point_to(self, note_id: str) -> None:
        """Give the keys to a note that is shown."""
        for slip in self.findChildren(NoteSlip):
            if slip.note_id == note_id and not slip.isHidden():
                slip.setFocus()
                self.pointed.emit(slip)

    def write(self, words: str) -> None:
        """Let a remark be written on these words."""
        self._rewriting = None
        self._writing.begin(words)
        self.pointed.emit(self._writing)

    def _rewrite(self, placed: PlacedNote) -> None:
        self._rewriting = placed
        self._writing.begin(placed.note.words, placed.note.text)
        self.pointed.emit(self._writing)

    def _keep(self, text: str) -> None:
        if self._rewriting is None:
            self.written.emit(text)
        else:
            self.rewritten.emit(self._rewriting, text)

    def _show_again(self) -> None:
        empty(self._column)
        open_notes = [each for each in self._shown if each.note.answer is Answer.OPEN]
        listed = self._shown if self._answered_too.isChecked() else tuple(open_notes)
        for placed in listed:
            slip = NoteSlip(placed, with_scene=self.whole_book)
            slip.dress(self._theme)
            slip.answered.connect(lambda answer, placed=placed: self.answered.emit(placed, answer))
            slip.wanted.connect(lambda placed=placed: self.wanted.emit(placed))
            slip.rewriting_wanted.connect(lambda placed=placed: self._rewrite(placed))
            slip.thrown_away.connect(lambda placed=placed: self.thrown_away.emit(placed))
            self._column.addWidget(slip)
            slip.show()
        self._none.setVisible(not listed)
        self._caption.setText(f"Notes · {len(open_notes)} open" if open_notes else "Notes")


class NoteSlip(QWidget):
    """One note: its words, the remark, who made it, and the answers to it."""

    answered = Signal(object)
    wanted = Signal()
    rewriting_wanted = Signal()
    thrown_away = Signal()

    def __init__(
        self, placed: PlacedNote, *, with_scene: bool, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        note = placed.note
        self.note_id = note.id
        self._theme = LIGHT
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip("Enter or a click goes there")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, GRID + 2, 0, 0)
        column.setSpacing(4)
        made = note.made.astimezone()
        facts = [note.author, f"{made.day} {made:%b %Y}", note.kind]
        if with_scene:
            facts.insert(0, placed.title)
        column.addWidget(Lines(" · ".join(filter(None, facts)), quiet=True, scale=0.86))
        if note.words:
            words = Lines(_quoted(note.words), page_face=True, scale=0.62)
            words.setToolTip(note.words)
            column.addWidget(words)
        if note.text:
            column.addWidget(Lines(note.text))
        keys = QHBoxLayout()
        keys.setSpacing(GRID)
        offers: tuple[tuple[str, str, Answer], ...]
        if note.answer is Answer.OPEN:
            offers = (("D", "done", Answer.DONE), ("S", "stet", Answer.STET))
        else:
            keys.addWidget(Label(f"answered: {note.answer.value}", quiet=True, scale=0.93))
            offers = (("O", "open again", Answer.OPEN),)
        self._offers = {key: answer for key, _, answer in offers}
        for key, says, answer in offers:
            button = KeyButton(key, says)
            button.clicked.connect(lambda _=False, answer=answer: self.answered.emit(answer))
            keys.addWidget(button)
        edit = KeyButton("E", "edit")
        edit.clicked.connect(self.rewriting_wanted)
        keys.addWidget(edit)
        keys.addStretch(1)
        column.addLayout(keys)
        column.addSpacing(GRID // 2)
        column.addWidget(Hairline())
        self.setAccessibleName(f"Note. {note.text or note.words}")
        self.setAccessibleDescription(f"On “{note.words}”, by {note.author or 'you'}")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        answer = self._offers.get(event.text().upper())
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.wanted.emit()
        elif event.key() == Qt.Key.Key_E:
            self.rewriting_wanted.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.thrown_away.emit()
        elif answer is not None:
            self.answered.emit(answer)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.wanted.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.hasFocus():
            QPainter(self).fillRect(0, 6, 3, self.height() - 12, QColor(self._theme.ink))


class _Writing(QWidget):
    """Where a note is written."""

    written = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = Lines("", page_face=True, scale=0.62)
        self._text = _NoteText()
        self._text.setAccessibleName("Note")
        self._text.setPlaceholderText("Your note. Ctrl+Enter keeps it, Escape leaves it.")
        self._text.setFixedHeight(_WRITING_HEIGHT)
        self._keep = Act("Keep the note", chief=True)
        self._leave = Act("Leave it")
        acts = QHBoxLayout()
        acts.setSpacing(2 * GRID)
        acts.addWidget(self._keep)
        acts.addWidget(self._leave)
        acts.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, GRID)
        column.setSpacing(GRID)
        column.addWidget(self._words)
        column.addWidget(self._text)
        column.addLayout(acts)
        self._keep.clicked.connect(self._done)
        self._text.kept.connect(self._done)
        self._leave.clicked.connect(self.hide)
        self._text.left.connect(self.hide)
        self.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._text.setFont(dressing.font(theme.control))

    def begin(self, words: str, text: str = "") -> None:
        """Start a note on these words, or one that says `text` so far."""
        quoted = _quoted(words)
        self._words.setText(quoted)
        self._words.setVisible(bool(quoted))
        self._text.setPlainText(text)
        self._text.selectAll()
        self.show()
        self._text.setFocus()

    def _done(self) -> None:
        text = self._text.toPlainText().strip()
        self.hide()
        if text:
            self.written.emit(text)


class _NoteText(QPlainTextEdit):
    kept = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.kept.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


def _without_place(placed: PlacedNote) -> PlacedNote:
    """The note whatever its place, which typing moves all the time and which is not shown."""
    return replace(placed, note=replace(placed.note, start=0, end=0))


def _quoted(words: str) -> str:
    """As many of the words that a note is on as are shown."""
    return shorten(words, _WORDS_SHOWN, placeholder=" …")
