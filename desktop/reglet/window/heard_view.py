"""Heard, scene by scene: the whole book's drawing, in the place of the page."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from reglet.voice.coverage import ChapterHeard
from reglet.window.heard_chart import HeardChart
from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Lines
from reglet.window.theme import GRID

_KEYS = "A click or Enter goes there."


class HeardView(LaidSheet):
    """Shows what it is given, and tells which scene is asked for."""

    scene_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Heard, scene by scene", 160 * GRID, parent)
        self.chart = HeardChart(by_length=True)
        self._told, self._pointed = Lines(), Lines(_KEYS, quiet=True, scale=0.93)
        self.column.addWidget(self._told)
        self.column.addWidget(self._pointed)
        self.column.addSpacing(GRID)
        self.column.addWidget(self.chart)
        self.column.addStretch(1)
        self.chart.scene_wanted.connect(self.scene_wanted)
        self.chart.pointed.connect(lambda said: self._pointed.setText(said or _KEYS))

    def show_heard(
        self, chapters: Sequence[ChapterHeard], aim: int, open_scene: str, said: str
    ) -> None:
        """Draw what was heard, `aim` hearings high; `said` stands above the drawing."""
        self.chart.show_heard(chapters, aim, open_scene)
        self._told.setText(said)
