"""Choosing a voice: each says a sample of the writer's own text, and one reads the book."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from reglet.voice.reading_order import Place, passage_at
from reglet.voice.said_as import dictionary
from reglet.voice.voices import Voice, VoiceMissing, piper_voice
from reglet.window.desk import Desk
from reglet.window.listening_work import ListeningWork
from reglet.window.views import Views
from reglet.window.voices_view import VoicesView

_SAMPLE_WORDS = 30
_NOTHING_THERE = "There is nothing here to read yet, so the voices say this sentence."

Ask = Callable[[], Path | None]
"""Asks the writer for a voice file; None for none."""


class VoicesWork(QObject):
    """Joins the voices' view to the voice that reads."""

    def __init__(
        self,
        desk: Desk,
        work: ListeningWork,
        views: Views,
        cursor: Callable[[], Place | None],
        parent: QWidget,
        ask: Ask | None = None,
    ) -> None:
        """`cursor` gives the place of the cursor on the page."""
        super().__init__(parent)
        self._desk, self._work, self._views, self._cursor = desk, work, views, cursor
        self._window, self._ask = parent, ask or self._ask_in_a_dialog
        self._voices: tuple[Voice, ...] = ()
        self._sample = _NOTHING_THERE
        self.view = VoicesView()
        views.add(self.view)
        self.view.heard.connect(self._hear)
        self.view.hushed.connect(work.sample.hush)
        self.view.chosen.connect(self._choose)
        self.view.file_wanted.connect(self._add)
        self.view.dropped.connect(self._drop)
        work.sample.begun.connect(lambda: self.view.show_saying(True))
        work.sample.ended.connect(lambda: self.view.show_saying(False))
        work.told.connect(self._told)
        work.voices_found.connect(self._found)
        work.chosen.connect(lambda _: self._show())

    def show_view(self) -> None:
        """The voices; the page again, if they are shown already."""
        if self._views.lay(self.view):
            place = self._cursor()
            text = passage_at(self._desk.book, place, _SAMPLE_WORDS) if place is not None else ""
            self._sample = text or _NOTHING_THERE
            self.view.show_sample(self._sample)
            self.view.show_looking()
            self._work.find_voices()

    def _found(self, voices: tuple[Voice, ...]) -> None:
        self._voices = voices
        self._show()

    def _show(self) -> None:
        reading = self._work.choices.voice or (self._voices[0].id if self._voices else "")
        self.view.show_voices(self._voices, reading)

    def _hear(self, voice: Voice) -> None:
        said_as = dictionary(self._desk.book.style_sheet)
        self._work.sample.say(self._sample, voice, said_as, self._work.choices.pace)

    def _choose(self, voice: Voice) -> None:
        self._work.sample.hush()
        self._work.choose(replace(self._work.choices, voice=voice.id))
        self.view.say(f"“{voice.name}” reads the book from now on.")

    def _told(self, sentence: str) -> None:
        if self.view.isVisible():
            self.view.say(sentence)

    # The writer's own files

    def _add(self) -> None:
        path = self._ask()
        if path is None:
            return
        try:
            piper_voice(path)
        except VoiceMissing as error:
            self.view.say(str(error))
            return
        choices = self._work.choices
        if str(path) not in choices.files:
            self._work.choose(replace(choices, files=(*choices.files, str(path))))
        self._work.find_voices()

    def _drop(self, voice: Voice) -> None:
        choices = self._work.choices
        files = tuple(each for each in choices.files if each != str(voice.model))
        reads = "" if choices.voice == voice.id else choices.voice
        self._work.choose(replace(choices, files=files, voice=reads))
        self._work.find_voices()

    def _ask_in_a_dialog(self) -> Path | None:
        chosen, _ = QFileDialog.getOpenFileName(
            self._window, "A Piper voice", str(Path.home()), "Piper voices (*.onnx)"
        )
        return Path(chosen) if chosen else None
