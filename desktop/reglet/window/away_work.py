"""Taking the book away as sound: chapters chosen, written by a process of its own, stopped."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from reglet.numbers import counted, hours
from reglet.voice.coverage import USUAL_SECONDS_A_WORD, of_scenes
from reglet.voice.cues import time_told
from reglet.voice.sound_files import SoundFormat, Wanted
from reglet.window.away_process import Done, Ended, Halt, Order, Written, work
from reglet.window.away_view import AwayView, ChapterChoice
from reglet.window.contents_model import shown_title
from reglet.window.desk import Desk
from reglet.window.listening_work import ListeningWork
from reglet.window.side_process import SideProcess
from reglet.window.system_voices import is_system_voice
from reglet.window.views import Views

_BYTES_A_SECOND = {SoundFormat.OPUS: 4_400, SoundFormat.MP3: 5_000, SoundFormat.WAV: 44_100}
"""Of a file, about: measured on a novel's chapter in the built-in voice."""
_FIRST_GUESS_S = 8.0
"""So long the work runs before it is said how long it will still take."""

Ask = Callable[[], Path | None]
"""Asks the writer for a folder; None for none."""


class AwayWork(QObject):
    """Joins the view of the sound files to the desk and to the process that writes them."""

    written = Signal(object)
    """Sound files lie in the folder of this `Path`."""

    def __init__(
        self,
        desk: Desk,
        listening: ListeningWork,
        views: Views,
        folder: Callable[[], Path],
        parent: QWidget,
        ask: Ask | None = None,
    ) -> None:
        """`folder` is where files of the book go, unless the writer says otherwise."""
        super().__init__(parent)
        self._desk, self._listening, self._views = desk, listening, views
        self._folder, self._window, self._ask = folder, parent, ask or self._ask_in_a_dialog
        self._process = SideProcess(work, self)
        self._process.answered.connect(self._answered)
        self._process.lost.connect(self._lost)
        self._begun = 0.0
        self._busy = False
        self._note = ""
        self.view = AwayView()
        views.add(self.view)
        self.view.wanted.connect(self.write)
        self.view.stop_wanted.connect(self.stop)
        self.view.changed.connect(self._show_sum)
        desk.arranged.connect(self._follow)
        desk.replaced.connect(self._replaced)

    def close(self) -> None:
        """End the process, whatever it is at; files that are whole stay."""
        self._process.close()

    def show_view(self) -> None:
        """The sound files; the page again, if they are shown already."""
        if self._views.lay(self.view):
            self._show_chapters()

    def write(self) -> None:
        """Write the chapters that are chosen into a folder that the writer names."""
        folder = self._ask()
        if folder is None or self._busy:
            return
        choices = self._listening.choices
        voice, self._note = choices.voice, ""
        if is_system_voice(voice):
            voice = ""
            self._note = " Read by Reglet’s own voice: the system’s write no files."
        wanted = Wanted(
            self.view.chapters,
            self.view.format,
            choices.pace if self.view.at_own_pace else 1.0,
            overwrite=self.view.may_replace,
        )
        files = tuple(map(Path, choices.files))
        self._busy, self._begun = True, time.monotonic()
        self.view.show_progress(0.0, "The voice is being made ready …")
        self._process.send(Order(self._desk.book, folder, wanted, voice, files))

    def stop(self) -> None:
        """Write no further."""
        if self._busy:
            self._process.send(Halt())

    def _answered(self, answer: object) -> None:
        match answer:
            case Done(part):
                self.view.show_progress(part, f"{part:.0%} written{self._still(part)}.")
            case Written(folder, files, seconds):
                said = f"{counted(files, 'file')}, {time_told(seconds)} of sound"
                self._end(f"Written: {said}, in {folder}, with cues.txt beside them.{self._note}")
                self.written.emit(folder)
            case Ended(why):
                self._end(why)

    def _still(self, part: float) -> str:
        """How long it will still take, once that can be told."""
        took = time.monotonic() - self._begun
        if took < _FIRST_GUESS_S or part <= 0:
            return ""
        return f", about {hours((took / part - took) / 60)} to go"

    def _lost(self) -> None:
        if self._busy:
            self._end(
                "The writing of the sound files broke off. The files that are there are whole, and "
                "the book is as it was; write the rest again."
            )

    def _end(self, said: str) -> None:
        self._busy = False
        self.view.show_rest(said)
        self._show_sum()

    def _follow(self) -> None:
        if self.view.isVisible():
            self._show_chapters()

    def _replaced(self) -> None:
        self.stop()
        self._show_chapters()

    def _show_chapters(self) -> None:
        choices = self._listening.choices
        self.view.show_chapters(
            [
                ChapterChoice(
                    shown_title(chapter.title) or f"Chapter {number}",
                    of_scenes(chapter.scenes).share(choices.aim) == 1.0,
                )
                for number, chapter in enumerate(self._desk.book.chapters, start=1)
            ],
            choices.pace,
        )

    def _show_sum(self) -> None:
        chapters = self._desk.book.chapters
        chosen = [chapters[n - 1] for n in self.view.chapters if n <= len(chapters)]
        if not chosen:
            self.view.show_sum("")
            return
        pace = self._listening.choices.pace if self.view.at_own_pace else 1.0
        words = sum(scene.passage.word_count for each in chosen for scene in each.scenes)
        seconds = words * USUAL_SECONDS_A_WORD / pace
        size = seconds * _BYTES_A_SECOND[self.view.format] / 1e6
        count = counted(len(chosen), "chapter")
        self.view.show_sum(f"{count}, about {hours(seconds / 60)} of sound, {size:,.0f} MB.")

    def _ask_in_a_dialog(self) -> Path | None:
        chosen = QFileDialog.getExistingDirectory(
            self._window, "Where the sound files are to go", str(self._folder())
        )
        return Path(chosen) if chosen else None
