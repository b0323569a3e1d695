"""Speaking with a Piper voice: neural, offline, and exact about the time of each word."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

from reglet.voice.model import Model
from reglet.voice.phonemes import Stretch, replaced, stretches
from reglet.voice.said import Unit, units
from reglet.voice.sound import BYTES_A_SAMPLE, Spoken, SpokenWord, joined
from reglet.voice.voices import Voice, VoiceMissing

_BEGIN, _END, _PAD = "^", "$", "_"
_FRAME = 256
"""Samples a frame, where a voice's description does not say."""
_AT_ONCE = 30
"""Words said in one go at most, so that memory stays bounded; beyond, a comma parts them."""
_RUN_TOGETHER = 0.08
"""Seconds between two words below which no silence is heard: the model's space is then halved."""
_WITHIN = 0.12
"""Seconds of silence after a sentence within a sentence: “Well?” said he."""

_PACES = (
    (0.6, 1.85),
    (0.7, 1.55),
    (0.8, 1.33),
    (0.9, 1.15),
    (1.0, 1.0),
    (1.2, 0.77),
    (1.4, 0.62),
    (1.6, 0.49),
    (1.8, 0.385),
    (2.0, 0.305),
)
"""A pace, and how the model must stretch for it: it rounds each phoneme up to a whole frame, so
half the stretch is not twice the pace. Measured with tests/benchmarks/listening.py.
"""

_one_at_a_time = threading.Lock()
"""The voices' dictionary is one for the whole process, and set to one language at a time."""


class PiperSpeaker:
    """A loaded Piper voice. Raises VoiceMissing where it cannot be loaded."""

    def __init__(self, voice: Voice, threads: int = 1) -> None:
        if voice.model is None:
            raise VoiceMissing(f"The voice “{voice.name}” has no file. Choose another.")
        try:
            import onnxruntime  # noqa: F401 (only whether it is there)
            from piper.config import PiperConfig
        except ImportError as error:
            raise VoiceMissing(
                "The package piper-tts, which Piper voices speak through, is not installed. "
                "Nothing in the book has changed; choose another voice or install it."
            ) from error
        try:
            model = voice.model.read_bytes()
            facts = json.loads(
                voice.model.with_name(f"{voice.model.name}.json").read_text(encoding="utf-8")
            )
            self._config: Any = PiperConfig.from_dict(facts)
            self._model = Model(model, threads)
        except Exception as error:  # the library raises classes of its own for a bad file
            raise VoiceMissing(
                f"The voice in {voice.model} cannot be used ({type(error).__name__}). Nothing in "
                "the book has changed; choose another voice."
            ) from error
        self._mark = f"piper {hashlib.blake2b(model, digest_size=8).hexdigest()}"
        self._frame = int(getattr(self._config, "hop_length", None) or _FRAME)

    @property
    def mark(self) -> str:
        """See `Speaker`."""
        return self._mark

    @property
    def rate(self) -> int:
        """See `Speaker`."""
        return int(self._config.sample_rate)

    def speak(
        self, text: str, pace: float = 1.0, said_as: Mapping[str, str] | None = None
    ) -> Spoken:
        """See `Speaker`."""
        parts: list[Spoken] = []
        utterances = _utterances(units(text, said_as))
        for number, utterance in enumerate(utterances):
            part = self._say(_phonemes(utterance, self._config.espeak_voice), pace)
            if number < len(utterances) - 1:
                part = part.with_pause(_WITHIN / pace)
            parts.append(part)
        return joined(parts, self.rate)

    def _say(self, utterance: _Utterance, pace: float) -> Spoken:
        import numpy as np

        if not utterance.phonemes:
            return Spoken(b"", self.rate)
        ids, places = self._ids(utterance.phonemes)
        scales = (
            float(self._config.noise_scale),
            float(self._config.length_scale) * _stretch(pace),
            float(self._config.noise_w_scale),
        )
        try:
            made = self._model.run(ids, scales, 0 if self._config.num_speakers > 1 else None)
        except Exception as error:  # the library's own classes again
            raise VoiceMissing(
                f"The voice stopped in the middle of a sentence ({type(error).__name__}). Nothing "
                "in the book has changed; choose another voice, or start again."
            ) from error
        samples = (np.clip(made.sound, -1.0, 1.0) * 32767.0).astype("<i2").tobytes()
        length = len(samples) // BYTES_A_SAMPLE
        exact = made.frames is not None
        # Every phoneme is taken to be as long as the next where the model does not say.
        even = np.full(len(ids), length / len(ids) / self._frame)
        frames = even if made.frames is None else made.frames
        ends = np.concatenate([[0], np.cumsum(frames) * self._frame])

        def at(phoneme: int) -> int:
            return min(length, int(ends[places[phoneme]]))

        words: list[SpokenWord] = []
        for unit, where in zip(utterance.units, utterance.where, strict=True):
            begins = at(where.start)
            gap = begins - words[-1].ends if words else 0
            if 0 < gap < _RUN_TOGETHER * self.rate:
                begins -= gap // 2
                words[-1] = replace(words[-1], ends=begins)
            words.append(SpokenWord(unit.start, unit.end, begins, at(where.end)))
        return Spoken(samples, self.rate, tuple(words), exact)

    def _ids(self, phonemes: Sequence[str]) -> tuple[list[int], list[int]]:
        """What the model is fed, and at which of them each phoneme starts (one more at the end)."""
        known: dict[str, Sequence[int]] = self._config.phoneme_id_map
        pad = list(known.get(_PAD, ()))
        ids = [*known.get(_BEGIN, ()), *pad]
        places: list[int] = []
        for phoneme in phonemes:
            places.append(len(ids))
            if phoneme in known:
                ids += [*known[phoneme], *pad]
        places.append(len(ids))
        return [*ids, *known.get(_END, ())], places


