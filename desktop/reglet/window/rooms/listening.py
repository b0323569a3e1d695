"""Listening on the Slip: what reads, how fast, how long still, and the keys while it does."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QVBoxLayout, QWidget

from reglet.voice.moment import State
from reglet.window.controls import KeyButton, Tick
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_ROUND = 42


class PlayButton(QAbstractButton):
    """Starts the voice and lets it pause.

    Its two symbols are those of ISO 7000 / IEC 60417 for "normal run" and "pause" (5107 and 5111;
    the numbers from memory), in the red pencil of Proof.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._playing = self._waiting = False
        self.setFixedSize(_ROUND, _ROUND)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.show_state(playing=False, waiting=False)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_state(self, *, playing: bool, waiting: bool) -> None:
        """Whether the voice reads, and whether it is being made ready."""
        self._playing, self._waiting = playing, waiting
        self.setAccessibleName("Pause" if playing else "Listen")
        self.setToolTip(f"{self.accessibleName()} (F8)")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(_ROUND, _ROUND)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.red))
        painter.drawEllipse(box)
        painter.setBrush(QColor(theme.paper))
        middle = box.center()
        if self._playing:
            for x in (-6.0, 2.0):
                painter.drawRect(QRectF(middle.x() + x, middle.y() - 7, 4, 14))
        else:
            triangle = [QPointF(-5, -8), QPointF(-5, 8), QPointF(9, 0)]
            painter.drawPolygon(QPolygonF([middle + each for each in triangle]))
        if self._waiting or self.hasFocus():
            pen = QPen(QColor(theme.ink), 1.5)
            if self._waiting:
                pen.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(box.adjusted(0.5, 0.5, -0.5, -0.5))


class ListeningRoom(QWidget):
    """Shows the voice at work. Its keys are those of the page while it follows the voice."""

    play_wanted = Signal()
    back_wanted = Signal(bool)
    """Back a sentence (False) or a paragraph (True)."""
    flag_wanted = Signal()
    mend_wanted = Signal()
    pace_wanted = Signal(int)
    """A step faster (1) or slower (-1)."""
    follow_wanted = Signal(bool)
    ruler_wanted = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._playing = self._waiting = False
        self._button = PlayButton()
        self._button.clicked.connect(self.play_wanted)
        self._told, self._left = Lines(), Lines(quiet=True, scale=0.93)
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(self._told)
        said.addWidget(self._left)
        top = QHBoxLayout()
        top.setSpacing(2 * GRID - 2)
        top.addWidget(self._button, 0, Qt.AlignmentFlag.AlignTop)
        top.addLayout(said, 1)
        keys = FlowLayout(6)
        for key, says, means, signal, arguments in (
            ("Space", "pause", "Pause, go on", self.play_wanted, ()),
            ("B", "back", "Back a sentence", self.back_wanted, (False,)),
            ("⇧B", "further", "Back a paragraph", self.back_wanted, (True,)),
            ("M", "mark", "Mark what was said, without stopping", self.flag_wanted, ()),
            ("⏎", "mend", "Stop, with the cursor on the word", self.mend_wanted, ()),
            ("−", "slower", "Slower", self.pace_wanted, (-1,)),
            ("+", "faster", "Faster", self.pace_wanted, (1,)),
        ):
            button = KeyButton(key, says)
            button.setToolTip(means)
            button.setAccessibleName(f"{means}, key {key}")
            button.clicked.connect(lambda _=False, s=signal, a=arguments: s.emit(*a))
            keys.addWidget(button)
        self._follow, self._ruler = Tick("Follow on the page"), Tick("Reading ruler")
        for tick in (self._follow, self._ruler):
            tick.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keys with the page
        self._follow.clicked.connect(self.follow_wanted)
        self._ruler.clicked.connect(self.ruler_wanted)
        ticks = FlowLayout(2 * GRID)
        ticks.addWidget(self._follow)
        ticks.addWidget(self._ruler)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Caption("Listening"))
        column.addLayout(top)
        column.addLayout(keys)
        column.addLayout(ticks)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_state(self, state: State, *, waiting: bool) -> None:
        """What the voice is doing, and whether it is being made ready."""
        self._playing, self._waiting = state is State.PLAYING, waiting
        self._button.show_state(playing=self._playing, waiting=waiting)

    def show_choices(self, voice: str, pace: float, *, follow: bool, ruler: bool) -> None:
        """The voice's name, the pace and what is ticked."""
        self._told.setText(f"{voice}, {pace:.1f}×" if voice else f"{pace:.1f}×")
        self._follow.setChecked(follow)
        self._ruler.setChecked(ruler)

    def show_left(self, said: str) -> None:
        """What is said under the voice's name."""
        self._left.setText(said)
