"""Speaking with the program espeak-ng: the last resort, understood and not loved.

The program says nothing of when each word is heard, so a clause is spoken at a time and its length
shared out by the sounds of its words: an estimate, and marked as one.
"""

from __future__ import annotations

import io
import re
import subprocess
import wave
from collections.abc import Mapping, Sequence
from functools import lru_cache

from reglet.voice.said import Unit, units
from reglet.voice.sound import BYTES_A_SAMPLE, Spoken, SpokenWord, joined
from reglet.voice.voices import Voice, VoiceMissing

_WORDS_A_MINUTE = 165
_RATE = 22_050
_PATIENCE = 30
"""Seconds that the program may take for one clause."""
_QUIET = 200
"""Samples below this are taken for silence at a clause's ends."""


class EspeakSpeaker:
    """The program espeak-ng with one of its voices."""

    rate = _RATE

    def __init__(self, voice: Voice) -> None:
        self._language = voice.id.partition(":")[2] or "en-us"
        self.mark = voice.id

    def speak(
        self, text: str, pace: float = 1.0, said_as: Mapping[str, str] | None = None
    ) -> Spoken:
        """See `Speaker`. Sounds given in IPA are left aside: the program takes none."""
        clauses: list[list[Unit]] = [[]]
        for unit in units(text, said_as):
            clauses[-1].append(unit)
            if unit.mark:
                clauses.append([])
        parts = [self._clause(clause, pace) for clause in clauses if clause]
        return joined(parts, self.rate)

    def _clause(self, words: Sequence[Unit], pace: float) -> Spoken:
        text = " ".join(unit.said + unit.mark for unit in words)
        speed = ("-s", str(round(_WORDS_A_MINUTE * pace)))
        with wave.open(io.BytesIO(_run(text, self._language, *speed, "--stdout"))) as sound:
            rate = sound.getframerate()
            # The program writes a length it cannot know; what is really there is read.
            samples = sound.readframes(sound.getnframes())
        samples = samples[: len(samples) // BYTES_A_SAMPLE * BYTES_A_SAMPLE]
        if rate != self.rate:
            raise VoiceMissing(
                f"espeak-ng speaks at {rate} samples a second and not at {self.rate}. Nothing in "
                "the book has changed; choose another voice."
            )
        return Spoken(samples, rate, self._words(words, samples), exact=False)

    def _words(self, words: Sequence[Unit], samples: bytes) -> tuple[SpokenWord, ...]:
        import numpy as np

        loud = np.flatnonzero(np.abs(np.frombuffer(samples, "<i2").astype(np.int32)) > _QUIET)
        if not loud.size:
            return ()
        first, last = int(loud[0]), int(loud[-1])
        weights = [_sounds(unit.said, self._language) for unit in words]
        whole = sum(weights)
        found: list[SpokenWord] = []
        begun = 0
        for unit, weight in zip(words, weights, strict=True):
            begins = first + (last - first) * begun // whole
            begun += weight
            ends = first + (last - first) * begun // whole
            found.append(SpokenWord(unit.start, unit.end, begins, ends))
        return tuple(found)


@lru_cache(maxsize=20_000)
def _sounds(said: str, language: str) -> int:
    """How many sounds a word has, a long one counted twice; at least one."""
    told = _run(said, language, "-q", "--ipa").decode("utf-8", errors="replace")
    return max(1, len(re.findall(r"\w|ː", told)))


def _run(text: str, language: str, *options: str) -> bytes:
    try:
        done = subprocess.run(
            ["espeak-ng", "-v", language, *options, "--stdin"],
            input=text.encode("utf-8"),
            capture_output=True,
            timeout=_PATIENCE,
            check=True,
        )
    except (OSError, subprocess.SubprocessError) as error:
        raise VoiceMissing(
            f"The program espeak-ng could not speak ({type(error).__name__}). Nothing in the book "
            "has changed; choose another voice, or install the program anew."
        ) from error
    return done.stdout
