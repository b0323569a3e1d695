"""Places in the book, one a line, each in the middle of the words around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import overload

from PySide6.QtCore import QPointF, QRect, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QWidget

from reglet.manuscript.book import Book
from reglet.manuscript.search import Place
from reglet.overlays.query import Query
from reglet.window import dressing
from reglet.window.rows import RowDrawing, RowList

_AROUND = 80
_SPACE = 6
_BEFORE = 0.38
"""The share of the width that the words before the place may take."""


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """What stands at a place, what would come there, and the words around it."""

    before: str
    old: str
    new: str
    after: str


class _PlaceLines(Sequence[PlaceLine]):
    """Makes the lines as they come into view, so that ten thousand cost no more than ten."""

    def __init__(self, book: Book, places: Sequence[Place], new: str) -> None:
        self._book, self._places, self._new = book, places, new

    def __len__(self) -> int:
        return len(self._places)

    @overload
    def __getitem__(self, row: int) -> PlaceLine: ...
    @overload
    def __getitem__(self, row: slice) -> Sequence[PlaceLine]: ...
    def __getitem__(self, row: int | slice) -> PlaceLine | Sequence[PlaceLine]:
        if isinstance(row, slice):
            return _PlaceLines(self._book, self._places[row], self._new)
        return _line(self._book, self._places[row], self._new)


class _PlaceDrawing(RowDrawing[PlaceLine]):
    """Draws a line as on a proof: what goes is struck through, what comes stands over a caret."""

    height = 28

    def say(self, thing: PlaceLine) -> str:
        return f"{thing.before}{thing.old} becomes {thing.new or 'nothing'}{thing.after}"

    def draw_ground(self, painter: QPainter, rect: QRect, *, chosen: bool) -> None:
        if chosen:
            painter.fillRect(rect, QColor(self.theme.card))

    def draw(self, painter: QPainter, rect: QRect, thing: PlaceLine) -> None:
        theme, line = self.theme, thing
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        font = dressing.font(theme.page, 0.8)
        metrics = QFontMetrics(font)
        painter.setFont(font)
        middle = rect.left() + round(rect.width() * _BEFORE)
        painter.setPen(QColor(theme.quiet))
        before = QRect(rect.left(), rect.top(), middle - rect.left() - _SPACE, rect.height())
        painter.drawText(
            before,
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
            metrics.elidedText(line.before.rstrip(), Qt.TextElideMode.ElideLeft, before.width()),
        )
        x = self._word(painter, metrics, middle, rect, line.old, theme.quiet)
        strike = rect.center().y() + 1.5
        painter.setPen(QPen(QColor(theme.ink), 1.2))
        painter.drawLine(QPointF(middle - 1, strike), QPointF(x + 1, strike))
        if line.new:
            left = x + 5
            x = self._word(painter, metrics, left, rect, line.new, theme.ink)
            foot = rect.center().y() + metrics.ascent() / 2 + 3
            painter.setPen(QPen(QColor(theme.ink), 1))
            painter.drawLine(QPointF(left, foot), QPointF(x, foot))
            painter.drawPolyline(
                [QPointF(left - 3, foot + 4), QPointF(left, foot), QPointF(left + 3, foot + 4)]
            )
        painter.setPen(QColor(theme.quiet))
        after = QRect(x, rect.top(), rect.right() - x, rect.height())
        painter.drawText(
            after,
            Qt.AlignmentFlag.AlignVCenter,
            metrics.elidedText(line.after, Qt.TextElideMode.ElideRight, max(0, after.width())),
        )

    @staticmethod
    def _word(
        painter: QPainter, metrics: QFontMetrics, left: int, rect: QRect, word: str, colour: str
    ) -> int:
        """Draw a word and tell where it ends."""
        shown = metrics.elidedText(word, Qt.TextElideMode.ElideRight, rect.width() // 4)
        width = metrics.horizontalAdvance(shown)
        painter.setPen(QColor(colour))
        box = QRect(left, rect.top(), width + 2, rect.height())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, shown)
        return left + width


def line_of(book: Book, query: Query) -> PlaceLine:
    """What a query would change, with the words around it."""
    new = query.proposal or ""
    if query.chapter:
        return PlaceLine("", query.text, new, "")
    return _line(book, Place(query.scene, query.start, query.end), new)


def _line(book: Book, place: Place, new: str) -> PlaceLine:
    text = book.scene(place.scene).passage.text
    before = text[max(0, place.start - _AROUND) : place.start].rpartition("\n")[2]
    after = text[place.end : place.end + _AROUND].partition("\n")[0]
    return PlaceLine(before, text[place.start : place.end], new, after)


class PlaceList(RowList[PlaceLine]):
    """The places of a search, to look over and to go to."""

    place_chosen = Signal(int)
    """The index of the place that is wanted on the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_PlaceDrawing(), "What would be replaced", parent=parent)
        self.setUniformItemSizes(True)
        self.selectionModel().currentChanged.connect(
            lambda index, _: self.place_chosen.emit(index.row()) if index.isValid() else None
        )

    def show_places(self, book: Book, places: tuple[Place, ...], new: str) -> None:
        """Show what stands at these places and would become `new`."""
        self.show_things(_PlaceLines(book, places, new))
        self.scrollToTop()
