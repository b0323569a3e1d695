"""A passage said by itself: to hear a voice, or how a name is said."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, QTimer, Signal

from reglet.errors import RegletError
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.moment import END_OF_BOOK, State
from reglet.voice.reading_order import Place
from reglet.voice.voices import Voice
from reglet.window.voice_loading import Loaded, Reader, VoiceLoading

_TICK_MS = 30
_SECONDS_AHEAD = 20.0
_SCENE = "sample"


class Sample(QObject):
    """Says passages, one at a time."""

    begun = Signal()
    ended = Signal()
    """It has been said, or was broken off."""
    told = Signal(str)
    """Why nothing is heard: a sentence for the writer."""

    def __init__(self, loading: VoiceLoading, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._loading = loading
        self._reader: Reader | None = None
        self._wanted = False
        self._ticker = QTimer(self, interval=_TICK_MS)
        self._ticker.timeout.connect(self._tick)

    @property
    def wanted(self) -> bool:
        """Whether something is being said, or about to be."""
        return self._wanted

    def say(
        self,
        text: str,
        voice: Voice | None = None,
        said_as: Mapping[str, str] | None = None,
        pace: float = 1.0,
    ) -> None:
        """Say `text`, in a voice (None: the one chosen) and with its names said as given, by word.

        Returns at once; what was being said is broken off.
        """
        self.hush()
        self._wanted = True
        self.begun.emit()
        sheet = StyleSheet(said_as=tuple((said_as or {}).items()))
        scene = Scene(_SCENE, "", Passage.plain(text))
        book = Book(parts=(Part("", "", (Chapter("", "", (scene,)),)),), style_sheet=sheet)

        def begin(loaded: Loaded) -> None:
            if not self._wanted:
                return
            before = self._reader
            self._reader = self._loading.reader(loaded, before, _SECONDS_AHEAD)
            if before is not None and before is not self._reader:
                self._loading.let_go(before)
            self._reader.set_pace(pace)
            try:
                self._reader.play(book, Place(_SCENE, 0))
            except RegletError as error:
                self._failed(str(error))
            else:
                self._ticker.start()

        self._loading.load("sample", voice, begin, self._failed)

    def hush(self) -> None:
        """Break off what is being said."""
        self._ticker.stop()
        if self._reader is not None:
            self._reader.stop()
        if self._wanted:
            self._wanted = False
            self.ended.emit()

    def close(self) -> None:
        """Fall silent for good; where a sentence is in the making, that is waited for."""
        self.hush()
        if self._reader is not None:
            self._reader.close()
            self._reader = None

    def _failed(self, why: str) -> None:
        self.told.emit(why)
        self.hush()

    def _tick(self) -> None:
        if self._reader is None:
            return
        moment = self._reader.tick()
        if moment.state is State.STOPPED:
            if moment.sentence_for_writer != END_OF_BOOK:
                self.told.emit(moment.sentence_for_writer)
            self.hush()
