"""Voices and the device they are heard through, made ready off the interface thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from reglet.errors import RegletError
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.voice.ahead import AHEAD
from reglet.voice.device import SoundDevice
from reglet.voice.flags import Spot
from reglet.voice.listening import Listening
from reglet.voice.moment import Moment, State
from reglet.voice.reading_order import Place
from reglet.voice.speaking import Speaker
from reglet.voice.voices import Voice, VoiceKind
from reglet.window.background import Background
from reglet.window.loaded_voices import LoadedVoices
from reglet.window.loudspeaker import Sound
from reglet.window.system_listening import SystemListening
from reglet.window.system_voices import SystemVoices


class Reader(Protocol):
    """What reads a book aloud: `Listening`, or `SystemListening`. See the former."""

    underruns: int

    @property
    def state(self) -> State: ...
    @property
    def place(self) -> Place | None: ...
    def play(self, book: Book, place: Place) -> None: ...
    def pause(self) -> Place | None: ...
    def resume(self) -> None: ...
    def back_a_sentence(self) -> None: ...
    def back_a_paragraph(self) -> None: ...
    def set_pace(self, pace: float) -> None: ...
    def book_changed(
        self, book: Book, scene_id: str = "", change: Change | None = None
    ) -> None: ...
    def stop(self) -> None: ...
    def close(self) -> None: ...
    def flag(self) -> Spot | None: ...
    def tick(self) -> Moment: ...


class VoicesAtHand(Protocol):
    """What loads voices: `LoadedVoices`, or a test's."""

    def speaker(self, voice: Voice) -> Speaker:
        """A speaker with this voice; waits until it is loaded. Raises VoiceMissing."""
        ...

    def close(self) -> None:
        """Let them all go."""
        ...


Loaded = tuple[Voice, Speaker | None]
"""A voice, and what speaks with it; None for one of the system's."""


class VoiceLoading:
    """Loads voices in the background. `chosen` names the voice to read with; it may take a while,
    and raises VoiceMissing where there is none.
    """

    def __init__(self, background: Background, chosen: Callable[[], Voice]) -> None:
        self._background, self._chosen = background, chosen
        self.at_hand: VoicesAtHand = LoadedVoices()
        self.system = SystemVoices()
        self._sound = Sound()
        self.new_device: Callable[[], SoundDevice] = self._sound.new_device

    def load(
        self,
        kind: str,
        voice: Voice | None,
        then: Callable[[Loaded], object],
        failed: Callable[[str], object],
    ) -> None:
        """Load a voice, the chosen one for None, and hand it to `then`, or to `failed` a sentence
        on why it cannot speak. Of several of one `kind` only the last is told of.
        """

        def work() -> Loaded | RegletError:
            try:
                found = voice or self._chosen()
                if found.kind is VoiceKind.SYSTEM:
                    return found, None
                if self.new_device == self._sound.new_device:
                    self._sound.prepare()
                return found, self.at_hand.speaker(found)
            except RegletError as error:
                return error

        def done(found: Loaded | RegletError) -> None:
            if isinstance(found, RegletError):
                failed(str(found))
            else:
                then(found)

        self._background.do(kind, work, done)

    def reader(self, loaded: Loaded, before: Reader | None, ahead: float = AHEAD) -> Reader:
        """What reads with a voice: the reader `before`, if it can take it on, else a new one."""
        voice, speaker = loaded
        if speaker is None:
            if isinstance(before, SystemListening):
                before.set_voice(voice.id)
                return before
            return SystemListening(self.system, voice.id)
        if isinstance(before, Listening):
            before.set_speaker(speaker)
            return before
        return Listening(speaker, self.new_device(), ahead)

    def let_go(self, reader: Reader) -> None:
        """End a reader, whose thread may be at a sentence still."""
        reader.stop()
        self._background.do(f"end {id(reader)}", reader.close, lambda _: None)

    def close(self) -> None:
        """End voices and sound."""
        self.at_hand.close()
        self.system.close()
        self._sound.close()
