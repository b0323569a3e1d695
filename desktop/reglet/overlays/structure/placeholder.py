"""Overlay: what the writer left in the text to be filled in later."""

import re
from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# "TK" is what journalists write for "to come"; the others are common practice.
_PLACEHOLDER = re.compile(
    r"(?<![\w’'-])(?:TK(?:TK|K)*|X{3,}|TBC|TBD|TODO|FIXME|\?{3,})(?![\w’'-])"
    r"|\[(?!sic\]|…\]|\.{3}\])[^\[\]\n]{0,40}[^\[\]\n.!?]\]|<[A-Za-z][^<>\n]{0,60}>|_{3,}"
)


def placeholder(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A gap that was to be filled later (TK, XXX, a name in brackets) must not reach a reader.

    Source: common practice; TK, for “to come”, is journalists' own.
    """
    for match in _PLACEHOLDER.finditer(read.paragraph.text):
        yield Finding(*match.span(), f"“{match[0]}” looks like something to be filled in.")


OVERLAY = of_paragraph(placeholder, Stage.STRUCTURE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "He took the road to [TK] and slept.": None,
    "It was [XXX] miles, said [???] to nobody.": None,
    "She had lived there [<how long>] years.": None,
}
EXAMPLES_UNMARKED = (
    "Louis XIV. and the XXth century; a TKO in the third.",
    "Why?? He was three, or 3 < 4.",
)
