"""How a row of Contents is drawn: headings, and scenes with their length and three ticks."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import (
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from reglet.manuscript.stage import REVISING, Stage
from reglet.window import dressing
from reglet.window.contents_model import ContentsModel, Index, Kind, Row
from reglet.window.theme import GRID, LIGHT, Theme

_TICK = 4.0
_TICK_STEP = 9
_TICKS_WIDTH = 4 * GRID
_SCENE_HEIGHT = 36
_HEADING_HEIGHT = 40
_INSET = 12


class ContentsDrawing(QStyledItemDelegate):
    """Draws rows in the theme and the stage's pencil."""

    def __init__(self, model: ContentsModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model
        self._theme: Theme = LIGHT
        self._stage = Stage.FIRST_READ
        self._open = ""

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme

    def set_stage(self, stage: Stage) -> None:
        """The stage whose pencil colours the scene that lies open."""
        self._stage = stage

    def set_open(self, scene_id: str) -> None:
        """The scene that lies open on the page."""
        self._open = scene_id

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        row = self._model.row_of(index)
        if row.kind in (Kind.SCENE, Kind.MATTER):
            return QSize(120, _SCENE_HEIGHT)
        return QSize(120, _HEADING_HEIGHT - (0 if row.number else GRID))

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        editor = QLineEdit(parent)
        editor.setAccessibleName("Title")
        editor.setPlaceholderText("Title")
        return editor

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        rect: QRect = option.rect
        editor.setGeometry(rect.adjusted(4, 2, -4, -4))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = self._model.row_of(index)
        rect: QRect = option.rect
        state: QStyle.StateFlag = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        selected = bool(state & QStyle.StateFlag.State_Selected)
        if row.kind in (Kind.SCENE, Kind.MATTER):
            self._paint_scene(painter, rect, row, selected)
        else:
            self._paint_heading(painter, rect, row)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.quiet), 1, Qt.PenStyle.DotLine))
            painter.drawRoundedRect(QRectF(rect).adjusted(4.5, 1.5, -1.5, -1.5), 2, 2)
        painter.restore()

    def _paint_heading(self, painter: QPainter, rect: QRect, row: Row) -> None:
        theme = self._theme
        if row.kind is Kind.PART:
            font = dressing.capitals(theme.control)
            painter.setPen(QColor(theme.quiet))
        else:
            font = dressing.font(theme.title, 0.62, dressing.SEMIBOLD)
            painter.setPen(QColor(theme.ink if row.title else theme.quiet))
        painter.setFont(font)
        room = rect.adjusted(4, 0, -4, -7)
        text = QFontMetrics(font).elidedText(row.shown, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom, text)

    def _paint_scene(self, painter: QPainter, rect: QRect, row: Row, selected: bool) -> None:
        theme, is_open = self._theme, row.id == self._open
        pencil = QColor(theme.pencil(self._stage))
        if is_open or selected:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.paper))
            painter.drawRoundedRect(QRectF(rect).adjusted(0, 0, -1, 0), 3, 3)
        if is_open:
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), pencil)
        room = rect.adjusted(_INSET, 5, -_TICKS_WIDTH - 12, 0)
        font = dressing.font(theme.control)
        font.setItalic(not row.title)
        painter.setFont(font)
        painter.setPen(QColor(theme.ink if row.title else theme.quiet))
        text = QFontMetrics(font).elidedText(row.shown, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, text)
        whole = rect.width() - 2 * _INSET - _TICKS_WIDTH - 4
        length = max(4.0, whole * row.words / self._model.longest)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(pencil if is_open else QColor(theme.bar))
        painter.drawRoundedRect(
            QRectF(rect.left() + _INSET, rect.bottom() - 7, length, 3 if is_open else 2), 1.5, 1.5
        )
        self._paint_ticks(painter, rect, row, is_open)

    def _paint_ticks(self, painter: QPainter, rect: QRect, row: Row, is_open: bool) -> None:
        theme = self._theme
        if row.scene is None or row.kind is Kind.MATTER:
            return  # front and back matter pass through no stage
        x = rect.right() - _TICKS_WIDTH + 2.0
        y = rect.center().y() + 1.0
        for stage in REVISING:
            passed = stage in row.scene.passed
            here = is_open and stage is self._stage
            colour = QColor(
                theme.pencil(stage) if here else theme.graphite if passed else theme.quiet
            )
            painter.setPen(QPen(colour, 1))
            painter.setBrush(colour if passed else Qt.BrushStyle.NoBrush)
            painter.drawPolygon(
                QPolygonF(
                    [
                        QPointF(x, y - _TICK),
                        QPointF(x + _TICK, y),
                        QPointF(x, y + _TICK),
                        QPointF(x - _TICK, y),
                    ]
                )
            )
            x += _TICK_STEP + 1
