"""The overlays of a stage with how many queries each has in the scene; on and off by number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QVBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.overlays.overlay import Overlay
from reglet.overlays.query import Query
from reglet.overlays.register import of_stage
from reglet.window import dressing
from reglet.window.lettering import Caption, Label
from reglet.window.page.card import KeyButton
from reglet.window.theme import GRID, LIGHT, Theme

_ROW = 28
_NUMBER_WIDTH = 22
_LAST_KEY = 9


class OverlayRow(QAbstractButton):
    """One overlay: its number, its name, its count; checked while it is shown on the page."""

    def __init__(self, number: int, overlay: Overlay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.overlay = overlay
        self._number = number
        self._count: int | None = None
        self._theme = LIGHT
        self.setCheckable(True)
        self.setChecked(True)
        self.setFixedHeight(_ROW)
        self.setText(overlay.label)
        key = f"\nAlt+{number} to show or hide" if number <= _LAST_KEY else ""
        self.setToolTip(f"{overlay.reason}{key}")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.toggled.connect(self._name)
        self._name()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def set_count(self, count: int | None) -> None:
        """How many queries there are; None while that is not known."""
        if count != self._count:
            self._count = count
            self._name()
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, _ROW)

    def _name(self) -> None:
        said = "off" if not self.isChecked() else "" if self._count is None else str(self._count)
        self.setAccessibleName(f"{self.overlay.label}, {said}" if said else self.overlay.label)
        self.setAccessibleDescription(self.overlay.reason)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        line = QRect(0, 0, self.width(), _ROW - 1)
        small = dressing.font(theme.control, 0.8)
        painter.setFont(small)
        painter.setPen(QColor(theme.quiet))
        if self._number <= _LAST_KEY:
            painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, str(self._number))
        painter.setFont(dressing.font(theme.control))
        painter.setPen(QColor(theme.ink if self.isChecked() else theme.quiet))
        painter.drawText(
            line.adjusted(_NUMBER_WIDTH, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self.text()
        )
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        if not self.isChecked():
            painter.setPen(QColor(theme.quiet))
            painter.drawText(line, right, "off")
        elif self._count is None:
            painter.setPen(QColor(theme.quiet))
            painter.drawText(line, right, "…")
        else:
            painter.setFont(dressing.font(theme.control, 1, dressing.SEMIBOLD))
            some = QColor(theme.pencil(self.overlay.stage))
            painter.setPen(some if self._count else QColor(theme.quiet))
            painter.drawText(line, right, str(self._count))
        focused = self.hasFocus() or self.underMouse()
        painter.setPen(QColor(theme.quiet if focused else theme.line))
        painter.drawLine(QPointF(0, _ROW - 0.5), QPointF(self.width(), _ROW - 0.5))


class AboutScene(QWidget):
    """A query about the scene as a whole, with a key to let it stand."""

    stood = Signal(object)

    def __init__(self, query: Query, label: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said = Label(f"{label}. {query.message}")
        self._said.setWordWrap(True)
        self._stet = KeyButton("S", "stet")
        self._stet.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._stet.clicked.connect(lambda: self.stood.emit(query))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID // 2)
        layout.addWidget(self._said)
        row = QHBoxLayout()
        row.addWidget(self._stet)
        row.addStretch()
        layout.addLayout(row)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._said.dress(theme)
        self._stet.dress(theme)


class QueriesRoom(QWidget):
    """The overlays of one stage, and the queries about the scene as a whole."""

    shown_changed = Signal()
    """Other overlays are shown now."""
    stood = Signal(object)

    def __init__(self, stage: Stage, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self._theme = LIGHT
        self._caption = Caption(caption)
        self._about = Caption("About this scene")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._caption)
        layout.addSpacing(GRID)
        self._rows = [
            OverlayRow(number, overlay) for number, overlay in enumerate(of_stage(stage), start=1)
        ]
        for row in self._rows:
            layout.addWidget(row)
            row.toggled.connect(self._toggled)
        layout.addSpacing(3 * GRID)
        layout.addWidget(self._about)
        self._about_column = QVBoxLayout()
        self._about_column.setSpacing(2 * GRID)
        layout.addSpacing(GRID)
        layout.addLayout(self._about_column)
        self._about.hide()
        self._said: list[AboutScene] = []
        self._about_shown: tuple[Query, ...] = ()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self._caption.dress(theme)
        self._about.dress(theme)
        for row in self._rows:
            row.dress(theme)
        for said in self._said:
            said.dress(theme)

    def toggle(self, number: int) -> None:
        """Show or hide the overlay of this number."""
        if 1 <= number <= len(self._rows):
            self._rows[number - 1].toggle()

    def shown(self, queries: Iterable[Query]) -> list[Query]:
        """Those of the queries whose overlay is shown and that are not let stand."""
        on = {row.overlay.name for row in self._rows if row.isChecked()}
        return [query for query in queries if query.overlay in on and not query.stet]

    def show_queries(self, queries: Iterable[Query] | None) -> None:
        """Count the scene's queries; None while they are not known yet."""
        open_queries = [query for query in queries or () if not query.stet]
        counts = Counter(query.overlay for query in open_queries)
        for row in self._rows:
            row.set_count(None if queries is None else counts[row.overlay.name])
        about = tuple(query for query in self.shown(open_queries) if query.about_the_scene)
        if about != self._about_shown:
            self._about_shown = about
            self._show_about(about)

    def _show_about(self, queries: tuple[Query, ...]) -> None:
        for old in self._said:
            self._about_column.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._said.clear()
        labels = {row.overlay.name: row.overlay.label for row in self._rows}
        for query in queries:
            said = AboutScene(query, labels[query.overlay])
            said.dress(self._theme)
            said.stood.connect(self.stood)
            self._about_column.addWidget(said)
            self._said.append(said)
        self._about.setVisible(bool(queries))

    def _toggled(self) -> None:
        self.shown_changed.emit()
