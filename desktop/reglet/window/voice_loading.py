"""Voices and the device they are heard through, made ready off the interface thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from reglet.errors import RegletError
from reglet.voice.device import SoundDevice
from reglet.voice.speaking import Speaker
from reglet.voice.voices import Voice
from reglet.window.background import Background
from reglet.window.loaded_voices import LoadedVoices
from reglet.window.loudspeaker import Sound

Found = tuple[Voice, Speaker]


class VoicesAtHand(Protocol):
    """What loads voices: `LoadedVoices`, or a test's."""

    def speaker(self, voice: Voice) -> Speaker:
        """A speaker with this voice; waits until it is loaded. Raises VoiceMissing."""
        ...

    def close(self) -> None:
        """Let them all go."""
        ...


class VoiceLoading:
    """Loads voices in the background. `chosen` names the voice to read with; it may take a while,
    and raises VoiceMissing where there is none.
    """

    def __init__(self, background: Background, chosen: Callable[[], Voice]) -> None:
        self._background, self._chosen = background, chosen
        self.at_hand: VoicesAtHand = LoadedVoices()
        self._sound = Sound()
        self.new_device: Callable[[], SoundDevice] = self._sound.new_device

    def close(self) -> None:
        """End voices and sound."""
        self.at_hand.close()
        self._sound.close()

    def load(
        self,
        kind: str,
        voice: Voice | None,
        then: Callable[[Voice, Speaker], object],
        failed: Callable[[str], object],
    ) -> None:
        """Load a voice, the chosen one for None, and hand it to `then`, or to `failed` a sentence
        on why it cannot speak. Of several of one `kind` only the last is told of.
        """

        def work() -> Found | RegletError:
            try:
                found = voice or self._chosen()
                return found, self.at_hand.speaker(found)
            except RegletError as error:
                return error

        def done(found: Found | RegletError) -> None:
            if isinstance(found, RegletError):
                failed(str(found))
            else:
                then(*found)

        self._background.do(kind, work, done)
