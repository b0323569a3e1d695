"""How sure to be of a gap where much else stirs around it.

A word left out stands alone. Where the reader stirs at one place after another, somebody speaks a
dialect or the language of a foreigner, or it is a telegram, and each single gap means less.
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
_WITHIN, _AROUND = 1.0, 0.5
"""What a stir of one in the paragraph, and in its surroundings, takes from the logarithm of the
odds. On clean novels three times as much would be best; but in a draft that is full of slips other
outs stir too, and it would hide them.
"""
_MOST = 2.0

Gap = tuple[int, float]
"""The number of a word in its paragraph, and the score that one is missing before or after it."""


def settled(gaps: Sequence[Sequence[Gap]], paragraph: int, word: int, score: float) -> float:
    """The score of a gap at a word of a paragraph, lowered for the others around it.

    `gaps` are all of a scene from LEAST up, paragraph by paragraph.
    """
    within = sum(s for at, s in gaps[paragraph] if abs(at - word) > _BESIDE)
    around = sum(
        s
        for number in range(max(0, paragraph - _PARAGRAPHS), paragraph + _PARAGRAPHS + 1)
        if number != paragraph and number < len(gaps)
        for _, s in gaps[number]
    )
    if not within and not around:
        return score
    lowered = _WITHIN * min(_MOST, within) + _AROUND * min(_MOST, around)
    odds = score / max(1e-9, 1 - score) * math.exp(-lowered)
    return odds / (1 + odds)
