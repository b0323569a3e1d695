"""What a misspelt word may have meant, likeliest first.

Candidates are all words one slip of the hand away, and those that the dictionary itself proposes.
A candidate is the likelier the commoner it is in fiction and the smaller the slip: two letters
turned round, a letter doubled or left single, a vowel for a vowel, a key beside the right one. The
weights are our own, set by eye on common misspellings and measured by
``tests/benchmarks/proof_truth.py --misspellings``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from reglet.language.frequency import zipf

_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_VOWELS = frozenset("aeiouy")
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
# Letters and groups that sound alike often enough to be taken for one another.
_ALIKE = frozenset("ck kc cs sc sz zs fv vf gj jg kq qk iy yi mn nm td dt".split())
_COST = 2.4
"""How many steps of the Zipf scale one whole slip outweighs."""

_OWNED = 3.0
"""How many steps of the Zipf scale an unlikely possessive is put back."""


class Suggestion(NamedTuple):
    """A word, how far it is from what was written (1.0 is one plain slip), and its likelihood."""

    word: str
    distance: float
    score: float


def ranked(word: str, candidates: Iterable[str]) -> tuple[Suggestion, ...]:
    """The candidates by likelihood. `word` is in small letters with straight apostrophes."""
    found = {}
    for candidate in candidates:
        away = distance(word, candidate.lower())
        common = min(_common(part) for part in candidate.replace("-", " ").split() or [""])
        split = 1.8 * (candidate.count(" ") + candidate.count("-") - word.count("-"))
        # The dictionary proposes possessives; a writer who meant one set the apostrophe, or left
        # nothing out but that.
        owned = candidate.endswith("'s") and "'" not in word and candidate.replace("'", "") != word
        score = common - _COST * away - split - _OWNED * owned
        found[candidate] = Suggestion(candidate, away, score)
    return tuple(sorted(found.values(), key=lambda each: (-each.score, each.word)))


def _common(word: str) -> float:
    return zipf(word) or 1.0


def one_slip(word: str, exists: Callable[[str], bool]) -> Iterator[str]:
    """The words that exist one letter turned, dropped, added or changed away from `word`."""
    tried: set[str] = set()
    for at in range(len(word) + 1):
        head, tail = word[:at], word[at:]
        tried.update(head + letter + tail for letter in _LETTERS)
        if tail:
            tried.add(head + tail[1:])
            tried.update(head + letter + tail[1:] for letter in _LETTERS)
        if len(tail) > 1:
            tried.add(head + tail[1] + tail[0] + tail[2:])
    tried.discard(word)
    return (each for each in sorted(tried) if zipf(each) > 0 and exists(each))


@lru_cache(maxsize=65536)
def distance(one: str, other: str) -> float:
    """How much must slip for `other` to become `one`: a weighted Damerau and Levenshtein distance
    (Damerau 1964), each cost below 1 for slips that are easily made.
    """
    before: list[float] = []
    above = [0.0]
    for at in range(len(other)):
        above.append(above[-1] + _missing(other, at))
    for i, letter in enumerate(one):
        row = [above[0] + _added(one, i)]
        for j, meant in enumerate(other):
            if letter == meant:
                best = above[j]
            else:
                best = above[j] + _changed(letter, meant, first=i == j == 0)
            best = min(best, above[j + 1] + _added(one, i), row[j] + _missing(other, j))
            if i and j and letter == other[j - 1] and one[i - 1] == meant and letter != meant:
                best = min(best, before[j - 1] + 0.6)
            row.append(best)
        before, above = above, row
    return above[-1]


def _added(one: str, at: int) -> float:
    """A letter too many: a doubled one is easily written."""
    if at and one[at] == one[at - 1]:
        return 0.5
    return 0.8 if one[at] in _VOWELS else 0.95


def _missing(other: str, at: int) -> float:
    """A letter too few."""
    letter = other[at]
    if letter in "'- " or (at and letter == other[at - 1]):
        return 0.45
    return 0.7 if letter in _VOWELS else 0.85 if at else 1.1


def _changed(letter: str, meant: str, first: bool) -> float:
    cost = 1.1
    if letter in _VOWELS and meant in _VOWELS:
        cost = 0.65
    elif letter + meant in _ALIKE:
        cost = 0.75
    elif _neighbours(letter, meant):
        cost = 0.9
    return cost + 0.5 if first else cost


def _neighbours(one: str, other: str) -> bool:
    return any(
        one in row and other in row and abs(row.index(one) - row.index(other)) == 1 for row in _ROWS
    )
