"""What the first read has left: the notes of the book in order, to be answered one by one."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from reglet.story.first_read import SceneNotes
from reglet.window.controls import Act
from reglet.window.flow import empty
from reglet.window.lettering import Label, Lines, dress_all
from reglet.window.rooms.notes import NoteSlip, PlacedNote
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, Theme


class NotesInOrder(QWidget):
    """The notes of the book, scene by scene, with how many there are of each kind."""

    wanted = Signal(object)
    """The `PlacedNote` to be gone to."""
    answered = Signal(object, object)
    """A `PlacedNote`, and the `Answer` to it."""
    rewriting_wanted = Signal(object)
    thrown_away = Signal(object)
    again_wanted = Signal()
    """The book is to be read from its beginning again."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout()
        self._column.setSpacing(GRID // 2)
        self._again = Act("Read from the beginning again")
        self._again.clicked.connect(self.again_wanted)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8 * GRID, 2 * GRID, 8 * GRID, 4 * GRID)
        column.addLayout(self._column)
        column.addSpacing(2 * GRID)
        column.addWidget(self._again)
        column.addStretch(1)
        scrolled = Scrolled(inside)
        scrolled.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._bar = scrolled.verticalScrollBar()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scrolled)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_notes(
        self, scenes: tuple[SceneNotes, ...], names: Mapping[str, str], theme: Theme
    ) -> None:
        """Show these under the names of their scenes. The keys stay with the note that has them."""
        keys = QApplication.focusWidget()
        held = next(
            (
                slip.note_id
                for slip in self.findChildren(NoteSlip)
                if slip is keys or (keys is not None and slip.isAncestorOf(keys))
            ),
            "",
        )
        at = self._bar.value()
        empty(self._column)
        if not scenes:
            self._column.addWidget(Label("No notes yet.", quiet=True))
        for each in scenes:
            title = names[each.scene]
            counts = [
                f"{count} {kind}" if kind else f"{count} written"
                for kind, count in sorted(each.kinds.items(), key=lambda item: -item[1])
            ]
            self._column.addSpacing(2 * GRID)
            self._column.addWidget(Lines(title, page_face=True, scale=0.74))
            self._column.addWidget(Lines(" · ".join((*counts, f"{each.open} open")), quiet=True))
            for note in each.notes:
                placed = PlacedNote(each.scene, each.title, note)
                slip = NoteSlip(placed, with_scene=False)
                slip.wanted.connect(lambda placed=placed: self.wanted.emit(placed))
                slip.answered.connect(
                    lambda answer, placed=placed: self.answered.emit(placed, answer)
                )
                slip.rewriting_wanted.connect(
                    lambda placed=placed: self.rewriting_wanted.emit(placed)
                )
                slip.thrown_away.connect(lambda placed=placed: self.thrown_away.emit(placed))
                self._column.addWidget(slip)
                slip.show()
                if note.id == held:
                    slip.setFocus()
        if held and not any(note.id == held for each in scenes for note in each.notes):
            self.setFocus()
        dress_all(self, theme)
        if held:
            # Where the list is rebuilt under the hand, it stays where it was.
            QTimer.singleShot(0, self, lambda: self._bar.setValue(at))
