"""Spoken text: samples, and when each of its words is heard."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

BYTES_A_SAMPLE = 2


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """Code points `start` up to `end` of the text, heard from sample `begins` up to `ends`."""

    start: int
    end: int
    begins: int
    ends: int


@dataclass(frozen=True, slots=True)
class Spoken:
    """A text as sound: 16-bit signed little-endian samples of one channel, `rate` to the second.

    `exact` says that the times of the words come from the voice itself and are no estimate.
    """

    samples: bytes
    rate: int
    words: tuple[SpokenWord, ...] = ()
    exact: bool = True

    def __len__(self) -> int:
        """How many samples there are."""
        return len(self.samples) // BYTES_A_SAMPLE

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return len(self) / self.rate

    def word_at(self, sample: int) -> SpokenWord | None:
        """The word that is being said at `sample`: from its first sound to that of the next.

        None before the first word and after the last.
        """
        found = None
        for word in self.words:
            if word.begins > sample:
                break
            found = word
        if found is None or (found is self.words[-1] and sample >= found.ends):
            return None
        return found

    def with_pause(self, seconds: float) -> Spoken:
        """This, and silence behind it."""
        return replace(self, samples=self.samples + silence(seconds, self.rate))


def silence(seconds: float, rate: int) -> bytes:
    """Samples of silence."""
    return bytes(round(seconds * rate) * BYTES_A_SAMPLE)


def joined(parts: Iterable[Spoken], rate: int) -> Spoken:
    """Parts of one text one after the other; their words already count from the text's start."""
    samples: list[bytes] = []
    words: list[SpokenWord] = []
    length = 0
    exact = True
    for part in parts:
        words += [replace(w, begins=w.begins + length, ends=w.ends + length) for w in part.words]
        samples.append(part.samples)
        length += len(part)
        exact = exact and part.exact
    return Spoken(b"".join(samples), rate, tuple(words), exact)