def _stretch(pace: float) -> float:
    """What the model is told for a pace: the measured one, or between two of them."""
    pace = min(max(pace, _PACES[0][0]), _PACES[-1][0])
    for (slower, longer), (faster, shorter) in pairwise(_PACES):
        if pace <= faster:
            return longer + (shorter - longer) * (pace - slower) / (faster - slower)
    return _PACES[-1][1]


@dataclass(frozen=True, slots=True)
class _Utterance:
    """What is said in one go: its phonemes, and where among them each of the units lies."""

    units: tuple[Unit, ...]
    phonemes: list[str]
    where: list[Stretch]


def _utterances(words: Sequence[Unit]) -> list[tuple[Unit, ...]]:
    found: list[tuple[Unit, ...]] = []
    waiting: list[Unit] = []
    for word in words:
        waiting.append(word)
        long = len(waiting) >= _AT_ONCE and word.mark
        if word.mark in (".", "?", "!") or long or len(waiting) >= 2 * _AT_ONCE:
            found.append(tuple(waiting))
            waiting = []
    if waiting:
        found.append(tuple(waiting))
    return found


def _phonemes(words: tuple[Unit, ...], language: str) -> _Utterance:
    text = " ".join(word.said + word.mark for word in words)
    with _one_at_a_time:
        phonemes = _in_context(text, language)
        alone = ["" if not word.said else _alone(word.said, language) for word in words]
    where = stretches(phonemes, alone)
    if any(word.sounds for word in words):
        phonemes, where = replaced(phonemes, where, [word.sounds for word in words])
    return _Utterance(words, phonemes, where)


def _in_context(text: str, language: str) -> list[str]:
    found: list[str] = []
    for clause in _dictionary().phonemize(language, text):
        if found:
            found.append(" ")
        found += clause
    return found


@lru_cache(maxsize=20_000)
def _alone(word: str, language: str) -> str:
    return " ".join("".join(each) for each in _dictionary().phonemize(language, word))


@lru_cache(maxsize=1)
def _dictionary() -> Any:
    from piper.phonemize_espeak import EspeakPhonemizer

    return EspeakPhonemizer()
