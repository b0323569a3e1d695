"""Places in the book, one a line, each in the middle of the words around it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from reglet.manuscript.book import Book
from reglet.manuscript.search import Place
from reglet.window import dressing
from reglet.window.theme import LIGHT, Theme

_LINE = Qt.ItemDataRole.UserRole
_AROUND = 80
_ROW = 28
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


class _Places(QAbstractListModel):
    """Makes the lines as they come into view, so that ten thousand cost no more than ten."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._book, self._new = Book(), ""
        self._places: tuple[Place, ...] = ()

    def show(self, book: Book, places: tuple[Place, ...], new: str) -> None:
        self.beginResetModel()
        self._book, self._places, self._new = book, places, new
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._places)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = 0) -> object:
        if role == _LINE:
            return self._line(index.row())
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            line = self._line(index.row())
            return f"{line.before}{line.old} becomes {line.new or 'nothing'}{line.after}"
        return None

    def _line(self, row: int) -> PlaceLine:
        place = self._places[row]
        text = self._book.scene(place.scene).passage.text
        before = text[max(0, place.start - _AROUND) : place.start].rpartition("\n")[2]
        after = text[place.end : place.end + _AROUND].partition("\n")[0]
        return PlaceLine(before, text[place.start : place.end], self._new, after)


class _PlaceDrawing(QStyledItemDelegate):
    """Draws a line as on a proof: what goes is struck through, what comes stands over a caret."""

    theme = LIGHT

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return QSize(0, _ROW)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        line: PlaceLine = index.data(_LINE)
        theme, rect = self.theme, option.rect
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, QColor(theme.card))
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
        painter.setPen(QColor(theme.line))
        edge = rect.bottom() + 0.5
        painter.drawLine(QPointF(rect.left(), edge), QPointF(rect.right(), edge))
        painter.restore()

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


class PlaceList(QListView):
    """The places of a search, to look over and to go to."""

    place_chosen = Signal(int)
    """The index of the place that is wanted on the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._places = _Places(self)
        self._drawing = _PlaceDrawing(self)
        self.setModel(self._places)
        self.setItemDelegate(self._drawing)
        self.setUniformItemSizes(True)
        self.setFrameStyle(0)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("What would be replaced")
        self.selectionModel().currentChanged.connect(
            lambda index, _: self.place_chosen.emit(index.row()) if index.isValid() else None
        )

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._drawing.theme = theme
        colours = self.palette()
        colours.setColor(colours.ColorRole.Base, QColor(theme.paper))
        self.setPalette(colours)
        self.viewport().update()

    def show_places(self, book: Book, places: tuple[Place, ...], new: str) -> None:
        """Show what stands at these places and would become `new`."""
        self._places.show(book, places, new)
        self.scrollToTop()
