"""Lists of things, one a row, that are drawn and not filled with widgets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from reglet.window.theme import LIGHT, Theme

Thing = TypeVar("Thing")
THING = Qt.ItemDataRole.UserRole
"""The role of the thing that a row is about."""


class RowDrawing(QStyledItemDelegate, Generic[Thing]):
    """Draws the ground of a row and the line under it; its kinds draw the thing."""

    height = 32
    """Of a row, in px."""
    theme = LIGHT

    def draw(self, painter: QPainter, rect: QRect, thing: Thing) -> None:
        """Draw one thing in its row."""
        raise NotImplementedError

    def say(self, thing: Thing) -> str:
        """One thing in words, for a screen reader."""
        raise NotImplementedError

    def hint(self, thing: Thing) -> str:
        """What is shown when the pointer rests on it; nothing for most."""
        return ""

    def height_of(self, thing: Thing) -> int:
        """Height of its row, in px."""
        return self.height

    def draw_ground(self, painter: QPainter, rect: QRect, *, chosen: bool) -> None:
        """What lies under the thing; a bar at the left edge tells the chosen one."""
        if chosen:
            painter.fillRect(rect, QColor(self.theme.card))
            bar = QRect(rect.left(), rect.top(), 3, rect.height())
            painter.fillRect(bar, QColor(self.theme.ink))

    def draw_edge(self, painter: QPainter, rect: QRect) -> None:
        """The line between a row and the next."""
        painter.setPen(QColor(self.theme.line))
        edge = rect.bottom() + 0.5
        painter.drawLine(QPointF(rect.left(), edge), QPointF(rect.right(), edge))

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return QSize(0, self.height_of(index.data(THING)))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        painter.save()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        self.draw_ground(painter, option.rect, chosen=chosen)
        self.draw(painter, option.rect, index.data(THING))
        self.draw_edge(painter, option.rect)
        painter.restore()


class RowList(QListView, Generic[Thing]):
    """Shows things with a drawing of their kind. `ground` names the theme's colour behind them."""

    def __init__(
        self,
        drawing: RowDrawing[Thing],
        name: str,
        *,
        ground: str = "paper",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._drawing, self._ground = drawing, ground
        self._rows = _Rows(drawing, self)
        drawing.setParent(self)
        self.setModel(self._rows)
        self.setItemDelegate(drawing)
        self.setFrameStyle(0)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(name)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._drawing.theme = theme
        colours = self.palette()
        colours.setColor(colours.ColorRole.Base, QColor(getattr(theme, self._ground)))
        self.setPalette(colours)
        self.viewport().update()

    def show_things(self, things: Sequence[Thing]) -> None:
        """Show these, with none of them chosen."""
        self._rows.show(things)

    def choose(self, row: int) -> None:
        """Choose a row by its number."""
        self.setCurrentIndex(self._rows.index(row))

    def row(self) -> int:
        """The number of the chosen row; -1 for none."""
        return self.currentIndex().row()

    def chosen(self) -> Thing | None:
        """The thing that is chosen."""
        return self.thing(self.row()) if self.currentIndex().isValid() else None

    def all_chosen(self) -> list[Thing]:
        """All that is chosen, from the top down, where several things may be."""
        return [self.thing(row) for row in sorted(index.row() for index in self.selectedIndexes())]

    def thing(self, row: int) -> Thing:
        """The thing of a row."""
        return self._rows.things[row]


class _Rows(QAbstractListModel):
    def __init__(self, drawing: RowDrawing[Any], parent: QWidget) -> None:
        super().__init__(parent)
        self._drawing = drawing
        self.things: Sequence[Any] = ()

    def show(self, things: Sequence[Any]) -> None:
        self.beginResetModel()
        self.things = things
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.things)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = 0) -> object:
        row = index.row()
        match role:
            case Qt.ItemDataRole.UserRole:
                return self.things[row]
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.AccessibleTextRole:
                return self._drawing.say(self.things[row])
            case Qt.ItemDataRole.ToolTipRole:
                return self._drawing.hint(self.things[row]) or None
        return None
