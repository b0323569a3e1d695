"""Overlay: small letters after a full stop, capitals inside a word."""

import re
from collections.abc import Iterator

from reglet.language.dictionary import dictionary
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_SMALL_AFTER_STOP = re.compile(r"(?<![.\w])(?P<before>[a-z]{3,})\.[”’\"]? (?P<word>[a-z]{2,})\b")
# Shortenings that keep their point inside a sentence. Our own list.
_SHORTENED = frozenset(
    "etc viz tem vol vols esq inc ltd vers chap fig figs approx dept est misc max min sec secs hrs "
    "mins lbs ozs pts yds mrs messrs".split()
)
_INSIDE = re.compile(r"\b(?:[A-Z]{2}[a-z]+|[a-z]{2,}[A-Z][a-z]*|[A-Z][a-z]+[A-Z])\b")


def capital(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A sentence that opens small, and a capital inside a word, come of a slip on the shift key.

    A small letter after "?" or "!" is left alone: a sentence may go on after them.
    """
    text = read.paragraph.text
    for match in _SMALL_AFTER_STOP.finditer(text):
        if match["before"] not in _SHORTENED:
            start, end = match.span("word")
            better = match["word"].capitalize()
            yield Finding(start, end, "A sentence begins here with a small letter.", better)
    known = dictionary(house.language)
    for match in _INSIDE.finditer(text):
        word = match[0]
        better = word.capitalize() if word[0].isupper() else word.lower()
        if known.lists(word.lower()):
            yield Finding(*match.span(), "A capital stands inside this word.", better)


OVERLAY = of_paragraph(capital, Stage.PROOF, ProofMark.WRONG_CASE)
EXAMPLES_MARKED = {
    "It was late. [the] door stood open.": "The",
    "[THe] door stood open.": "The",
    "He had a lamP.".replace("lamP", "[lamP]"): "lamp",
}
EXAMPLES_UNMARKED = (
    "McTavish and MacDonald read the MPs’ letters, etc. and so on. … and then.",
    "“Go!” she said. “What?” he asked. At 6 p.m. they left.",
)
