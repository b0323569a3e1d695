"""Every key on a sheet of paper."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Caption, Label, Lines
from reglet.window.theme import GRID, LIGHT, Theme

_TWO_COLUMNS = 90 * GRID

Section = tuple[str, Sequence[tuple[str, str]]]
"""A caption, and what each key under it does: the key first."""


class HelpSheet(LaidSheet):
    """Sets out the keys."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Every key", parent=parent)
        self._theme = LIGHT
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def dress(self, theme: Theme) -> None:
        self._theme = theme
        super().dress(theme)

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
        self.scrolled.setWidget(inside)
        inside.setAutoFillBackground(False)
        self.dress(self._theme)
        self.back.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F1:
            self.closed.emit()
        else:
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
