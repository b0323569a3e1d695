"""Listening: the voice that reads the book on the desk, and what the writer does with it.

What it says and hears is told by signals; `following` shows it on the page, and rooms on the Slip.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QObject, Qt, QTimer, Signal

from reglet.errors import RegletError
from reglet.manuscript.change import Change
from reglet.manuscript.words import word_pattern
from reglet.voice.coverage import with_hearing
from reglet.voice.flags import flagged
from reglet.voice.moment import END_OF_BOOK, Moment, State
from reglet.voice.reading_order import Place
from reglet.voice.speaking import FASTEST, SLOWEST
from reglet.voice.voices import Voice, voice_named, voices
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.listening_choices import STEP, ListeningChoices
from reglet.window.sample import Sample
from reglet.window.system_voices import as_voice, from_id, is_system_voice
from reglet.window.time_listened import TimeListened
from reglet.window.voice_loading import Loaded, Reader, VoiceLoading

_TICK_MS = 15
"""How often the device is looked after, and so how late a word can be marked."""


class ListeningWork(QObject):
    """Joins the voice to the desk. Every method returns at once; what cannot be done is `told`."""

    word_said = Signal(object)
    """A `Moment`: another word is heard now, or another sentence, or none."""
    state_changed = Signal(object)
    """Another `State`."""
    waiting_changed = Signal(bool)
    """Whether the voice is being made ready: loaded, or not quick enough."""
    heard_changed = Signal(str)
    """A paragraph of the scene of this id was heard to its end."""
    mending = Signal(object)
    """The voice has stopped at this `Place` so that the word there can be mended."""
    told = Signal(str)
    """A sentence for the writer: why reading stopped, what was marked, a word of rest."""
    voice_changed = Signal(object)
    """It is read with another `Voice`."""
    voices_found = Signal(object)
    """The voices that can be had here, a tuple of `Voice`: best first, the system's last."""
    chosen = Signal(object)
    """Other `ListeningChoices` hold."""

    def __init__(
        self,
        desk: Desk,
        background: Background,
        cursor: Callable[[], Place | None],
        parent: QObject | None = None,
    ) -> None:
        """`cursor` gives the place of the cursor on the page."""
        super().__init__(parent)
        self._desk, self._background, self._cursor = desk, background, cursor
        self.choices = ListeningChoices()
        self.loading = VoiceLoading(background, self._chosen_voice)
        self.sample = Sample(self.loading, self)
        """Says a passage by itself, while the book is silent."""
        self._reader: Reader | None = None
        self._left: Place | None = None
        self._voice: Voice | None = None
        self._loading = False
        self._mended = False
        self._state = State.STOPPED
        self._moment = self._word = Moment(State.STOPPED)
        self._waiting = False
        self.time_listened = TimeListened()
        self._ticker = QTimer(self, interval=_TICK_MS, timerType=Qt.TimerType.PreciseTimer)
        self._ticker.timeout.connect(self._tick)
        self.sample.begun.connect(self.pause)
        self.sample.told.connect(self.told)
        desk.text_changed.connect(self._text_changed)
        desk.arranged.connect(self._arranged)
        desk.replaced.connect(self._replaced)

    # What there is

    @property
    def state(self) -> State:
        """What the voice is doing."""
        return self._state

    @property
    def moment(self) -> Moment:
        """What was heard last."""
        return self._moment

    @property
    def place(self) -> Place | None:
        """The start of the sentence being read, or to be read next; None before the first."""
        reader = self._reader
        return reader.place or self._left if reader is not None else None

    @property
    def reader(self) -> Reader | None:
        """What reads, once a voice was loaded."""
        return self._reader

    @property
    def waiting(self) -> bool:
        """Whether the voice is being made ready."""
        return self._waiting

    def find_voices(self) -> None:
        """Look for the voices that can be had here; `voices_found` tells of them."""
        language, files = self._desk.book.style_sheet.language, self.choices.files
        self._background.do(
            "voices",
            lambda: (*voices(language, map(Path, files)), *self.loading.system.voices()),
            self.voices_found.emit,
        )

    @property
    def voice(self) -> Voice | None:
        """The voice that is read with, once one was loaded."""
        return self._voice

    # Reading

    def play_or_pause(self) -> None:
        """Fall silent, or go on; from the cursor, where nothing was read yet."""
        if self._state is State.PLAYING or self._loading:
            self.pause()
        else:
            self.play()

    def play(self) -> None:
        """Go on where the voice was paused, or broke off; else from the cursor."""
        reader, left = self._reader, self._left
        if reader is not None and self._state is State.PAUSED:
            self.sample.hush()
            if self._mended:
                self._mended = False
                reader.set_pace(self.choices.pace)  # has it begin where the sentence does
            self._try(reader.resume)
        elif left is not None and self._desk.book.has_scene(left.scene):
            self.play_from(left)
        elif self._state is State.STOPPED:
            self.play_from_cursor()

    def play_from_cursor(self) -> None:
        """Read from the sentence that the cursor stands in."""
        place = self._cursor()
        if place is not None:
            self.play_from(place)

    def play_from(self, place: Place) -> None:
        """Read from the sentence that holds `place`."""
        self.sample.hush()
        self._mended, self._left = False, None
        self._with_voice(lambda reader: reader.play(self._desk.book, place))

    def pause(self) -> None:
        """Fall silent, and keep the place."""
        self._loading = False
        if self._reader is not None:
            self._reader.pause()
        self._tell_state()

    def stop(self) -> None:
        """Fall silent and let the device go."""
        self._loading = False
        if self._reader is not None:
            self._reader.stop()
        self._tell_state()

    def back_a_sentence(self) -> None:
        """To the start of this sentence, or within its first second, of the one before."""
        if self._reader is not None:
            self._go_back(self._reader.back_a_sentence)

    def back_a_paragraph(self) -> None:
        """To the start of this paragraph, or of the one before."""
        if self._reader is not None:
            self._go_back(self._reader.back_a_paragraph)

    def _go_back(self, back: Callable[[], object]) -> None:
        self._try(back)
        place = self.place
        if self._state is State.PAUSED and place is not None:
            # Nothing is heard, so the first word that will be is shown.
            text = self._desk.book.scene(place.scene).passage.text
            word = word_pattern(text).search(text, place.position)
            start, end = word.span() if word else (place.position, place.position)
            self._say(Moment(State.PAUSED, place.scene, start, end, (place.position, end)))

    def mend(self) -> None:
        """Stop, with the cursor on the word heard last; see `pause_to_mend`."""
        if self._reader is None or self._state is State.STOPPED:
            return
        now, word = self._moment, self._word
        self.pause_to_mend()
        if now.start == now.end and (word.scene, word.sentence) == (now.scene, now.sentence):
            now = word
        if now.scene:
            self.mending.emit(Place(now.scene, now.start))

    def pause_to_mend(self) -> None:
        """Stop; `play` goes on from the start of the sentence, whatever becomes of it."""
        self._mended = True
        self.pause()

    def flag(self) -> None:
        """Mark what was said in the last three seconds, and read on."""
        spot = self._reader.flag() if self._reader is not None else None
        if spot is None or spot.start == spot.end:
            self.told.emit("Nothing has been read yet that could be marked.")
            return
        now = datetime.now().astimezone()
        if self._desk.amend(spot.scene, lambda book: flagged(book, spot, now)):
            words = self._desk.book.scene(spot.scene).passage.text[spot.start : spot.end]
            self.told.emit(f"Marked: “… {words.splitlines()[-1][-60:]}”")

    # What is chosen

    def choose(self, choices: ListeningChoices) -> None:
        """Listen so from now on."""
        before, self.choices = self.choices, choices
        if choices == before:
            return
        if self._reader is not None and choices.pace != before.pace:
            reader = self._reader
            self._try(lambda: reader.set_pace(choices.pace))
        self.chosen.emit(choices)
        if self._reader is not None and choices.voice != before.voice:
            self._with_voice(lambda _: None)

    def set_pace(self, pace: float) -> None:
        """Read at this pace, a part of the voice's own."""
        pace = round(min(max(pace, SLOWEST), FASTEST), 2)
        self.choose(replace(self.choices, pace=pace))

    def change_pace(self, by: int) -> None:
        """So many steps faster, or slower."""
        self.set_pace(self.choices.pace + by * STEP)

    def close(self) -> None:
        """Fall silent for good, and end the voices."""
        self.stop()
        self.sample.hush()
        self.loading.close()  # and with it the sentence in the making
        self.sample.close()
        if self._reader is not None:
            self._reader.close()
            self._reader = None

    # Voices

    def _chosen_voice(self) -> Voice:
        if is_system_voice(self.choices.voice):
            return as_voice(from_id(self.choices.voice))
        language = self._desk.book.style_sheet.language
        return voice_named(self.choices.voice, language, map(Path, self.choices.files))

    def _with_voice(self, act: Callable[[Reader], object]) -> None:
        """Do something with the voice that is chosen, once it is loaded."""

        def begin(loaded: Loaded) -> None:
            wanted, self._loading = self._loading, False
            self._try(lambda: self._take_on(loaded, act if wanted else None))

        def failed(why: str) -> None:
            self._loading = False
            self.told.emit(why)
            self._tell_state()

        self._loading = True
        self._set_waiting(True)
        self.loading.load("voice", None, begin, failed)

    def _take_on(self, loaded: Loaded, act: Callable[[Reader], object] | None) -> None:
        """Read with a voice from now on, where the one before was. Raises NoSoundDevice."""
        before, voice = self._reader, loaded[0]
        reader = self._reader = self.loading.reader(loaded, before)
        if reader is not before:
            reader.set_pace(self.choices.pace)
            if before is not None:
                self._left = before.place
                playing = before.state is State.PLAYING
                self.loading.let_go(before)
                if playing and act is None and self._left is not None:
                    reader.play(self._desk.book, self._left)
        if voice != self._voice:
            self._voice = voice
            self.voice_changed.emit(voice)
        if act is not None:
            act(reader)

    def _try(self, act: Callable[[], object]) -> None:
        """Do something that may fail with a sentence for the writer."""
        try:
            act()
        except RegletError as error:
            self.told.emit(str(error))
        self._tell_state()

    # What is heard

    def _tick(self) -> None:
        if self._reader is None or self._state is not State.PLAYING:
            self._ticker.stop()
            return
        self._hear(self._reader.tick())
        self._tell_state()
        said = self.time_listened.note(time.monotonic())
        if said:
            self.told.emit(said)

    def _hear(self, moment: Moment) -> None:
        for scene, paragraph in moment.heard:
            self._count(scene, paragraph)
        self._say(moment)
        self._set_waiting(moment.waiting)
        if moment.sentence_for_writer:
            if moment.sentence_for_writer != END_OF_BOOK and self._reader is not None:
                self._left = self._reader.place
            self.told.emit(moment.sentence_for_writer)

    def _say(self, moment: Moment) -> None:
        now, before = moment, self._moment
        if (now.scene, now.start, now.end, now.sentence) != (
            before.scene,
            before.start,
            before.end,
            before.sentence,
        ):
            self._moment = replace(moment, heard=(), sentence_for_writer="")
            if moment.end > moment.start:
                self._word = self._moment
            self.word_said.emit(self._moment)

    def _count(self, scene: str, paragraph: str) -> None:
        if self._desk.read_only or not self._desk.book.has_scene(scene):
            return
        if self._desk.remember(lambda book: with_hearing(book, scene, paragraph)):
            self.heard_changed.emit(scene)

    def _tell_state(self) -> None:
        state = self._reader.state if self._reader is not None else State.STOPPED
        if state is not State.PLAYING and not self._loading:
            self._set_waiting(False)
        if state is self._state:
            return
        if state is State.PLAYING:
            self.time_listened.begin(time.monotonic())
            self._ticker.start()
        else:
            self.time_listened.end(time.monotonic())
        self._state = state
        if state is State.STOPPED and self._reader is not None:
            self._hear(self._reader.tick())  # why it stopped, and that nothing is heard now
        self.state_changed.emit(state)

    def _set_waiting(self, waiting: bool) -> None:
        if waiting != self._waiting:
            self._waiting = waiting
            self.waiting_changed.emit(waiting)

    # What the desk tells

    def _text_changed(self, scene_id: str, change: Change) -> None:
        if self._reader is not None:
            reader = self._reader
            self._try(lambda: reader.book_changed(self._desk.book, scene_id, change))
            if self._state is State.PAUSED:
                self._say(Moment(State.PAUSED))  # the word that was marked may have changed

    def _arranged(self) -> None:
        if self._reader is not None:
            reader = self._reader
            self._try(lambda: reader.book_changed(self._desk.book))

    def _replaced(self) -> None:
        """Another book lies on the desk: what was read of the one before is left."""
        self.stop()
        self._mended, self._left = False, None
