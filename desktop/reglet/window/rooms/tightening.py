"""Tightening: how much shorter the text has become in this stage, beside the writer's aim."""

from __future__ import annotations

from enum import Enum
from functools import partial

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QSizePolicy, QVBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.numbers import counted
from reglet.overlays.line.tightening import Tightening
from reglet.window.controls import Act
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Label, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_BAR = 6
_AIMS = (0, 5, 10, 15, 20, 25)


class Reach(Enum):
    """What is counted."""

    SCENE = "This scene"
    CHAPTER = "This chapter"
    BOOK = "The book"


class TighteningRoom(QWidget):
    """Shows the words at the start of the stage and now, and how far that is to the aim."""

    reach_changed = Signal()
    aim_chosen = Signal(int)
    """Another aim, in percent; 0 for none."""
    difference_wanted = Signal()
    again_wanted = Signal()
    """The paragraph before and after, side by side."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.reach = Reach.SCENE
        self._reach = Act(self.reach.value)
        self._words = Label()
        self._bar = _Bar()
        self._told = Lines(quiet=True, scale=0.93)
        self._aim = Act("Aim")
        self._difference = Act("Difference")
        self._again = Act("Read it again")
        self._reach.setToolTip("Press for the scene, the chapter, the book")
        self._aim.setToolTip("How much shorter it is to be")
        self._difference.setToolTip("What was changed since the stage began. Ctrl+D")
        self._again.setToolTip("This paragraph before and after, side by side. Ctrl+R")
        head = QHBoxLayout()
        head.addWidget(self._reach)
        head.addStretch(1)
        head.addWidget(self._words)
        acts = FlowLayout(2 * GRID)
        for act in (self._difference, self._again, self._aim):
            acts.addWidget(act)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID // 2 + 2)
        layout.addWidget(Caption("Tightening"))
        layout.addLayout(head)
        layout.addWidget(self._bar)
        layout.addWidget(self._told)
        layout.addLayout(acts)
        self._reach.clicked.connect(self._next_reach)
        self._aim.clicked.connect(self._choose_aim)
        self._difference.clicked.connect(self.difference_wanted)
        self._again.clicked.connect(self.again_wanted)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_tightening(self, found: Tightening | None, aim: int, now: int) -> None:
        """Show where the text stands; None, and the words it has now, before the stage began."""
        self._difference.setEnabled(found is not None)
        self._again.setEnabled(found is not None)
        self._bar.show_share(found.share if found else 0.0, aim / 100)
        self._aim.setText(f"Aim −{aim}%" if aim else "No aim")
        if found is None:
            self._words.setText(counted(now, "word"))
            self._told.setText("Counted from the first time that this stage is entered.")
            return
        self._words.setText(f"{found.then:,} → {found.now:,} words")
        share = f"{abs(found.share):.1%}"
        more = found.cut < 0
        moved = f"{-found.cut:,} more, +{share}" if more else f"{found.cut:,} cut, −{share}"
        if not found.cut:
            moved = "Nothing cut yet"
        said = f"{moved} of an aim of −{aim}%" if aim else moved
        if found.kept:
            said += f" · {counted(found.kept, 'word')} kept in Offcuts"
        self._told.setText(said)
        self._bar.setAccessibleName(f"{self.reach.value}: {said}")

    def _next_reach(self) -> None:
        reaches = list(Reach)
        self.reach = reaches[(reaches.index(self.reach) + 1) % len(reaches)]
        self._reach.setText(self.reach.value)
        self.reach_changed.emit()

    def _choose_aim(self) -> None:
        menu = QMenu(self)
        for aim in _AIMS:
            said = f"{aim}% shorter" if aim else "No aim"
            menu.addAction(said, partial(self.aim_chosen.emit, aim))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self._aim.mapToGlobal(self._aim.rect().bottomLeft()))


class _Bar(QWidget):
    """What is cut, drawn up to the aim, where a stroke stands."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._share, self._aim = 0.0, 0.0
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_share(self, share: float, aim: float) -> None:
        """The part that is cut, and the part that is to be."""
        if (share, aim) != (self._share, self._aim):
            self._share, self._aim = share, aim
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, _BAR + 6)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        whole = QRectF(0, 3, self.width() - 2, _BAR)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(whole, 3, 3)
        painter.setPen(QColor(theme.bar))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(whole.adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
        reach = max(self._aim, self._share, 0.01)
        done = QRectF(whole)
        done.setWidth(whole.width() * max(0.0, self._share) / reach)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.pencil(Stage.LINE)))
        painter.drawRoundedRect(done, 3, 3)
        if self._aim:
            x = whole.left() + whole.width() * self._aim / reach
            painter.fillRect(QRectF(min(x, self.width() - 2), 0, 2, _BAR + 6), QColor(theme.ink))
