"""How sure to be of a gap where much else stirs around it.

A word left out stands alone, and the reader is sure of it. Where it is half sure of one place after
another, somebody speaks a dialect or the language of a foreigner, or it is a telegram, and each
single gap means less.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

LEAST = 0.02
"""Scores of gaps below this are no stir."""
_BESIDE = 5
"""So many words to either side of a gap belong to it: its place is not always told exactly."""
_PARAGRAPHS = 4
"""So many paragraphs before and behind are its surroundings."""
_WEIGHT, _MOST = 0.8, 2.0
"""What each place of which the reader is half sure takes from the logarithm of the odds, and how
many count at most. Chosen on the held-out novels, clean and with one word in 400 left out.
"""

Gap = tuple[int, float]
"""The number of a word in its paragraph, and the score that one is missing before or after it."""


def settled(gaps: Sequence[Sequence[Gap]], paragraph: int, word: int, score: float) -> float:
    """The score of a gap at a word of a paragraph, lowered for the others around it.

    `gaps` are all of a scene from LEAST up, paragraph by paragraph.
    """
    first, last = max(0, paragraph - _PARAGRAPHS), min(len(gaps), paragraph + _PARAGRAPHS + 1)
    unrest = sum(
        _doubt(other)
        for number in range(first, last)
        for at, other in gaps[number]
        if number != paragraph or abs(at - word) > _BESIDE
    )
    if not unrest:
        return score
    odds = score / max(1e-9, 1 - score) * math.exp(-_WEIGHT * min(_MOST, unrest))
    return odds / (1 + odds)


def _doubt(score: float) -> float:
    """1 where the reader is half sure, 0 where it is sure of a gap or of none: another word left
    out takes nothing from this one.
    """
    return 4 * score * (1 - score)
