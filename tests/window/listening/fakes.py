"""A loudspeaker whose time runs by the clock and makes no sound, and a voice that is always ready.

Each word of the voice lasts a tenth of a second at its own pace.
"""

from __future__ import annotations

import math
import time

from reglet.voice.device import NoSoundDevice
from reglet.voice.said import units
from reglet.voice.sound import Spoken, SpokenWord

RATE = 16_000
WORD_S = 0.1


class QuickVoice:
    """A speaker; `fails` makes it raise that."""

    mark = "quick"
    rate = RATE

    def __init__(self, word_s: float = WORD_S) -> None:
        self.word_s = word_s
        self.spoken: list[str] = []
        self.fails: Exception | None = None

    def speak(self, text, pace=1.0, said_as=None):
        if self.fails:
            raise self.fails
        self.spoken.append(text)
        length = round(self.word_s * RATE / pace)
        found = units(text, said_as)
        words = tuple(
            SpokenWord(unit.start, unit.end, at * length, (at + 1) * length)
            for at, unit in enumerate(found)
        )
        return Spoken(b"\1\0" * (length * len(found)), RATE, words)


class VoicesInTest:
    """Voices at hand: the same one for whatever is asked; `fails` is raised instead."""

    def __init__(self, voice: QuickVoice | None = None) -> None:
        self.voice = voice or QuickVoice()
        self.asked: list[str] = []
        self.fails: Exception | None = None

    def speaker(self, voice):
        if self.fails:
            raise self.fails
        self.asked.append(voice.id)
        return self.voice

    def close(self) -> None:
        pass


class SilentSpeaker:
    """A device that plays into nothing at the pace of the clock; `gone` is being pulled out.

    From one look at it to the next it plays no more than `step_s`: where the machine is busy for
    longer, its time stands still with the test's.
    """

    def __init__(self, buffer_s: float = 0.5, step_s: float = math.inf) -> None:
        self._buffer_s, self._step_s = buffer_s, step_s
        self._rate = 1
        self._written = 0
        self._played = 0.0
        self._since: float | None = None
        self.ran_dry = 0
        self.gone = False

    def start(self, rate: int) -> None:
        self._check()
        self._rate, self._written, self._played = rate, 0, 0.0
        self._since = time.monotonic()

    def room(self) -> int:
        return round(self._buffer_s * self._rate) - (self._written - self.heard())

    def write(self, samples: bytes) -> None:
        self._check()
        assert len(samples) // 2 <= self.room() + 1
        self.heard()
        self._written += len(samples) // 2

    def heard(self) -> int:
        self._check()
        if self._since is not None:
            now = time.monotonic()
            played = self._played + min(now - self._since, self._step_s) * self._rate
            self._since = now
            if 0 < self._written < played:
                self.ran_dry += 1
            self._played = min(float(self._written), played)
        return int(self._played)

    def pause(self) -> None:
        self.heard()
        self._since = None

    def resume(self) -> None:
        self._check()
        self._since = time.monotonic()

    def stop(self) -> None:
        self._since = None

    def _check(self) -> None:
        if self.gone:
            raise NoSoundDevice("The loudspeaker was pulled out. Nothing is lost.")
