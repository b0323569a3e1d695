"""Plan beside As written, with a line for each planned scene to what it has become."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from reglet.story.plan import Drift, Match
from reglet.window import dressing
from reglet.window.contents_model import name_of, opening_of
from reglet.window.theme import GRID, LIGHT, Theme

_ROW = 27.0
_HEAD = 34.0
_TOLD = 84.0
"""Room for what is said of a row."""


class PlanChart(QWidget):
    """The arrows go through the planned scenes; a planned scene is dragged to the written one that
    it has become, or the keys say so.
    """

    scene_wanted = Signal(str)
    decided = Signal(str, str)
    """A planned scene is this written one ("": it is not written): their ids."""
    undecided = Signal(str)
    """What became of a planned scene is to be proposed again."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._drift: Drift | None = None
        self._matches: dict[str, Match] = {}
        self._now = 0
        self._dragged: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Plan beside As written")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_drift(self, drift: Drift) -> None:
        """Show how what is written differs from the plan."""
        self._drift = drift
        self._matches = {match.planned: match for match in drift.matches}
        self._now = min(self._now, max(0, len(drift.plan) - 1))
        rows = max(len(drift.plan), len(drift.scenes))
        self.setFixedHeight(round(_HEAD + rows * _ROW + GRID))
        self._tell()
        self.update()

    def _tell(self) -> None:
        """Say what the planned scene with the keys has become, to who does not see it."""
        drift = self._drift
        if drift is None or not drift.plan:
            return
        planned = drift.plan[self._now]
        match = self._matches.get(planned.id)
        names = {scene.id: name_of(scene) for scene in drift.scenes}
        became = f"written as “{names[match.scene]}”" if match else ""
        told = ", ".join(filter(None, (became, _drifted(drift, match))))
        self.setAccessibleDescription(f"{planned.text}: {told}")

    def sizeHint(self) -> QSize:
        return QSize(400, self.minimumHeight())

    # Where things stand: the plan left, what is written right, lines between

    @property
    def _left_end(self) -> float:
        return self.width() * 0.46

    @property
    def _right_start(self) -> float:
        return self.width() * 0.58

    @staticmethod
    def _y(row: int) -> float:
        return _HEAD + (row + 0.5) * _ROW

    def paintEvent(self, event: QPaintEvent) -> None:
        drift = self._drift
        if drift is None:
            return
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(dressing.capitals(theme.control))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QPointF(0, 18), "Plan")
        painter.drawText(QPointF(self._right_start, 18), "As written")
        painter.fillRect(QRectF(0, _HEAD - 7, self.width(), 1), QColor(theme.line))
        places = {scene.id: at for at, scene in enumerate(drift.scenes)}
        exposed = QRectF(event.rect())
        for at, planned in enumerate(drift.plan):
            match = self._matches.get(planned.id)
            told = _drifted(drift, match)
            if at == self._now and self.hasFocus():
                box = QRectF(-4, self._y(at) - _ROW / 2, self._left_end + 4, _ROW)
                painter.fillRect(box, QColor(theme.selection))
            if exposed.top() - _ROW < self._y(at) < exposed.bottom() + _ROW:
                self._words(painter, 0, at, planned.text, told, strong=match is None)
            if match is not None:
                now = at == self._now and self.hasFocus()
                self._line(painter, at, places[match.scene], firm=planned.decided, now=now)
        unplanned = {scene.id for scene in drift.unplanned}
        for at, scene in enumerate(drift.scenes):
            if exposed.top() - _ROW < self._y(at) < exposed.bottom() + _ROW:
                odd = scene.id in unplanned
                title = name_of(scene)
                told = "not in the plan" if odd else ""
                self._words(painter, self._right_start, at, title, told, strong=odd)
        if self._dragged is not None:
            painter.setPen(QPen(QColor(theme.ink), 1.4))
            painter.drawLine(QPointF(self._left_end + 8, self._y(self._now)), self._dragged)

    def _words(
        self, painter: QPainter, x: float, row: int, said: str, told: str, *, strong: bool
    ) -> None:
        theme, y = self._theme, self._y(row)
        end = self._left_end if x < self._right_start else float(self.width())
        weight = dressing.SEMIBOLD if strong else dressing.REGULAR
        painter.setFont(dressing.font(theme.control, 1.0, weight))
        room = end - x - (_TOLD + GRID if told else 0)
        shown = painter.fontMetrics().elidedText(said, Qt.TextElideMode.ElideRight, int(room))
        painter.setPen(QColor(theme.ink))
        box = QRectF(x, y - _ROW / 2, room, _ROW)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, shown)
        if told:
            face = dressing.font(theme.control, 0.86)
            face.setItalic(True)
            painter.setFont(face)
            painter.setPen(QColor(theme.quiet))
            box = QRectF(end - _TOLD, y - _ROW / 2, _TOLD, _ROW)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, told)

    def _line(self, painter: QPainter, row: int, other: int, *, firm: bool, now: bool) -> None:
        start = QPointF(self._left_end + 8, self._y(row))
        end = QPointF(self._right_start - 8, self._y(other))
        middle = (start.x() + end.x()) / 2
        path = QPainterPath(start)
        path.cubicTo(QPointF(middle, start.y()), QPointF(middle, end.y()), end)
        colour = self._theme.ink if now else self._theme.graphite if firm else self._theme.quiet
        painter.setPen(QPen(QColor(colour), 2.0 if now else 1.6 if firm else 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(path)

    # Gestures

    def _row_at(self, y: float, rows: int) -> int | None:
        at = int((y - _HEAD) // _ROW)
        return at if 0 <= at < rows else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        drift, place = self._drift, event.position()
        if drift is None or place.x() > self._left_end:
            return
        at = self._row_at(place.y(), len(drift.plan))
        if at is not None:
            self._now, self._dragged = at, place
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged is not None:
            self._dragged = event.position()
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        drift, place, dragged = self._drift, event.position(), self._dragged
        self._dragged = None
        self.update()
        if drift is None or place.x() < self._right_start - GRID:
            return
        at = self._row_at(place.y(), len(drift.scenes))
        if at is None:
            return
        scene = drift.scenes[at].id
        if dragged is not None:
            self.decided.emit(drift.plan[self._now].id, scene)
        else:
            self.scene_wanted.emit(scene)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        drift = self._drift
        if drift is None or not drift.plan:
            super().keyPressEvent(event)
            return
        planned = drift.plan[self._now]
        match = self._matches.get(planned.id)
        by = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if by is not None and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            ids = [scene.id for scene in drift.scenes]
            at = ids.index(match.scene) + by if match else min(self._now, len(ids) - 1)
            if 0 <= at < len(ids):
                self.decided.emit(planned.id, ids[at])
        elif by is not None:
            self._now = max(0, min(len(drift.plan) - 1, self._now + by))
            self._tell()
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and match:
            self.decided.emit(planned.id, match.scene)
        elif event.key() == Qt.Key.Key_Delete:
            self.decided.emit(planned.id, "")
        elif event.key() == Qt.Key.Key_Backspace:
            self.undecided.emit(planned.id)
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        drift = self._drift
        if event.type() == QEvent.Type.ToolTip and drift is not None:
            assert isinstance(event, QHelpEvent)
            place = event.pos()
            if place.x() < self._left_end:
                at = self._row_at(place.y(), len(drift.plan))
                said = drift.plan[at].text if at is not None else ""
            else:
                at = self._row_at(place.y(), len(drift.scenes))
                said = opening_of(drift.scenes[at]) if at is not None else ""
            QToolTip.showText(event.globalPos(), said, self)
            return True
        return super().event(event)


def _drifted(drift: Drift, match: Match | None) -> str:
    """What of a planned scene is not as planned; "" for nothing."""
    if match is None:
        return "not written"
    return _moved(drift, match) if match.out_of_order else ""


def _moved(drift: Drift, match: Match) -> str:
    """Whether a planned scene was written earlier or later than planned, among those written."""
    planned = [each.planned for each in drift.matches]
    written = sorted(drift.matches, key=lambda each: _place(drift, each.scene))
    later = [each.planned for each in written].index(match.planned) > planned.index(match.planned)
    return "later" if later else "earlier"


def _place(drift: Drift, scene_id: str) -> int:
    return next(at for at, scene in enumerate(drift.scenes) if scene.id == scene_id)
