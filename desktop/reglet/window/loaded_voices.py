"""The voices that are loaded: one is kept at hand, and one more to compare it with."""

from __future__ import annotations

import threading

from reglet.voice.kept_sound import KeepingSpeaker, KeptSound, usual_folder
from reglet.voice.speaking import Speaker
from reglet.voice.voices import Voice
from reglet.window.far_speaker import FarSpeaker

_AT_HAND = 2


class LoadedVoices:
    """Loads voices, each in a process of its own. May be used from any thread."""

    def __init__(self) -> None:
        self._turn = threading.Lock()
        self._kept = KeptSound(usual_folder())
        self._loaded: dict[Voice, FarSpeaker] = {}

    def speaker(self, voice: Voice) -> Speaker:
        """A speaker with this voice; loading it takes a second or so. Raises VoiceMissing."""
        with self._turn:
            far = self._loaded.pop(voice, None)
            if far is None or not far.alive:
                far = FarSpeaker(voice)
            self._loaded[voice] = far
            while len(self._loaded) > _AT_HAND:
                self._loaded.pop(next(iter(self._loaded))).close()
        far.load()
        return KeepingSpeaker(far, self._kept)

    def close(self) -> None:
        """End them all, those that are still loading too."""
        with self._turn:
            for far in self._loaded.values():
                far.close()
            self._loaded.clear()
