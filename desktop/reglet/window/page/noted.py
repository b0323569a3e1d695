"""The page with the writer's notes on it: a mark in the inner margin, dots under the words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from reglet.manuscript.anchored import Note
from reglet.window import proof_marks
from reglet.window.page.marked import MarkedEditor
from reglet.window.theme import GRID


class NotedEditor(MarkedEditor):
    """A marked page that shows where notes stand; what they say is in the Slip."""

    note_pressed = Signal(object)
    """The `Note` whose mark was pressed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._notes: tuple[Note, ...] = ()

    def set_notes(self, notes: Sequence[Note]) -> None:
        """The notes to show, where they stand now."""
        if tuple(notes) != self._notes:
            self._notes = tuple(notes)
            self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._notes:
            return
        painter = QPainter(self.viewport())
        for _, mark, hairlines in self._placed_notes(QRectF(event.rect())):
            painter.setPen(QPen(QColor(self.theme.quiet), 1, Qt.PenStyle.DotLine))
            for rect in hairlines:
                y = round(rect.bottom()) + 0.5
                painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
            if not mark.isNull():
                proof_marks.draw(painter, proof_marks.NOTE, mark.x(), mark.y(), self.theme.graphite)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if at.x() < self._left:
            for note, mark, _ in self._placed_notes(QRectF(self.viewport().rect())):
                if mark.adjusted(-4, -4, 4, 4).contains(at):
                    self.note_pressed.emit(note)
                    return
        super().mousePressEvent(event)

    def _placed_notes(self, within: QRectF) -> Iterator[tuple[Note, QRectF, list[QRectF]]]:
        """The notes in a part of the viewport: each one's mark, where it starts there, and the
        places of its words.
        """
        size = proof_marks.SIZE
        for block, origin in self._blocks_in(within):
            number = block.blockNumber()
            if number >= len(self.passage.starts):
                return
            text = self.passage.paragraphs[number].text
            start = self.passage.starts[number]
            for note in self._notes:
                if note.start > start + len(text) or note.end < start:
                    continue
                hairlines = list(self._hairlines(block, origin, text, start, note))
                if hairlines:
                    begins = note.start >= start
                    y = hairlines[0].center().y() - size / 2
                    mark = QRectF(self._left - 2 * GRID - size, y, size, size)
                    yield note, mark if begins else QRectF(), hairlines
