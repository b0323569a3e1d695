"""A voice that speaks: one sentence in, its sound and the time of each word out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from reglet.voice.sound import Spoken
from reglet.voice.voices import Voice, VoiceKind, VoiceMissing

SLOWEST, FASTEST = 0.6, 2.0
"""The paces there are, as parts of the voice's own; the pitch stays the same at all of them."""


class Speaker(Protocol):
    """Something that speaks. May be called from one thread at a time."""

    @property
    def mark(self) -> str:
        """What tells this voice's sound from another's: part of the key it is kept under."""
        ...

    @property
    def rate(self) -> int:
        """Samples a second."""
        ...

    def speak(
        self, text: str, pace: float = 1.0, said_as: Mapping[str, str] | None = None
    ) -> Spoken:
        """`text`, one sentence of a paragraph, spoken; words are code points of `text`.

        `pace` is from `SLOWEST` to `FASTEST`; `said_as` is how the book's names are said. A text
        without words is no sound at all. Raises VoiceMissing.
        """
        ...


def speaker(voice: Voice, threads: int = 1) -> Speaker:
    """A speaker with this voice, on so many threads. Takes a second or so to load.

    Raises VoiceMissing, also for a voice of the system's, which only the window can use.
    """
    if voice.kind is VoiceKind.PIPER:
        from reglet.voice.piper import PiperSpeaker  # a second to load, and it may be missing

        return PiperSpeaker(voice, threads)
    if voice.kind is VoiceKind.ESPEAK:
        from reglet.voice.espeak import EspeakSpeaker

        return EspeakSpeaker(voice)
    raise VoiceMissing(
        f"“{voice.name}” is a voice of the system's: it reads in the window and cannot be written "
        "to a file. Choose another for this."
    )
