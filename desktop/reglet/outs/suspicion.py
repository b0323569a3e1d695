"""What a reader says of a text, as values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What may be wrong at a place."""

    OUT = "out"
    WRONG_WORD = "wrong_word"


class Step(StrEnum):
    """How readily the reader speaks, from the most to the least readily."""

    WIDE = "wide"
    EVEN = "even"
    NARROW = "narrow"


@dataclass(frozen=True, slots=True)
class Suspicion:
    """One place to look at, in code points of its paragraph.

    An OUT lies where the missing word would begin or, before a mark, end: `start` and `end` are
    equal. A WRONG_WORD is the word from `start` to `end`. `score` runs from 0 to 1. `proposals` are
    words with their shares, best first; a proposal is in small letters, and there may be none.
    """

    kind: Kind
    start: int
    end: int
    score: float
    proposals: tuple[tuple[str, float], ...]
