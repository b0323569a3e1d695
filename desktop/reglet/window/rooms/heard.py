"""Heard, on the Slip: how often each scene has been listened to since it last changed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.numbers import counted
from reglet.voice.coverage import AIMS, ChapterHeard
from reglet.window.controls import Act, Chip, Entry
from reglet.window.flow import FlowLayout
from reglet.window.heard_chart import HeardChart
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.theme import GRID, Theme

_ROWS = 5
"""Chapters shown of a long book: those about the one that lies open."""
_SPOT = "A spot you noted while listening away from the desk, or several with “;” between:"


class HeardRoom(QWidget):
    """Shows what was heard, and asks for what belongs to it."""

    scene_wanted = Signal(str)
    aim_wanted = Signal(int)
    chart_wanted = Signal()
    """The whole book's, on the paper."""
    voices_wanted = Signal()
    names_wanted = Signal()
    files_wanted = Signal()
    spot_wanted = Signal(str)
    """The place of a spot in the sound files, as the writer noted it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chart = HeardChart()
        self._told = Lines(quiet=True, scale=0.93)
        self._spot = Entry("A spot noted away from the desk", "ch. 7, 12:40, then Enter")
        self._answer = Lines(quiet=True, scale=0.93)
        self._answer.hide()
        self._chips = {aim: Chip(str(aim)) for aim in AIMS}
        aims = QHBoxLayout()
        aims.setSpacing(GRID // 2)
        aims.addWidget(Lines("Hearings", quiet=True, scale=0.93), 1)
        for aim, chip in self._chips.items():
            chip.setAccessibleName(f"Hear the book {counted(aim, 'time')}")
            chip.setToolTip(chip.accessibleName())
            chip.clicked.connect(lambda _=False, aim=aim: self.aim_wanted.emit(aim))
            aims.addWidget(chip)
        acts = FlowLayout(GRID + 4)
        for says, signal in (
            ("Scene by scene", self.chart_wanted),
            ("Voices", self.voices_wanted),
            ("Names said", self.names_wanted),
            ("Sound files", self.files_wanted),
        ):
            act = Act(says)
            act.clicked.connect(signal)
            acts.addWidget(act)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Caption("Heard"))
        column.addWidget(self.chart)
        column.addWidget(self._told)
        column.addLayout(aims)
        column.addLayout(acts)
        column.addSpacing(GRID)
        column.addWidget(Lines(_SPOT, quiet=True, scale=0.93))
        column.addWidget(self._spot)
        column.addWidget(self._answer)
        self.chart.scene_wanted.connect(self.scene_wanted)
        self._spot.returnPressed.connect(lambda: self.spot_wanted.emit(self._spot.text()))

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_heard(
        self, chapters: Sequence[ChapterHeard], aim: int, open_scene: str, said: str
    ) -> None:
        """Draw what was heard, `aim` hearings high; `said` stands under the drawing."""
        self.chart.show_heard(_about(chapters, open_scene), aim, open_scene)
        self._told.setText(said)
        for each, chip in self._chips.items():
            chip.setChecked(each == aim)

    def begin_spot(self) -> None:
        """Ready to write the place of a spot."""
        self._spot.setFocus()
        self._spot.selectAll()

    def answer_spot(self, said: str) -> None:
        """Say what came of the spot that was asked for."""
        self._answer.setText(said)
        self._answer.setVisible(bool(said))


def _about(chapters: Sequence[ChapterHeard], open_scene: str) -> Sequence[ChapterHeard]:
    """All chapters, or of many those about the one that lies open."""
    if len(chapters) <= _ROWS + 1:
        return chapters
    at = next(
        (
            number
            for number, chapter in enumerate(chapters)
            if any(scene.scene == open_scene for scene in chapter.scenes)
        ),
        0,
    )
    first = max(0, min(at - _ROWS // 2, len(chapters) - _ROWS))
    return chapters[first : first + _ROWS]
