"""The snapshots of a scene as marks on a line through the stages, the present at its end."""

from __future__ import annotations

from itertools import groupby

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from reglet.bookfile import NOW, Reason, Snapshot
from reglet.numbers import counted
from reglet.window import dressing
from reglet.window.theme import GRID, LIGHT, Theme

_HEIGHT = 11 * GRID
_TOP = 4
_LINE = 5 * GRID
_MARGIN = GRID


class SnapshotLine(QWidget):
    """Two states are chosen on it: the arrows move the earlier one, with Shift the later one."""

    chosen = Signal()
    """Another pair of states is chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._snapshots: tuple[Snapshot, ...] = ()
        self._earlier, self._later = 0, 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Snapshots")
        self.setMouseTracking(True)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_snapshots(self, snapshots: tuple[Snapshot, ...], earlier: str = "") -> None:
        """Set out these, oldest first; the one whose id is `earlier`, or the latest, and the
        present are chosen.
        """
        self._snapshots = snapshots
        self._later = len(snapshots)
        ids = [snapshot.id for snapshot in snapshots]
        self._earlier = ids.index(earlier) if earlier in ids else max(0, len(snapshots) - 1)
        self._describe()
        self.update()

    def states(self) -> tuple[str, str]:
        """The ids of the two chosen states, the earlier first; the present is `NOW`."""
        ids = [snapshot.id for snapshot in self._snapshots] + [NOW]
        return ids[self._earlier], ids[self._later]

    def name_of(self, state: str) -> str:
        """What a snapshot is called here, without its time and length."""
        return next((_called(each) for each in self._snapshots if each.id == state), "now")

    def sizeHint(self) -> QSize:
        return QSize(60 * GRID, _HEIGHT)

    def minimumSizeHint(self) -> QSize:
        return QSize(30 * GRID, _HEIGHT)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        by = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()), 0)
        if not by:
            super().keyPressEvent(event)
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._choose(self._earlier, self._later + by)
        else:
            self._choose(self._earlier + by, self._later)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if not self._snapshots:
            return
        at = event.position().x()
        index = min(range(len(self._snapshots) + 1), key=lambda i: abs(self._x(i) - at))
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier or index == len(self._snapshots):
            self._choose(min(self._earlier, index - 1), index)
        else:
            self._choose(index, max(self._later, index + 1))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position().x()
        index = min(range(len(self._snapshots) + 1), key=lambda i: abs(self._x(i) - at))
        self.setToolTip(self._name(index))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = self._theme
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.drawLine(QPointF(_MARGIN, _LINE), QPointF(self.width() - _MARGIN, _LINE))
        if self._snapshots:
            painter.setPen(QPen(QColor(theme.ink), 2))
            painter.drawLine(
                QPointF(self._x(self._earlier), _LINE), QPointF(self._x(self._later), _LINE)
            )
        self._paint_stages(painter)
        for index in range(len(self._snapshots) + 1):
            self._paint_state(painter, index)
        self._paint_names(painter)

    def _choose(self, earlier: int, later: int) -> None:
        last = len(self._snapshots)
        earlier, later = max(0, earlier), min(last, later)
        if earlier < later and (earlier, later) != (self._earlier, self._later):
            self._earlier, self._later = earlier, later
            self._describe()
            self.update()
            self.chosen.emit()

    def _x(self, index: int) -> float:
        width = self.width() - 2 * _MARGIN - 4
        return _MARGIN + 2 + width * index / max(1, len(self._snapshots))

    def _name(self, index: int) -> str:
        if index == len(self._snapshots):
            return "Now"
        snapshot = self._snapshots[index]
        made = snapshot.made.astimezone()
        when = f"{made.day} {made:%b %Y, %H:%M}"
        return f"{_called(snapshot)} · {when} · {counted(snapshot.words, 'word')}"

    def _describe(self) -> None:
        if self._snapshots:
            pair = f"{self._name(self._earlier)}, compared with {self._name(self._later)}"
            self.setAccessibleDescription(pair)

    def _paint_stages(self, painter: QPainter) -> None:
        """The name of each stage over its first snapshot, where the name before leaves it room."""
        font = dressing.font(self._theme.control, 0.86)
        painter.setFont(font)
        metrics = QFontMetrics(font)
        at, free = 0, -1.0
        for stage, group in groupby(self._snapshots, key=lambda snapshot: snapshot.stage):
            left = self._x(at) - 5
            at += len(tuple(group))
            width = metrics.horizontalAdvance(stage.label)
            left = min(left, self.width() - width)
            if left < free:
                continue
            free = left + width + 2 * GRID
            painter.setPen(QColor(self._theme.pencil(stage)))
            painter.drawText(QRectF(left, _TOP, width + 2, 3 * GRID), 0, stage.label)

    def _paint_state(self, painter: QPainter, index: int) -> None:
        centre = QPointF(self._x(index), _LINE)
        by_hand = index < len(self._snapshots) and self._snapshots[index].reason is Reason.BY_HAND
        stage = self._snapshots[index].stage if index < len(self._snapshots) else None
        colour = QColor(self._theme.pencil(stage) if stage else self._theme.ink)
        painter.setPen(QPen(colour, 1.5))
        painter.setBrush(colour if by_hand or stage is None else QColor(self._theme.paper))
        size = max(2.0, min(5.0, self._x(1) / 2 - self._x(0) / 2 - 1))
        painter.drawEllipse(centre, size, size)
        if self.hasFocus() and index == self._earlier and self._snapshots:
            painter.drawLine(
                QPointF(centre.x() - 8, _LINE + 14), QPointF(centre.x() + 8, _LINE + 14)
            )
        if index in (self._earlier, self._later) and self._snapshots:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.ink), 1.5))
            painter.drawEllipse(centre, 9, 9)

    def _paint_names(self, painter: QPainter) -> None:
        if not self._snapshots:
            return
        font = dressing.font(self._theme.control, 0.93)
        painter.setFont(font)
        metrics = QFontMetrics(font)
        row = QRectF(0, _LINE + 2 * GRID + 4, self.width(), 3 * GRID)
        half = row.width() / 2 - GRID
        for index, left, side in (
            (self._earlier, row.left(), Qt.AlignmentFlag.AlignLeft),
            (self._later, row.right() - half, Qt.AlignmentFlag.AlignRight),
        ):
            painter.setPen(QColor(self._theme.ink))
            painter.drawText(
                QRectF(left, row.top(), half, row.height()),
                side,
                metrics.elidedText(self._name(index), Qt.TextElideMode.ElideRight, int(half)),
            )


def _called(snapshot: Snapshot) -> str:
    if snapshot.reason is Reason.ENTERING_STAGE:
        return f"Entering {snapshot.stage.label}"
    return snapshot.label or snapshot.reason.label
