"""Overlay: small letters after a full stop, capitals inside a word."""

import re
from collections.abc import Iterator

from reglet.language.dictionary import dictionary
from reglet.manuscript.paragraph import LINE_BREAK, RUNNING_TEXT
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_SMALL_AFTER_STOP = re.compile(
    r"(?<![.\w])(?<!\d )(?P<before>[a-z]{2,})\.[”’\"]? (?P<open>[“‘\"]?)(?P<word>[a-z]{2,}|a)\b"
)
_SMALL_OPENING = re.compile(r"[“‘\"]?(?P<word>[a-z]{2,}|a)\b(?![-’'])")
# Shortenings that keep their point inside a sentence. Our own list.
_SHORTENED = frozenset(
    "etc viz tem vol vols esq inc ltd vers chap fig figs approx dept est misc max min sec secs hrs "
    "mins lbs ozs pts yds mrs messrs mr dr st no op cf ib et al ult vs prox inst cit".split()
)
_INSIDE = re.compile(r"\b(?:[A-Z]{2,}[a-z]+|[a-z]{2,}[A-Z][a-z]*|[A-Z][a-z]+[A-Z]|[a-z][A-Z]+)\b")
_TWO = re.compile(r"[A-Z]{2}[a-z]{3,}")  # also of a name
_ENDS = re.compile(r"[.!?…:—–][”’\"')]*\s*$")


def capital(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A sentence that opens small, and a capital inside a word, come of a slip on the shift key.

    A small letter after "?" or "!" is left alone: a sentence may go on after them. So is one that
    opens a paragraph of verse, or of a line or two that has no sentence in it.
    """
    text = read.paragraph.text
    for match in _SMALL_AFTER_STOP.finditer(text):
        if match["before"] not in _SHORTENED:
            yield _to_capital(match, "A sentence begins here with a small letter.")
    opening = _SMALL_OPENING.match(text)
    prose = read.paragraph.style in RUNNING_TEXT and LINE_BREAK not in text
    if opening and prose and _ENDS.search(text):
        yield _to_capital(opening, "This paragraph begins with a small letter.")
    known = dictionary(house.language)
    for match in _INSIDE.finditer(text):
        word = match[0]
        better = word.capitalize() if word[0].isupper() else word.lower()
        if known.lists(word.lower()) or (_TWO.fullmatch(word) and not known.lists(word)):
            yield Finding(*match.span(), "A capital stands inside this word.", better)


def _to_capital(match: re.Match[str], message: str) -> Finding:
    return Finding(*match.span("word"), message, match["word"].capitalize())


OVERLAY = of_paragraph(capital, Stage.PROOF, ProofMark.WRONG_CASE)
EXAMPLES_MARKED = {
    "It was late. [the] door stood open.": "The",
    "[THe] door stood open.": "The",
    "He said it. “[come] in.”": "Come",
    "“[come] in,” she said. “It is late.”": "Come",
    "He had a [lamP].": "lamp",
}
EXAMPLES_UNMARKED = (
    "McTavish and MacDonald read the MPs’ letters, etc. and so on. … and then.",
    "“Go!” she said. “What?” he asked. At 6 p.m. they left.",
)
