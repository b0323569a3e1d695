"""Words set in lines, each to be pressed."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from reglet.window.controls import Chip
from reglet.window.flow import FlowLayout, empty
from reglet.window.theme import GRID, Theme


class Chips(QWidget):
    """Shows words; `told` says what pressing one does."""

    pressed = Signal(str)

    def __init__(self, told: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._told = told
        self._flow = FlowLayout(GRID, self)
        self._theme: Theme | None = None

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme

    def show_words(self, words: dict[str, str], chosen: str | None = None) -> None:
        """Show these words, each as its value says; with `chosen`, one of them is the choice."""
        empty(self._flow)
        for word, shown in words.items():
            chip = Chip(shown, self)
            chip.setCheckable(chosen is not None)
            chip.setChecked(word == chosen)
            chip.setAccessibleDescription(self._told)
            chip.setToolTip(self._told)
            chip.clicked.connect(lambda _=False, word=word: self.pressed.emit(word))
            if self._theme is not None:
                chip.dress(self._theme)
            self._flow.addWidget(chip)
            chip.show()
        self.updateGeometry()
