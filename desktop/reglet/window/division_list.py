"""The parts, chapters and scenes that a draft would be divided into, one a line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from reglet.exchange.proposal import Division, Kind
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.numbers import counted
from reglet.window import dressing
from reglet.window.rows import RowDrawing, RowList
from reglet.window.theme import GRID

KIND_NAMES = {
    Kind.PART: "Part",
    Kind.CHAPTER: "Chapter",
    Kind.SCENE: "Scene",
    Kind.FRONT: "Front matter",
    Kind.BACK: "Back matter",
}
_INDENTS = {Kind.PART: 0, Kind.FRONT: 0, Kind.BACK: 0, Kind.CHAPTER: 0, Kind.SCENE: 1}
_HEIGHT, _SCENE_HEIGHT = 34, 26
_COUNT_WIDTH = 5 * GRID


class _DivisionDrawing(RowDrawing[Division]):
    """Draws one part, chapter or scene as Contents does."""

    def say(self, thing: Division) -> str:
        title = thing.title or f"begins “{thing.begins}”"
        return f"{KIND_NAMES[thing.kind]}, {title}, {counted(thing.words, 'word')}"

    def hint(self, thing: Division) -> str:
        return thing.title.replace(LINE_BREAK, " · ") or thing.begins

    def height_of(self, thing: Division) -> int:
        return _SCENE_HEIGHT if thing.kind is Kind.SCENE else _HEIGHT

    def draw_ground(self, painter: QPainter, rect: QRect, *, chosen: bool) -> None:
        if chosen:
            painter.fillRect(rect, QColor(self.theme.paper))
            bar = QRect(rect.left(), rect.top(), 3, rect.height())
            painter.fillRect(bar, QColor(self.theme.ink))

    def draw_edge(self, painter: QPainter, rect: QRect) -> None:
        """None, as in Contents."""

    def draw(self, painter: QPainter, rect: QRect, thing: Division) -> None:
        theme = self.theme
        left = rect.left() + GRID + _INDENTS[thing.kind] * GRID
        painter.setFont(dressing.font(theme.control, 0.86))
        painter.setPen(QColor(theme.quiet))
        line = QRect(left, rect.top(), rect.right() - left - GRID, rect.height())
        if thing.words:
            painter.drawText(
                line,
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
                f"{thing.words:,}",
            )
        title = thing.title.replace(LINE_BREAK, " · ")
        font, colour = dressing.font(theme.control), theme.ink
        if thing.kind is not Kind.SCENE:
            font = dressing.font(theme.title, 0.65, dressing.SEMIBOLD)
            title = title or KIND_NAMES[thing.kind]
        elif not title:
            title, colour = f"{thing.begins} …", theme.quiet
        painter.setFont(font)
        painter.setPen(QColor(colour))
        room = line.adjusted(0, 0, -_COUNT_WIDTH, 0)
        elided = painter.fontMetrics().elidedText(title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, elided)


class DivisionList(RowList[Division]):
    """The lines of a proposal; one of them is chosen."""

    row_chosen = Signal(int)
    """The number of the line that is chosen now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_DivisionDrawing(), "Divisions", ground="desk", parent=parent)
        self.selectionModel().currentChanged.connect(
            lambda index, _: self.row_chosen.emit(index.row()) if index.isValid() else None
        )

    def show_divisions(self, divisions: Sequence[Division], row: int) -> None:
        """Show these, with one of them chosen."""
        blocked = self.selectionModel().blockSignals(True)
        self.show_things(divisions)
        if divisions:
            self.choose(row)
            self.scrollTo(self.currentIndex())
        self.selectionModel().blockSignals(blocked)
        self.viewport().update()
