"""Overlay: straight quotation marks and apostrophes among curly ones."""

import re
from collections.abc import Iterator

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

# Feet and inches, minutes and seconds: 6'2", 40".
_MARK = re.compile(r"(?<!\d)[\"'](?!\d)|[“”‘’]|(?<=[^\W\d])[\"'](?=\d)")
_STRAIGHT = {"“": '"', "”": '"', "‘": "'", "’": "'"}
_CURLY = {'"': "“”", "'": "‘’"}
_QUESTION = "curly or straight quotation marks"


def straight_quote(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A straight mark among curly ones has slipped past the program that curls them.

    Proposed is the way of the style sheet, else that which the book goes more often, turned as the
    speech around it asks.
    """
    text = read.paragraph.text
    if not any(mark in text for mark in "\"'“”‘’"):
        return
    for match in _MARK.finditer(text):
        mark, at = match[0], match.start()
        if mark in _STRAIGHT:
            yield Use(_QUESTION, "curly marks", at, at + 1, _STRAIGHT[mark])
        else:
            opens = any(each.start == at and each.opened for each in read.prose.quotations)
            yield Use(_QUESTION, "straight marks", at, at + 1, _CURLY[mark][not opens])


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    return one_way(use, tally, sheet, lambda use, _: use.text)


OVERLAY = of_uses(straight_quote, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "“Don’t go,” she said. “It[']s late.”": "’",
    '“Go,” she said. “Now. ["]Now,” he said.': "“",
}
EXAMPLES_UNMARKED = ("'Don't go,' she said.", "“He was 6'2\" and didn’t wait.”")
