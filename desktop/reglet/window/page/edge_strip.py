"""The narrow strip along the page: where in the scene the marks stand, and what is in view."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from reglet.window.theme import LIGHT, Theme

WIDTH = 8


class EdgeStrip(QWidget):
    """Drawn from shares of the scene's height, 0 at the top and 1 at the foot."""

    moved_to = Signal(float)
    """The share of the scene that the writer wants in the middle of the view."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._pencil = LIGHT.graphite
        self._marks: tuple[float, ...] = ()
        self._view = (0.0, 1.0)
        self.setAccessibleName("Where the marks stand in the scene")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(WIDTH, 100)

    def set_marks(self, marks: Sequence[float], pencil: str) -> None:
        """Where the marks stand, and their colour."""
        self._marks, self._pencil = tuple(marks), pencil
        self.update()

    def set_view(self, top: float, foot: float) -> None:
        """What is in view."""
        if (top, foot) != self._view:
            self._view = (top, foot)
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        whole = QRectF(self.rect()).adjusted(1.5, 0, -1.5, 0)
        painter.setPen(QPen(QColor(0, 0, 0, 0)))
        painter.setBrush(QColor(self._theme.card))
        painter.drawRoundedRect(whole, 2.5, 2.5)
        top, foot = self._view
        if foot - top < 1:
            painter.setPen(QColor(self._theme.bar))
            painter.setBrush(QColor(self._theme.paper))
            height = self.height() - 1
            painter.drawRoundedRect(
                QRectF(0.5, top * height + 0.5, WIDTH - 1, max(12.0, (foot - top) * height)), 3, 3
            )
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for mark in self._marks:
            y = round(mark * (self.height() - 2))
            painter.fillRect(1, y, WIDTH - 2, 2, QColor(self._pencil))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._move(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._move(event)

    def _move(self, event: QMouseEvent) -> None:
        share = event.position().y() / max(1, self.height())
        self.moved_to.emit(max(0.0, min(1.0, share)))
