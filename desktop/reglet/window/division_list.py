"""The parts, chapters and scenes that a draft would be divided into, one a line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from reglet.exchange.proposal import Division, Kind
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.window import dressing
from reglet.window.theme import GRID, LIGHT, Theme

KIND_NAMES = {
    Kind.PART: "Part",
    Kind.CHAPTER: "Chapter",
    Kind.SCENE: "Scene",
    Kind.FRONT: "Front matter",
    Kind.BACK: "Back matter",
}
_DIVISION = Qt.ItemDataRole.UserRole
_INDENTS = {Kind.PART: 0, Kind.FRONT: 0, Kind.BACK: 0, Kind.CHAPTER: 0, Kind.SCENE: 1}
_HEIGHT, _SCENE_HEIGHT = 34, 26
_COUNT_WIDTH = 5 * GRID


class DivisionList(QListView):
    """The lines of a proposal; one of them is chosen."""

    chosen = Signal(int)
    """The number of the line that is chosen now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._divisions = _Divisions(self)
        self._drawing = _DivisionDrawing(self)
        self.setModel(self._divisions)
        self.setItemDelegate(self._drawing)
        self.setFrameStyle(0)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.selectionModel().currentChanged.connect(
            lambda index, _: self.chosen.emit(index.row()) if index.isValid() else None
        )

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._drawing.theme = theme
        colours = self.palette()
        colours.setColor(colours.ColorRole.Base, QColor(theme.desk))
        self.setPalette(colours)
        self.viewport().update()

    def show_divisions(self, divisions: Sequence[Division], row: int) -> None:
        """Show these, with one of them chosen."""
        blocked = self.selectionModel().blockSignals(True)
        self._divisions.show(divisions)
        if divisions:
            self.setCurrentIndex(self._divisions.index(row))
            self.scrollTo(self.currentIndex())
        self.selectionModel().blockSignals(blocked)
        self.viewport().update()

    def choose(self, row: int) -> None:
        """Choose a line."""
        self.setCurrentIndex(self._divisions.index(row))

    def row(self) -> int:
        """The number of the line that is chosen; -1 for none."""
        return self.currentIndex().row()


class _Divisions(QAbstractListModel):
    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._all: Sequence[Division] = ()

    def show(self, divisions: Sequence[Division]) -> None:
        self.beginResetModel()
        self._all = divisions
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._all)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = 0) -> object:
        division = self._all[index.row()]
        if role == _DIVISION:
            return division
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            title = division.title or f"begins “{division.begins}”"
            return f"{KIND_NAMES[division.kind]}, {title}, {division.words} words"
        if role == Qt.ItemDataRole.ToolTipRole:
            return division.title.replace(LINE_BREAK, " · ") or division.begins
        return None


class _DivisionDrawing(QStyledItemDelegate):
    """Draws one part, chapter or scene as Contents does."""

    theme = LIGHT

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        division: Division = index.data(_DIVISION)
        return QSize(0, _SCENE_HEIGHT if division.kind is Kind.SCENE else _HEIGHT)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        division: Division = index.data(_DIVISION)
        theme, rect = self.theme, option.rect
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, QColor(theme.paper))
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), QColor(theme.ink))
        left = rect.left() + GRID + _INDENTS[division.kind] * GRID
        painter.setFont(dressing.font(theme.control, 0.86))
        painter.setPen(QColor(theme.quiet))
        line = QRect(left, rect.top(), rect.right() - left - GRID, rect.height())
        if division.words:
            painter.drawText(
                line,
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
                f"{division.words:,}",
            )
        title = division.title.replace(LINE_BREAK, " · ")
        font, colour = dressing.font(theme.control), theme.ink
        if division.kind is not Kind.SCENE:
            font = dressing.font(theme.title, 0.65, dressing.SEMIBOLD)
            title = title or KIND_NAMES[division.kind]
        elif not title:
            title, colour = f"{division.begins} …", theme.quiet
        painter.setFont(font)
        painter.setPen(QColor(colour))
        room = line.adjusted(0, 0, -_COUNT_WIDTH, 0)
        elided = painter.fontMetrics().elidedText(title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, elided)
        painter.restore()
