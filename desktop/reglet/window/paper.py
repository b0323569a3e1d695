"""The sheet of paper in the middle of the desk, and the views that lie on it in turn."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from reglet.window.theme import GRID, LIGHT, Theme

_SHADOW = 12
_SHADE, _SHADE_ON_DARK = 15, 50
_GAP = 3 * GRID
_LEAST_GAP = GRID + 4


class Paper(QWidget):
    """Holds views one on another, as wide as the page wants to be where there is room, or as the
    view on top wants to be (its `least_wanted`, in pixels), if that is more; with a place for one
    bar above them (to find words, say). A view is dressed by whoever lays it down.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._wanted = 100 * GRID
        self._sheet = QWidget(self)
        self._sheet.setAutoFillBackground(True)
        self.views = QStackedWidget(self._sheet)
        # A tall view that lies beneath must not take its height from a bar above the one on top.
        self.views.setMinimumSize(1, 1)
        self._bar: QWidget | None = None
        self._column = QVBoxLayout(self._sheet)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.views, 1)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        colours = self._sheet.palette()
        colours.setColor(colours.ColorRole.Window, QColor(theme.paper))
        self._sheet.setPalette(colours)
        self.update()

    def lay(self, view: QWidget) -> None:
        """Lay a view on the paper, on top of the others."""
        if self.views.indexOf(view) < 0:
            self.views.addWidget(view)
        self.views.setCurrentWidget(view)
        self._place()

    def set_bar(self, bar: QWidget) -> None:
        """Put a bar above the views, in the place of any other. It shows and hides itself."""
        if self._bar is not None:
            self._column.removeWidget(self._bar)
            self._bar.setParent(None)
        self._bar = bar
        self._column.insertWidget(0, bar)

    def set_wanted_width(self, width: int) -> None:
        """The width that the page would have, in pixels."""
        self._wanted = width
        self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()

    def _place(self) -> None:
        wanted = max(self._wanted, getattr(self.views.currentWidget(), "least_wanted", 0))
        gap = _GAP if self.width() >= wanted + 2 * _GAP else _LEAST_GAP
        width = min(wanted, self.width() - 2 * gap)
        self._sheet.setGeometry(QRect((self.width() - width) // 2, 0, width, self.height()))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        sheet = QRectF(self._sheet.geometry())
        shade = QColor(0, 0, 0, _SHADE_ON_DARK if self._theme.dark else _SHADE)
        clear = QColor(0, 0, 0, 0)
        for edge, outward in ((sheet.left(), -1), (sheet.right(), 1)):
            gradient = QLinearGradient(edge, 0, edge + outward * _SHADOW, 0)
            gradient.setColorAt(0, shade)
            gradient.setColorAt(0.4, QColor(0, 0, 0, shade.alpha() // 4))
            gradient.setColorAt(1, clear)
            left = edge if outward > 0 else edge - _SHADOW
            painter.fillRect(QRectF(left, 2, _SHADOW, self.height()), gradient)
        painter.setPen(Qt.PenStyle.NoPen)
