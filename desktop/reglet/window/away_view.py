"""The book as sound files, in the place of the page: which chapters, in what form, and how far."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.voice.sound_files import SoundFormat
from reglet.window.controls import Act, Chip, Tick
from reglet.window.flow import FlowLayout, empty
from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Caption, Label, Lines
from reglet.window.meter import Meter
from reglet.window.theme import GRID, Theme

_TOLD = (
    "To listen away from the desk: one file a chapter, with a list of what is heard when. Where "
    "something jars, note the chapter and the time your player shows; under Heard in Proof, “ch. "
    "7, 12:40” leads back to the words."
)
_FORMATS = {
    SoundFormat.OPUS: "Opus: small and clear; newer phones and computers play it",
    SoundFormat.MP3: "MP3: plays on anything",
    SoundFormat.WAV: "WAV: large; for working on the sound",
}


@dataclass(frozen=True, slots=True)
class ChapterChoice:
    """A chapter to be chosen: its title, and whether all of it was heard as often as is aimed."""

    title: str
    heard: bool


class AwayView(LaidSheet):
    """Shows what can be written and how far it has come, and tells what is asked."""

    wanted = Signal()
    """What is chosen is to be written."""
    stop_wanted = Signal()
    changed = Signal()
    """Something else is chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("The book as sound files", parent=parent)
        self._theme: Theme | None = None
        self._choices: Sequence[ChapterChoice] = ()
        self._ticks: list[Tick] = []
        self._format = SoundFormat.OPUS
        self._chapters = QVBoxLayout()
        self._chapters.setSpacing(GRID // 2)
        self._sum = Lines()
        self._write, self._stop = Act("Write them …", chief=True), Act("Stop")
        self._meter = Meter("Written so far")
        self._told = Lines()
        self._told.setAccessibleName("Sound files")
        self._paced = Tick("")
        self._replace = Tick("Replace files of the same name")
        self._kinds = {kind: Chip(kind.value.upper()) for kind in SoundFormat}
        self._kinds[SoundFormat.OPUS].setText("Opus")
        self._kind_told = Label(_FORMATS[self._format], quiet=True, scale=0.93)
        self._all, self._none, self._unheard = Act("All"), Act("None"), Act("Not yet heard enough")
        self._lay_out()
        for kind, chip in self._kinds.items():
            chip.setChecked(kind is self._format)
            chip.clicked.connect(lambda _=False, kind=kind: self._choose_format(kind))
        self._all.clicked.connect(lambda: self._tick_those(lambda _: True))
        self._none.clicked.connect(lambda: self._tick_those(lambda _: False))
        self._unheard.clicked.connect(lambda: self._tick_those(lambda each: not each.heard))
        self._write.clicked.connect(self.wanted)
        self._stop.clicked.connect(self.stop_wanted)
        self._paced.clicked.connect(self.changed)
        self.show_rest()

    def _lay_out(self) -> None:
        picks = FlowLayout(2 * GRID)
        for act in (self._all, self._none, self._unheard):
            picks.addWidget(act)
        kinds = QHBoxLayout()
        kinds.setSpacing(GRID)
        for chip in self._kinds.values():
            kinds.addWidget(chip)
        kinds.addSpacing(GRID)
        kinds.addWidget(self._kind_told, 1)
        acts = QHBoxLayout()
        acts.setSpacing(2 * GRID + 4)
        acts.addWidget(self._write)
        acts.addWidget(self._stop)
        acts.addStretch(1)
        column = self.column
        column.addWidget(Lines(_TOLD, quiet=True))
        column.addSpacing(GRID)
        column.addWidget(Caption("Kind of file"))
        column.addLayout(kinds)
        column.addWidget(self._paced)
        column.addWidget(self._replace)
        column.addSpacing(GRID)
        column.addWidget(self._sum)
        column.addLayout(acts)
        column.addWidget(self._meter)
        column.addWidget(self._told)
        column.addSpacing(2 * GRID)
        column.addWidget(Caption("Chapters"))
        column.addLayout(picks)
        column.addLayout(self._chapters)
        column.addStretch(1)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        super().dress(theme)

    # What is chosen

    @property
    def chapters(self) -> tuple[int, ...]:
        """The numbers of the chapters that are ticked, from 1."""
        return tuple(n for n, tick in enumerate(self._ticks, start=1) if tick.isChecked())

    @property
    def format(self) -> SoundFormat:
        """The kind of file."""
        return self._format

    @property
    def at_own_pace(self) -> bool:
        """Whether the pace of Listening is to be kept."""
        return self._paced.isChecked()

    @property
    def may_replace(self) -> bool:
        """Whether files of the same name may be replaced."""
        return self._replace.isChecked()

    # What is shown

    def show_chapters(self, choices: Sequence[ChapterChoice], pace: float) -> None:
        """The chapters of the book; what was ticked before stays so where they are the same."""
        same = [each.title for each in choices] == [each.title for each in self._choices]
        ticked = [tick.isChecked() for tick in self._ticks] if same else [True] * len(choices)
        self._choices = choices
        empty(self._chapters)
        self._ticks = []
        for choice, on in zip(choices, ticked, strict=True):
            tick = Tick(choice.title)
            tick.setChecked(on)
            tick.clicked.connect(self.changed)
            if self._theme is not None:
                tick.dress(self._theme)
            self._ticks.append(tick)
            self._chapters.addWidget(tick)
        self._paced.setText(f"At the pace of Listening, {pace:.1f}×")
        self._paced.updateGeometry()
        self._paced.setVisible(pace != 1.0)
        self.changed.emit()

    def show_sum(self, said: str) -> None:
        """What the chosen chapters come to; nothing is to be written where it is empty."""
        self._sum.setText(said or "No chapter is chosen.")
        self._write.setEnabled(bool(said) and self._stop.isHidden())

    def show_progress(self, part: float, said: str) -> None:
        """How far the writing has come."""
        self._write.setEnabled(False)
        self._stop.show()
        self._meter.show()
        self._meter.set_part(part)
        self._told.setText(said)

    def show_rest(self, said: str = "") -> None:
        """Nothing is being written; `said` tells what became of it."""
        self._stop.hide()
        self._meter.hide()
        self._told.setText(said)
        self._write.setEnabled(bool(self.chapters))

    def _choose_format(self, kind: SoundFormat) -> None:
        self._format = kind
        for each, chip in self._kinds.items():
            chip.setChecked(each is kind)
        self._kind_told.setText(_FORMATS[kind])
        self.changed.emit()

    def _tick_those(self, wanted: Callable[[ChapterChoice], bool]) -> None:
        for tick, choice in zip(self._ticks, self._choices, strict=True):
            tick.setChecked(wanted(choice))
        self.changed.emit()
