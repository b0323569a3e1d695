"""Words that are plainly wrong in the company they keep: "vocal chords", "walked passed the mill".

The patterns are those of ``resources/words/wrong_in_company.txt``, which says how they are written.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

from reglet import resources


class Better(NamedTuple):
    """A place of a row of pieces, and the word that belongs there."""

    at: int
    word: str


class _Element(NamedTuple):
    """What one place of a pattern takes: one of these words, or anything but them; or an end."""

    words: frozenset[str]
    takes: bool = True
    is_end: bool = False

    def fits(self, row: Sequence[str], at: int) -> bool:
        piece = row[at] if 0 <= at < len(row) else ""
        if self.is_end:
            return not piece[:1].isalnum()
        return (piece in self.words) == self.takes


class _Pattern(NamedTuple):
    before: tuple[_Element, ...]
    after: tuple[_Element, ...]
    better: str

    def fits(self, row: Sequence[str], at: int) -> bool:
        start = at - len(self.before)
        return all(each.fits(row, start + n) for n, each in enumerate(self.before)) and all(
            each.fits(row, at + n) for n, each in enumerate(self.after, 1)
        )


def wrong_in_company(row: Sequence[str]) -> Iterator[Better]:
    """The places of a row of pieces (`neighbours.pieces`) where a pattern fits, in order."""
    known = _patterns()
    for at, piece in enumerate(row):
        for pattern in known.get(piece, ()):
            if pattern.fits(row, at):
                yield Better(at, pattern.better)
                break


@cache
def _patterns() -> dict[str, list[_Pattern]]:
    """The patterns that each wrong word has."""
    found: dict[str, list[_Pattern]] = {}
    for line in resources.lines("words", "wrong_in_company.txt"):
        shape, _, right = line.partition(" = ")
        places = shape.split()
        at = next(n for n, place in enumerate(places) if place.startswith("["))
        before = tuple(map(_element, places[:at]))
        after = tuple(map(_element, places[at + 1 :]))
        wrong = places[at].strip("[]").split("|")
        for word, better in zip(wrong, right.split("|"), strict=True):
            found.setdefault(word, []).append(_Pattern(before, after, better))
    return found


def _element(place: str) -> _Element:
    if place == "$":
        return _Element(frozenset(), is_end=True)
    return _Element(frozenset(place.removeprefix("-").split("|")), not place.startswith("-"))
