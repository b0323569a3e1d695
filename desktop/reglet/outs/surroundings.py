"""How sure to be of a place by what stands around it.

A slip stands alone, and the reader is sure of it. Two things say otherwise:

- unrest: the reader is half sure of one gap after another, as in verse or a telegram;
- a manner of speech: words are missing, or wrong, in what is said and not in what is told, where a
  slip of the pen would fall as often. Somebody speaks a dialect, or in the way of a foreigner.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from reglet.language.speech import quotations_in

LEAST = 0.02
"""Scores below this say nothing of what stands around them."""

# All numbers here were chosen on the held-out novels, clean and with one word in 400 left out.
_BESIDE = 5
"""So many words to either side of a gap belong to it: its place is not always told exactly."""
_NEAR = 4
"""So many paragraphs before and behind may be in unrest together."""
_UNREST, _MOST_UNREST = 0.8, 2.0
"""What a place of which the reader is half sure takes from the logarithm of the odds, and how many
of them count at most.
"""
_FAR = 100
"""So many paragraphs before and behind show how people speak here."""
_MANNER, _ALIKE, _MOST_MANNER = 1.5, 0.3, 3.0
"""The logarithms of the rates of places in speech and in narration: what a difference of one takes
from the logarithm of the odds, how much of it takes nothing, and how much counts at most.
"""
_USUAL = 3_300
"""Code points for one place, as long as nothing else is known."""


class Place(NamedTuple):
    """The number of a word in its paragraph, where in it something may be wrong, in code points,
    and the score that it is.
    """

    word: int
    at: int
    score: float


class Surroundings:
    """What stands around the places of a passage that may be wrong in one way.

    It takes the paragraphs, and for each all such places from LEAST up. `unrest` says that places
    of which the reader is half sure lower those near by: so it is with gaps, but wrong words say
    nothing of one another.
    """

    def __init__(
        self, paragraphs: Sequence[str], places: Sequence[Sequence[Place]], *, unrest: bool
    ) -> None:
        self._places = places
        self._has_unrest = unrest
        self._speech = [
            [(q.start, q.end) for q in found if q.spoken and q.depth == 0]
            for found in quotations_in(paragraphs)
        ]
        said = [sum(end - start for start, end in speech) for speech in self._speech]
        told = [len(text) - spoken for text, spoken in zip(paragraphs, said, strict=True)]
        in_speech = [
            sum(place.score for place in found if self._is_spoken(number, place))
            for number, found in enumerate(places)
        ]
        in_narration = [
            sum(place.score for place in found) - spoken
            for found, spoken in zip(places, in_speech, strict=True)
        ]
        self._sums = [
            list(accumulate(column, initial=0.0))
            for column in (said, told, in_speech, in_narration)
        ]

    def settled(self, paragraph: int, place: Place) -> float:
        """The score of a place of a paragraph, lowered for what stands around it."""
        lowered = _UNREST * self._unrest(paragraph, place) if self._has_unrest else 0.0
        if self._is_spoken(paragraph, place):
            lowered += _MANNER * self._manner(paragraph, place)
        if not lowered:
            return place.score
        odds = place.score / max(1e-9, 1 - place.score) * math.exp(-lowered)
        return odds / (1 + odds)

    def _unrest(self, paragraph: int, place: Place) -> float:
        first, last = max(0, paragraph - _NEAR), paragraph + _NEAR + 1
        others = (
            other
            for number, found in enumerate(self._places[first:last], first)
            for other in found
            if number != paragraph or abs(other.word - place.word) > _BESIDE
        )
        return min(_MOST_UNREST, sum(_doubt(other.score) for other in others))

    def _manner(self, paragraph: int, place: Place) -> float:
        """How much oftener the reader marks speech than narration around a spoken place."""
        first, last = max(0, paragraph - _FAR), min(len(self._places), paragraph + _FAR + 1)
        said, told, in_speech, in_narration = (sums[last] - sums[first] for sums in self._sums)
        others = max(0.0, in_speech - place.score)
        apart = math.log((others + 1) / (said + _USUAL)) - math.log(
            (in_narration + 1) / (told + _USUAL)
        )
        return max(0.0, min(_MOST_MANNER, apart - _ALIKE))

    def _is_spoken(self, paragraph: int, place: Place) -> bool:
        return any(start <= place.at < end for start, end in self._speech[paragraph])


def _doubt(score: float) -> float:
    """1 where the reader is half sure, 0 where it is sure of a gap or of none: another word left
    out takes nothing from this one.
    """
    return 4 * score * (1 - score)
