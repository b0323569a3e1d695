"""The painted book, and what can be done to its scenes there: go, choose, move, merge, cut."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QHelpEvent, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QSizePolicy, QToolTip, QWidget

from reglet.window.book_drawing import BookDrawing, BookPictures
from reglet.window.theme import LIGHT, Theme

_PICTURE_SCALE = 2


class BookChart(QWidget):
    """A click goes to a scene, with Ctrl or Shift it chooses; what is dragged moves. The arrows go
    from scene to scene.
    """

    scene_wanted = Signal(str)
    """A scene to be gone to: its id."""
    step_wanted = Signal(list, int)
    """Scenes to be moved one place on (1) or back (-1): their ids."""
    move_wanted = Signal(list, int)
    """Scenes to be set before that one of all scenes: their ids, its place."""
    merge_wanted = Signal(list)
    cut_wanted = Signal(list)
    copies_wanted = Signal(list)
    """Scenes of each of which a copy is to be kept as another version."""
    undo_wanted = Signal()
    redo_wanted = Signal()
    pointed = Signal(str)
    """What the scene with the keys is, in words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._drawing: BookDrawing | None = None
        self._pictures: BookPictures | None = None
        self._chosen: frozenset[str] = frozenset()
        self._now = ""
        self._pressed: tuple[float, str] | None = None
        self._slot: int | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("The book, scene by scene")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self._draw_again()

    def show_pictures(self, pictures: BookPictures) -> None:
        """Show these; the choice stays with its scenes."""
        self._pictures = pictures
        there = {each.scene for each in pictures.lengths.scenes}
        self._chosen &= there
        if self._now not in there:
            self._now = ""
        self._draw_again()

    def point_to(self, scene_id: str) -> None:
        """Give a scene the keys."""
        self._now = scene_id
        self.setAccessibleDescription(self._told(scene_id))
        self.update()

    @property
    def chosen(self) -> list[str]:
        """The ids of the scenes chosen, or of the one with the keys, in the book's order."""
        wanted = self._chosen or {self._now}
        return [scene for scene in self._ids() if scene in wanted]

    def picture(self, width: int = 1200) -> QImage:
        """The drawing as an image, at twice its size."""
        assert self._pictures is not None
        drawing = BookDrawing(self._pictures, width, self._theme)
        edge = 24
        size = QSize(width + 2 * edge, round(drawing.height) + 2 * edge)
        image = QImage(size * _PICTURE_SCALE, QImage.Format.Format_RGB32)
        image.fill(QColor(self._theme.paper))
        painter = QPainter(image)
        painter.scale(_PICTURE_SCALE, _PICTURE_SCALE)
        painter.translate(edge, edge)
        drawing.paint(painter)
        painter.end()
        return image

    def _ids(self) -> list[str]:
        return [each.scene for each in self._pictures.lengths.scenes] if self._pictures else []

    def _draw_again(self) -> None:
        if self._pictures is not None:
            self._drawing = BookDrawing(self._pictures, float(self.width()), self._theme)
            self.setFixedHeight(round(self._drawing.height))
        self.update()

    def resizeEvent(self, event: object) -> None:
        self._draw_again()

    def sizeHint(self) -> QSize:
        return QSize(400, round(self._drawing.height) if self._drawing else 400)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._drawing is None or not self._ids():
            return
        painter = QPainter(self)
        ids = self._ids()
        chosen = frozenset(at for at, scene in enumerate(ids) if scene in self._chosen)
        now = ids.index(self._now) if self._now in ids else -1
        self._drawing.paint(painter, chosen, now)
        if self._slot is not None:
            edges = self._drawing.columns.edges
            x = edges[self._slot][0] if self._slot < len(edges) else edges[-1][1]
            box = QRectF(x - 1.5, 20, 2, self._drawing.height - 20)
            painter.fillRect(box, QColor(self._theme.ink))

    # Mouse

    def _scene_at(self, x: float) -> str:
        at = self._drawing.columns.at(x) if self._drawing else -1
        return self._ids()[at] if at >= 0 else ""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        x = event.position().x()
        if self._drawing is None or x < self._drawing.columns.left:
            return
        self._pressed = (x, self._scene_at(x))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None or self._drawing is None:
            return
        x, scene = self._pressed
        far = abs(event.position().x() - x) >= QApplication.startDragDistance()
        if self._slot is None and not far:
            return
        if scene not in self._chosen:
            self._chosen = frozenset({scene})
        self._now = scene
        self._slot = self._drawing.columns.slot(event.position().x())
        self.setCursor(Qt.CursorShape.ClosedHandCursor)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, slot = self._pressed, self._slot
        self._pressed = self._slot = None
        self.unsetCursor()
        self.update()
        if pressed is None:
            return
        if slot is not None:
            self.move_wanted.emit(self.chosen, slot)
        elif event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._chosen ^= {pressed[1]}
            self._go_on_from(pressed[1])
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._choose_to(pressed[1])
        else:
            self._go_on_from(pressed[1])
            self.scene_wanted.emit(pressed[1])

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and self._drawing is not None:
            assert isinstance(event, QHelpEvent)
            said = self._drawing.told(event.pos().x(), event.pos().y())
            QToolTip.showText(event.globalPos(), said, self)
            return True
        return super().event(event)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, held = event.key(), event.modifiers()
        step = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Up: -1,
            Qt.Key.Key_K: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Down: 1,
            Qt.Key.Key_J: 1,
        }.get(Qt.Key(key))
        if step is not None and held & Qt.KeyboardModifier.AltModifier:
            self.step_wanted.emit(self.chosen, step)
        elif step is not None:
            self._step(step, choosing=bool(held & Qt.KeyboardModifier.ShiftModifier))
        elif key == Qt.Key.Key_Z and held & Qt.KeyboardModifier.ControlModifier:
            again = held & Qt.KeyboardModifier.ShiftModifier
            (self.redo_wanted if again else self.undo_wanted).emit()
        elif key == Qt.Key.Key_Space and self._now:
            self._chosen ^= {self._now}
            self.update()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._now:
            self.scene_wanted.emit(self._now)
        elif key == Qt.Key.Key_M and len(self.chosen) > 1:
            self.merge_wanted.emit(self.chosen)
        elif key in (Qt.Key.Key_X, Qt.Key.Key_Delete) and self.chosen:
            self.cut_wanted.emit(self.chosen)
        elif key == Qt.Key.Key_A and not held and self.chosen:
            self.copies_wanted.emit(self.chosen)
        elif key == Qt.Key.Key_Escape and self._pressed:
            self._pressed = self._slot = None
            self.unsetCursor()
            self.update()
        elif key == Qt.Key.Key_Escape and self._chosen:
            self._chosen = frozenset()
            self.update()
        else:
            super().keyPressEvent(event)

    def _step(self, by: int, *, choosing: bool) -> None:
        ids = self._ids()
        if not ids:
            return
        at = ids.index(self._now) + by if self._now in ids else 0
        scene = ids[max(0, min(len(ids) - 1, at))]
        if choosing:
            self._chosen |= {self._now or scene, scene}
        self._go_on_from(scene)

    def _choose_to(self, scene: str) -> None:
        ids = self._ids()
        start = ids.index(self._now) if self._now in ids else 0
        first, last = sorted((start, ids.index(scene)))
        self._chosen |= frozenset(ids[first : last + 1])
        self._go_on_from(scene)

    def _go_on_from(self, scene: str) -> None:
        self.point_to(scene)
        self.pointed.emit(self._told(scene))

    def _told(self, scene: str) -> str:
        """What is drawn of a scene, in words."""
        if self._drawing is None or scene not in self._ids():
            return ""
        return self._drawing.told(self._drawing.columns.middle(self._ids().index(scene)), 0)
