"""How far a piece of work has come, as a line that fills."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from reglet.window.theme import LIGHT, Theme

_HEIGHT = 10
_TRACK, _BAR = 2.0, 4.0


class Meter(QWidget):
    """Shows a part of a whole."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._part, self._theme = name, 0.0, LIGHT
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_part(0.0)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def set_part(self, part: float) -> None:
        """Show that so much is done, 0.0 to 1.0."""
        self._part = min(1.0, max(0.0, part))
        self.setAccessibleName(f"{self._name}: {self._part:.0%}")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(120, _HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        middle = self.height() / 2
        track = QRectF(0, middle - _TRACK / 2, self.width(), _TRACK)
        painter.fillRect(track, QColor(self._theme.bar))
        bar = QRectF(0, middle - _BAR / 2, self.width() * self._part, _BAR)
        painter.fillRect(bar, QColor(self._theme.ink))
