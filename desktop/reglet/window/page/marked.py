"""The page with what is written about it: heading, hairlines under words, marks in the margin."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QTextBlock,
    QTextLine,
)
from PySide6.QtWidgets import QWidget

from reglet.manuscript.anchored import Note
from reglet.manuscript.passage import Passage
from reglet.overlays.query import Query
from reglet.voice.flags import Spot
from reglet.window import dressing, proof_marks
from reglet.window.page import formats
from reglet.window.page.editor import Editor
from reglet.window.page.positions import to_units
from reglet.window.theme import GRID, Theme

TEXT_TOP = 17 * GRID
"""Where the first line stands, below the head of the paper."""
TEXT_FOOT = 20 * GRID
"""Room below the last line."""
_MARK_GAP = 3 * GRID
_MARK_STEP = 20
_BRACKET_GAP = 10
_UNDERLINED = 3
"""The most lines of a whole paragraph that are underlined."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A query's mark in the margin and its words, line by line, in the viewport. About a whole
    paragraph of several lines, `lines` is one tall place beside it: underlined from end to end it
    would not be read more easily.
    """

    query: Query
    mark: QRectF
    lines: tuple[QRectF, ...]
    beside: bool = False


class MarkedEditor(Editor):
    """An editor on paper: the scene's heading above the text, the queries' marks beside it."""

    query_pointed = Signal(object)
    """The `Query` under the pointer, None where it leaves."""
    query_pressed = Signal(object)
    title_pressed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._eyebrow = ""
        self._title = ""
        self._otherwise = ""
        self._queries: list[Query] = []
        self._starts: list[int] = []
        self._reach = 0
        self._current: Query | None = None
        self._pointed: Query | None = None
        self._pencil = self.theme.graphite
        self._left = self._right = 0
        self.viewport().setMouseTracking(True)
        self.cursorPositionChanged.connect(self._move_ruler)
        self.verticalScrollBar().valueChanged.connect(self._leave_query)

    # What is shown

    def set_heading(self, eyebrow: str, title: str, otherwise: str = "") -> None:
        """The line above the scene's title, and the title; `otherwise` stands where it has none."""
        if (eyebrow, title, otherwise) != (self._eyebrow, self._title, self._otherwise):
            self._eyebrow, self._title, self._otherwise = eyebrow, title, otherwise
            self.viewport().update()

    def set_queries(self, queries: Sequence[Query], pencil: str) -> None:
        """The queries to mark, in order of their start, and the colour to mark them in."""
        self._pencil = pencil
        self.move_queries(queries)
        self.viewport().update()

    def move_queries(self, queries: Sequence[Query]) -> None:
        """The same queries where they stand after an edit: Qt paints what moved by itself."""
        self._queries = list(queries)
        self._starts = [query.start for query in queries]
        self._reach = max((query.end - query.start for query in queries), default=0)

    def set_current(self, query: Query | None) -> None:
        """The query whose card lies open; its hairline is drawn heavier."""
        if query != self._current:
            self._current = query
            self.viewport().update()

    def set_margins(self, left: int, right: int) -> None:
        """White space at either side of the text, in pixels."""
        if (left, right) != (self._left, self._right):
            self._left, self._right = left, right
            self._frame()

    def dress(self, theme: Theme) -> None:
        super().dress(theme)
        self._frame()

    def show_passage(self, passage: Passage) -> None:
        super().show_passage(passage)
        self._frame()
        self.verticalScrollBar().setValue(0)

    def _frame(self) -> None:
        self._showing = True
        formats.set_margins(self.document(), self._left, TEXT_TOP, self._right, self._foot())
        self._showing = False

    def _foot(self) -> int:
        return TEXT_FOOT

    def title_rect(self) -> QRectF:
        """Where the title stands in the viewport."""
        height = QFontMetricsF(self._title_font()).height()
        width = self.viewport().width() - self._left - self._right
        return QRectF(self._left, 9 * GRID - self.verticalScrollBar().value(), width, height)

    def _title_font(self) -> QFont:
        return dressing.font(self.theme.title, self.theme.zoom, dressing.MEDIUM)

    # Where things are

    def placed(self, within: QRectF | None = None) -> Iterator[Placed]:
        """The marks of the queries in view, or in a part of the view, from the top down."""
        at_height: dict[int, int] = {}
        if not self._queries:
            return
        for block, origin in self._blocks_in(within or QRectF(self.viewport().rect())):
            number = block.blockNumber()
            if number >= len(self.passage.starts):
                return
            text = self.passage.paragraphs[number].text
            start = self.passage.starts[number]
            low = bisect_left(self._starts, start - self._reach)
            for query in self._queries[low:]:
                if query.start > start + len(text):
                    break
                if query.end < start or (query.end == start and query.start < start):
                    continue
                lines = tuple(self._hairlines(block, origin, text, start, query))
                if not lines:
                    continue
                whole = query.start <= start and query.end >= start + len(text)
                beside = whole and len(lines) > _UNDERLINED
                margin = self.viewport().width() - self._right
                first = lines[0]
                if beside:
                    height = lines[-1].bottom() - first.top()
                    lines = (QRectF(margin + _BRACKET_GAP, first.top(), 4, height),)
                if query.start < start:
                    yield Placed(query, QRectF(), lines, beside)
                    continue
                y = first.bottom() - proof_marks.SIZE
                column = at_height.get(round(y), 0)
                at_height[round(y)] = column + 1
                x = margin + _MARK_GAP + column * _MARK_STEP
                mark = QRectF(x, y - 2, proof_marks.SIZE, proof_marks.SIZE)
                yield Placed(query, mark, lines, beside)

    def query_rect(self, query: Query) -> QRectF:
        """The line a query's first words stand on in the viewport; empty if out of view."""
        for placed in self.placed():
            if placed.query is query:
                return placed.lines[0] if placed.mark.isNull() else placed.mark
        return QRectF()

    def share_of(self, code_point: int) -> float:
        """How far down the text a place stands, from 0 to 1, by the lines above it."""
        layout = self.document().documentLayout()
        block = self.document().findBlock(self._position(code_point))
        top = layout.blockBoundingRect(block).top()
        return float(top / max(1.0, layout.documentSize().height()))

    def _blocks_in(self, part: QRectF) -> Iterator[tuple[QTextBlock, QPointF]]:
        """The blocks in a part of the view, with the place of each one's lines in the view."""
        layout = self.document().documentLayout()
        scrolled = self.verticalScrollBar().value()
        block = self.cursorForPosition(part.topLeft().toPoint()).block()
        while block.isValid():
            rect = layout.blockBoundingRect(block)
            if rect.top() - scrolled > part.bottom():
                return
            yield block, block.layout().position() - QPointF(0, scrolled)
            block = block.next()

    def _hairlines(
        self, block: QTextBlock, origin: QPointF, text: str, start: int, about: Query | Note | Spot
    ) -> Iterator[QRectF]:
        first = to_units(text, max(0, about.start - start))
        last = to_units(text, min(len(text), about.end - start))
        layout = block.layout()
        for number in range(layout.lineCount()):
            line = layout.lineAt(number)
            line_end = line.textStart() + line.textLength()
            if line_end < first or (line_end == first and number + 1 < layout.lineCount()):
                continue
            if line.textStart() >= last and not line.textStart() <= first:
                return
            left = _x(line, max(first, line.textStart()))
            right = _x(line, min(last, line_end))
            if line_end < last:
                right = min(right, left + line.naturalTextWidth())
            top = origin.y() + line.y()
            yield QRectF(
                origin.x() + left, top, max(right - left, 4), line.ascent() + 0.8 * line.descent()
            )

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        self._paint_ground()
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        exposed = QRectF(event.rect())
        if exposed.top() < TEXT_TOP - self.verticalScrollBar().value():
            self._paint_heading(painter)
        for placed in self.placed(exposed):
            self._paint_mark(painter, placed)

    def _paint_ground(self) -> None:
        """Paint what lies under the text."""
        if self._has_ruler:
            self._paint_ruler(self._ruler_line())

    @property
    def _has_ruler(self) -> bool:
        return self.theme.ruler

    def _ruler_line(self) -> QRectF:
        """The line of the viewport that the reading ruler lies under."""
        return QRectF(self.cursorRect())

    def _paint_ruler(self, line: QRectF) -> None:
        left, right = self._left - 2 * GRID, self.viewport().width() - self._right + GRID
        painter = QPainter(self.viewport())
        painter.fillRect(
            QRectF(left, line.top() - 3, right - left, line.height() + 6), QColor(self.theme.card)
        )

    def _move_ruler(self) -> None:
        if self.theme.ruler:
            self.viewport().update()

    def _paint_heading(self, painter: QPainter) -> None:
        title = self.title_rect()
        painter.setPen(QColor(self.theme.quiet))
        eyebrow = dressing.font(self.theme.title, 0.63 * self.theme.zoom)
        eyebrow.setLetterSpacing(QFont.SpacingType.AbsoluteSpacing, 0.6)
        painter.setFont(eyebrow)
        height = QFontMetricsF(eyebrow).height()
        painter.drawText(
            title.translated(0, -height - GRID / 2).adjusted(0, 0, 0, height - title.height()),
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
            self._eyebrow,
        )
        painter.setFont(self._title_font())
        painter.setPen(QColor(self.theme.ink if self._title else self.theme.quiet))
        painter.drawText(
            title,
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
            QFontMetricsF(self._title_font()).elidedText(
                self._title or self._otherwise, Qt.TextElideMode.ElideRight, title.width()
            ),
        )

    def _paint_mark(self, painter: QPainter, placed: Placed) -> None:
        heavy = placed.query in (self._current, self._pointed)
        painter.setPen(QPen(QColor(self._pencil), 2 if heavy else 1))
        for rect in placed.lines:
            if placed.beside:
                x = round(rect.left()) + 0.5
                painter.drawLine(QPointF(x, rect.top() + 6), QPointF(x, rect.bottom()))
            else:
                y = round(rect.bottom()) + 0.5
                painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
        if not placed.mark.isNull():
            proof_marks.draw(
                painter, placed.query.mark, placed.mark.x(), placed.mark.y(), self._pencil
            )

    # Pointing

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        if event.buttons():
            return
        at = event.position()
        over_title = self.title_rect().contains(at)
        found = self._query_at(at)
        over_mark = found is not None and at.x() > self.viewport().width() - self._right
        self.viewport().setCursor(
            Qt.CursorShape.PointingHandCursor if over_mark else Qt.CursorShape.IBeamCursor
        )
        self.viewport().setToolTip("Double-click to rename this scene" if over_title else "")
        self._point_at(found)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        found = self._query_at(at)
        if found is not None and at.x() > self.viewport().width() - self._right:
            self.query_pressed.emit(found)
            return
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self.title_rect().contains(event.position()):
            self.title_pressed.emit()
            return
        super().mouseDoubleClickEvent(event)

    def leaveEvent(self, event: object) -> None:
        self._point_at(None)

    def _leave_query(self) -> None:
        self._point_at(None)

    def _point_at(self, query: Query | None) -> None:
        if query is not self._pointed:
            self._pointed = query
            self.viewport().update()
            self.query_pointed.emit(query)

    def _query_at(self, at: QPointF) -> Query | None:
        for placed in self.placed():
            if placed.mark.adjusted(-4, -4, 4, 4).contains(at) or any(
                rect.contains(at) for rect in placed.lines
            ):
                return placed.query
        return None


def _x(line: QTextLine, position: int) -> float:
    """Where a position of the block stands in its line; Qt gives it beside another value."""
    return float(line.cursorToX(position)[0])  # type: ignore[index]
