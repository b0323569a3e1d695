"""Sheets laid in the place of the page: how one is set out, and the usual one, of a title, the way
back and a column that scrolls.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QVBoxLayout, QWidget

from reglet.window.controls import Act
from reglet.window.lettering import Hairline, Label, dress_all
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, Theme

Part = QWidget | QLayout


def set_out(sheet: QWidget, head: Sequence[Part], inside: Part, foot: QLayout) -> None:
    """Set a sheet out in head, inside and foot, with a hairline between each two; what is inside
    takes the room there is.
    """
    column = QVBoxLayout(sheet)
    column.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 3 * GRID)
    column.setSpacing(2 * GRID)
    for part in (*head, Hairline(), inside, Hairline(), foot):
        if isinstance(part, QWidget):
            column.addWidget(part, int(part is inside))
        else:
            column.addLayout(part, int(part is inside))


def named(caption: QWidget, title: QWidget, *acts: QWidget) -> QHBoxLayout:
    """A caption over a title, and at their right what can be done."""
    names = QVBoxLayout()
    names.setSpacing(GRID // 2)
    names.addWidget(caption)
    names.addWidget(title)
    row = QHBoxLayout()
    row.setSpacing(3 * GRID)
    row.addLayout(names, 1)
    for act in acts:
        row.addWidget(act, 0, Qt.AlignmentFlag.AlignTop)
    return row


def foot(told: Sequence[QWidget], *acts: QWidget) -> QHBoxLayout:
    """What is told, a line below the other, and at its right what can be done."""
    lines = QVBoxLayout()
    lines.setSpacing(2)
    for line in told:
        lines.addWidget(line)
    row = QHBoxLayout()
    row.setSpacing(3 * GRID)
    row.addLayout(lines, 1)
    for act in acts:
        row.addWidget(act)
    return row


class LaidSheet(QWidget):
    """What is to be on it goes into `column`. `width`: of the column at most, in px."""

    closed = Signal()
    """Back to the page."""

    def __init__(self, title: str, width: int = 76 * GRID, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.back = Act("Back to the page")
        self.back.clicked.connect(self.closed)
        self.head = QHBoxLayout()
        self.head.setSpacing(2 * GRID + 4)
        self.head.addWidget(Label(title, page_face=True, scale=0.87), 1)
        self.head.addWidget(self.back, 0, Qt.AlignmentFlag.AlignTop)
        self.column = QVBoxLayout()
        self.column.setContentsMargins(0, 0, GRID, 3 * GRID)
        self.column.setSpacing(GRID)
        sheet = QWidget()
        sheet.setLayout(self.column)
        sheet.setMaximumWidth(width)
        self.scrolled = Scrolled(sheet)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 0)
        outer.setSpacing(2 * GRID)
        outer.addLayout(self.head)
        outer.addWidget(Hairline())
        outer.addWidget(self.scrolled, 1)
        self.setAccessibleName(title)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)
