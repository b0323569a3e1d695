"""What has been heard, drawn: a row for each chapter, in it a cell for each scene, in that one bar
above another for each hearing that is aimed at, filled where a paragraph has been heard so often.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from reglet.numbers import times
from reglet.voice.coverage import ChapterHeard, Coverage, SceneHeard
from reglet.window import dressing
from reglet.window.contents_model import shown_title
from reglet.window.theme import GRID, LIGHT, Theme

_BAR, _TRACK, _STEP = 4.0, 1.0, 6.0
"""Heights in px: of what was heard, of what was not, and from one bar to the next."""
_GAP = 3.0
_PADDING = 5.0
_LEAST_CELL = 4.0


@dataclass(frozen=True, slots=True)
class _Cell:
    row: int
    scene: SceneHeard
    box: QRectF


class HeardChart(QWidget):
    """Draws it; a click on a scene, or Enter, asks for that scene. `by_length` makes a scene as
    wide as it is long; otherwise the scenes of a chapter share its row.
    """

    scene_wanted = Signal(str)
    pointed = Signal(str)
    """What is said of the scene under the pointer or the keys; "" for none."""

    def __init__(self, *, by_length: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._by_length = by_length
        self._theme = LIGHT
        self._chapters: tuple[ChapterHeard, ...] = ()
        self._aim = 1
        self._open = ""
        self._at = -1
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Heard")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.setFont(dressing.font(theme.control, 0.97))
        self.updateGeometry()
        self.update()

    def show_heard(self, chapters: Sequence[ChapterHeard], aim: int, open_scene: str) -> None:
        """Draw these chapters, `aim` hearings high, with the scene marked that lies open."""
        self._chapters, self._aim, self._open = tuple(chapters), aim, open_scene
        self._at = min(self._at, sum(len(each.scenes) for each in self._chapters) - 1)
        self.updateGeometry()
        self.update()

    def _row_height(self) -> float:
        least = QFontMetrics(self.font()).height() + 4.0
        return max(least, self._aim * _STEP + 2 * _PADDING)

    def sizeHint(self) -> QSize:
        return QSize(20 * GRID, round(len(self._chapters) * self._row_height()))

    def minimumSizeHint(self) -> QSize:
        return QSize(12 * GRID, self.sizeHint().height())

    def _split(self) -> float:
        """Where the names of the chapters end and the bars begin."""
        return self.width() * 0.5 if not self._by_length else min(26.0 * GRID, self.width() * 0.3)

    def _cells(self) -> list[_Cell]:
        left = self._split()
        width = self.width() - left
        height = self._row_height()
        longest = max((each.covered.words for each in self._chapters), default=1)
        found: list[_Cell] = []
        for row, chapter in enumerate(self._chapters):
            count = len(chapter.scenes)
            room = width - (count - 1) * _GAP
            words = chapter.covered.words
            whole = room * words / longest if self._by_length else room
            x = left
            for scene in chapter.scenes:
                share = scene.covered.words / words if self._by_length else 1 / count
                cell = max(_LEAST_CELL, whole * share)
                found.append(_Cell(row, scene, QRectF(x, row * height, cell, height)))
                x += cell + _GAP
        return found

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        height = self._row_height()
        cells = self._cells()
        here = {cell.row for cell in cells if cell.scene.scene == self._open}
        name_width = self._split() - 1.5 * GRID
        for row, chapter in enumerate(self._chapters):
            font = dressing.font(
                theme.control, 0.97, dressing.SEMIBOLD if row in here else dressing.REGULAR
            )
            painter.setFont(font)
            painter.setPen(QColor(theme.ink))
            title = QFontMetrics(font).elidedText(
                shown_title(chapter.title), Qt.TextElideMode.ElideRight, int(name_width)
            )
            box = QRectF(0, row * height, name_width, height)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, title)
        for number, cell in enumerate(cells):
            self._draw(painter, cell)
            if number == self._at and self.hasFocus():
                painter.setPen(QPen(QColor(theme.ink), 1))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(cell.box.adjusted(-1.5, 1.5, 1.5, -1.5))
            elif cell.scene.scene == self._open:
                painter.setPen(QPen(QColor(theme.ink), 1.5))
                under = cell.box.bottom() - 1.5
                painter.drawLine(QPointF(cell.box.left(), under), QPointF(cell.box.right(), under))

    def _draw(self, painter: QPainter, cell: _Cell) -> None:
        """The bars of one scene, the first hearing at the foot."""
        theme, box = self._theme, cell.box
        paragraphs = cell.scene.covered.paragraphs
        words = cell.scene.covered.words
        foot = box.center().y() + self._aim * _STEP / 2
        painter.setPen(Qt.PenStyle.NoPen)
        for time in range(1, self._aim + 1):
            middle = foot - (time - 0.5) * _STEP
            painter.setBrush(QColor(theme.bar))
            painter.drawRect(QRectF(box.left(), round(middle), box.width(), _TRACK))
            painter.setBrush(QColor(theme.red))
            start = before = 0
            for each in (*paragraphs, None):
                if each is not None and each.times >= time:
                    before += each.words
                    continue
                if before > start:
                    left = box.left() + box.width() * start / words
                    width = max(1.0, box.width() * (before - start) / words)
                    painter.drawRoundedRect(QRectF(left, middle - _BAR / 2, width, _BAR), 1, 1)
                if each is not None:
                    before += each.words
                start = before

    # Pointer and keys

    def _cell_at(self, at: QPointF) -> int:
        for number, cell in enumerate(self._cells()):
            if cell.box.adjusted(-_GAP / 2, 0, _GAP / 2, 0).contains(at):
                return number
        return -1

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = self._cell_at(event.position())
        self._tell(at)
        shape = Qt.CursorShape.PointingHandCursor if at >= 0 else Qt.CursorShape.ArrowCursor
        self.setCursor(shape)
        if at >= 0 and not self._by_length:
            said = told_of(self._cells()[at].scene)
            QToolTip.showText(event.globalPosition().toPoint(), said, self)

    def leaveEvent(self, event: QEvent) -> None:
        self._tell(-1)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = self._cell_at(event.position())
        if at >= 0:
            self._at = at
            self.scene_wanted.emit(self._cells()[at].scene.scene)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        cells = self._cells()
        if not cells:
            super().keyPressEvent(event)
            return
        at = max(self._at, 0)
        match Qt.Key(event.key()):
            case Qt.Key.Key_Left:
                at -= 1
            case Qt.Key.Key_Right:
                at += 1
            case Qt.Key.Key_Up | Qt.Key.Key_Down as key:
                by = 1 if key == Qt.Key.Key_Down else -1
                rows = [n for n, cell in enumerate(cells) if cell.row == cells[at].row + by]
                at = rows[0] if rows else at
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.scene_wanted.emit(cells[at].scene.scene)
                return
            case _:
                super().keyPressEvent(event)
                return
        self._at = max(0, min(len(cells) - 1, at))
        self._tell(self._at)
        self.update()

    def _tell(self, at: int) -> None:
        said = told_of(self._cells()[at].scene) if at >= 0 else ""
        self.setAccessibleDescription(said)
        self.pointed.emit(said)


def told_of(scene: SceneHeard) -> str:
    """What has been heard of a scene, in words."""
    name = shown_title(scene.title) or "Untitled"
    return f"{name}: {heard_in_words(scene.covered)}"


def heard_in_words(covered: Coverage) -> str:
    """How much was heard, and how often: "all of it twice, 40% 3 times"."""
    number = 1
    said: list[str] = []
    while (share := covered.share(number)) > 0 and covered.words:
        percent = "all of it" if share == 1.0 else f"{max(1, int(100 * share))}%"
        if share == 1.0 and said and said[-1].startswith("all"):
            said.pop()
        said.append(f"{percent} {times(number)}")
        number += 1
        if len(said) == 3:
            break
    return ", ".join(said) or "not heard since it last changed"
