"""The few controls that views are made of: words to press, ticks, chips, keys, lines to fill in."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QPushButton, QSizePolicy, QWidget

from reglet.window import dressing
from reglet.window.theme import GRID, LIGHT, Theme

_BOX = 12


class Act(QPushButton):
    """A word to press, with a hairline under it. `chief` marks the one act that a view is for."""

    def __init__(
        self, text: str = "", *, chief: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(text, parent)
        self._chief = chief
        self.setAutoDefault(False)
        self.setFlat(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.dress(LIGHT)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.setFont(dressing.font(theme.control))
        if self._chief:
            self.setStyleSheet(
                f"QPushButton {{ background: {theme.ink}; color: {theme.paper}; border-radius: 2px;"
                f" border: 1px solid {theme.ink}; padding: 5px 16px; outline: 0; }}"
                f"QPushButton:hover {{ background: {theme.graphite}; }}"
                f"QPushButton:focus {{ border: 3px double {theme.paper}; padding: 3px 14px; }}"
                f"QPushButton:disabled {{ background: transparent; color: {theme.quiet};"
                f" border: 1px solid {theme.line}; }}"
            )
        else:
            self.setStyleSheet(
                f"QPushButton {{ background: transparent; color: {theme.ink}; border: 0;"
                f" border-bottom: 1px solid {theme.bar}; border-radius: 0;"
                " padding: 3px 0 2px 0; outline: 0; }"
                f"QPushButton:hover {{ border-bottom-color: {theme.ink}; }}"
                f"QPushButton:focus {{ border-bottom: 2px solid {theme.ink};"
                " padding-bottom: 1px; }"
                f"QPushButton:disabled {{ color: {theme.quiet};"
                " border-bottom-color: transparent; }"
            )


class Tick(QAbstractButton):
    """A choice to make or leave: a small box, ticked with a stroke of the pen."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.setText(text)
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.dress(LIGHT)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.setFont(dressing.font(theme.control, 0.93))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        width = _BOX + GRID + metrics.horizontalAdvance(self.text()) + 2
        return QSize(width, max(20, metrics.height() + 2))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        top = (self.height() - _BOX) / 2
        box = QRectF(0.5, top + 0.5, _BOX - 1, _BOX - 1)
        painter.setPen(QPen(QColor(theme.ink if self.hasFocus() else theme.quiet), 1))
        painter.drawRect(box)
        if self.isChecked():
            pen = QPen(QColor(theme.ink), 1.8)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            painter.drawPolyline(
                [QPointF(2.5, top + 6), QPointF(5.2, top + 9), QPointF(11.5, top - 0.5)]
            )
        painter.setPen(QColor(theme.ink if self.isEnabled() else theme.quiet))
        painter.drawText(
            self.rect().adjusted(_BOX + GRID, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter,
            self.text(),
        )


class Chip(QAbstractButton):
    """A word in a rounded frame, filled while it is chosen."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.setText(text)
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.setFont(dressing.font(theme.control, 0.93))
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(QFontMetrics(self.font()).horizontalAdvance(self.text()) + 22, 24)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        on = self.isChecked()
        edge = theme.ink if self.hasFocus() else theme.graphite if on else theme.line
        painter.setPen(QPen(QColor(edge), 1))
        painter.setBrush(QColor(theme.graphite) if on else Qt.BrushStyle.NoBrush)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(box, box.height() / 2, box.height() / 2)
        painter.setPen(QColor(theme.desk if on else theme.ink))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())


class KeyButton(QAbstractButton):
    """A key and what it does, to press or to click."""

    def __init__(self, key: str, says: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key = key
        self._theme = LIGHT
        self.setText(says)
        self.setAccessibleName(f"{says}, key {key}")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.setFont(dressing.font(theme.control, 0.93))
        self.updateGeometry()

    def _cap_width(self) -> int:
        return max(17, QFontMetrics(self.font()).horizontalAdvance(self._key) + 8)

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        return QSize(self._cap_width() + 5 + metrics.horizontalAdvance(self.text()), 20)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        cap = self._cap_width()
        painter.setPen(QColor(self._theme.line))
        painter.setBrush(QColor(self._theme.paper))
        painter.drawRoundedRect(QRectF(0.5, 1.5, cap - 1, 17), 3, 3)
        painter.setFont(self.font())
        painter.setPen(QColor(self._theme.quiet))
        painter.drawText(0, 1, cap, 18, Qt.AlignmentFlag.AlignCenter, self._key)
        painter.setPen(QColor(self._theme.ink))
        painter.drawText(
            cap + 5, 0, self.width() - cap - 5, 20, Qt.AlignmentFlag.AlignVCenter, self.text()
        )


class Entry(QLineEdit):
    """A line to write on."""

    def __init__(self, name: str, hint: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)
        self.dress(LIGHT)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.setStyleSheet(
            f"QLineEdit {{ background: transparent; color: {theme.ink}; border: 0;"
            f" border-bottom: 1px solid {theme.bar}; border-radius: 0; padding: 3px 0; }}"
            f"QLineEdit:focus {{ border-bottom-color: {theme.ink}; }}"
        )
        self.setFont(dressing.font(theme.control, 1.07))
