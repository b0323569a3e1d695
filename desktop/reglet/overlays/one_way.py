"""What to ask where a book goes two ways: the way its style sheet has, else the commoner one."""

from __future__ import annotations

from collections.abc import Callable

from reglet.manuscript.book import StyleSheet
from reglet.numbers import times
from reglet.overlays.overlay import Finding
from reglet.overlays.query import Choice
from reglet.overlays.tally import RARE, Tally, Use, commoner


def one_way(
    use: Use,
    tally: Tally,
    sheet: StyleSheet,
    better: Callable[[Use, str], str],
    most: float = RARE,
) -> Finding | None:
    """A query where a use goes another way than the style sheet has settled, or, where that is
    silent, a rarer way than most of the book (see `commoner`). None where it goes that way.

    `better(use, way)` is what the place would read in another way.
    """
    settled = sheet.way(use.question)
    if settled:
        return None if use.way == settled else as_settled(use, settled, better(use, settled))
    common = commoner(use, tally, most)
    if common is None:
        return None
    ways = tally.ways(use.question)
    said = f"The book has {common} {times(ways[common])} and {use.way} {times(ways[use.way])}."
    choice = Choice(use.question, common)
    return Finding(use.start, use.end, said, better(use, common), choice=choice)


def as_settled(use: Use, way: str, better: str) -> Finding:
    """The query for a use that the style sheet has settled otherwise."""
    said = f"The style sheet has {way}."
    return Finding(use.start, use.end, said, better, choice=Choice(use.question, way))
