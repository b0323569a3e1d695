"""Overlay: two spaces between sentences."""

import re
from collections.abc import Iterator

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import RARE, Tally, Use

_SPACES = re.compile(r"(?<=[.!?…”’\"])  *(?=\S)")
_QUESTION, _ONE, _TWO = "spaces between sentences", "one space", "two spaces"


def sentence_space(read: ReadParagraph, house: House) -> Iterator[Use]:
    """One space stands between sentences; two are a typist's habit or a slip.

    Where the book has two all through, it is asked once, where they stand first.
    """
    for match in _SPACES.finditer(read.paragraph.text):
        yield Use(_QUESTION, _ONE if len(match[0]) == 1 else _TWO, *match.span(), match[0])


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    if sheet.way(_QUESTION):
        return one_way(use, tally, sheet, lambda _, way: " " if way == _ONE else "  ")
    if use.way == _ONE:
        return None
    ways = tally.ways(_QUESTION)
    if ways[_TWO] <= max(1, RARE * sum(ways.values())):
        return Finding(use.start, use.end, "Two spaces stand here.", " ")
    first = next(each for each in tally.places(_QUESTION) if each.way == _TWO)
    if use is not first:
        return None
    said = f"Two spaces stand between sentences {times(ways[_TWO])} in this book. One is usual."
    return Finding(use.start, use.end, said, " ")


OVERLAY = of_uses(sentence_space, _judge, Stage.PROOF, ProofMark.CLOSE_UP)
EXAMPLES_MARKED = {
    "It was late.[  ]She went in.": " ",
    "It was late.[  ]She went.  He went.  They went.": " ",
}
EXAMPLES_UNMARKED = ("It was late. She went. “Go.” He went.",)
