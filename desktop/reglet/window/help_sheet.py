"""Every key on a sheet of paper."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from reglet.window.controls import Act
from reglet.window.lettering import Caption, Hairline, Label, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_TWO_COLUMNS = 90 * GRID

Section = tuple[str, Sequence[tuple[str, str]]]
"""A caption, and what each key under it does: the key first."""


class HelpSheet(QWidget):
    """Takes the place of the page."""

    closed = Signal()
    """Back to the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._back = Act("Back to the page")
        self._back.clicked.connect(self.closed)
        head = QHBoxLayout()
        head.addWidget(Label("Every key", page_face=True, scale=0.87), 1)
        head.addWidget(self._back, 0, Qt.AlignmentFlag.AlignTop)
        self._scroll = QScrollArea()
        self._scroll.setFrameStyle(0)
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.viewport().setAutoFillBackground(False)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 0)
        outer.setSpacing(2 * GRID)
        outer.addLayout(head)
        outer.addWidget(Hairline())
        outer.addWidget(self._scroll, 1)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_keys(self, sections: Sequence[Section]) -> None:
        """Set out these keys, in two columns where there is room."""
        columns = 2 if self.width() >= _TWO_COLUMNS else 1
        inside = QWidget()
        row = QHBoxLayout(inside)
        row.setContentsMargins(0, GRID, 2 * GRID, 4 * GRID)
        row.setSpacing(6 * GRID)
        for column in _shared(sections, columns):
            layout = QVBoxLayout()
            layout.setSpacing(GRID)
            for caption, keys in column:
                layout.addWidget(Caption(caption))
                layout.addLayout(_table(keys))
                layout.addSpacing(2 * GRID)
            layout.addStretch(1)
            row.addLayout(layout, 1)
        self._scroll.setWidget(inside)
        inside.setAutoFillBackground(False)
        self.dress(self._theme)
        self._back.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_F1):
            self.closed.emit()
            return
        super().keyPressEvent(event)


def _table(keys: Sequence[tuple[str, str]]) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(2 * GRID)
    grid.setVerticalSpacing(GRID // 2)
    grid.setColumnMinimumWidth(0, 16 * GRID)
    grid.setColumnStretch(1, 1)
    for number, (key, does) in enumerate(keys):
        grid.addWidget(Label(key, quiet=True), number, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(Lines(does), number, 1)
    return grid


def _shared(sections: Sequence[Section], columns: int) -> list[list[Section]]:
    """The sections shared out in order, so that the columns come out about as long."""
    if columns == 1:
        return [list(sections)]
    lengths = [len(keys) + 2 for _, keys in sections]
    whole = sum(lengths)
    at = min(range(len(sections) + 1), key=lambda number: abs(whole - 2 * sum(lengths[:number])))
    return [list(sections[:at]), list(sections[at:])]
