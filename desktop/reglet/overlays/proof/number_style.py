"""Overlay: numbers in words here and in figures there."""

import re
from collections.abc import Iterator
from functools import cache

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.paragraph import RUNNING_TEXT, SpanKind
from reglet.manuscript.stage import Stage
from reglet.numbers import in_words
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_SMALL = 10
_SMALL_ONES, _GREAT_ONES = "numbers up to ten", "numbers from eleven to a hundred"
# A figure that is no time, sum, date, measure, part of a code or a range.
_FIGURE = re.compile(
    r"(?<![\w.,:/£$€#’‘'°′″%+=×–-])(?P<figure>[1-9]\d?|100)(?![\w:/°′″%+=×–-]|[.,]\d|[”’\"]?-)"
)
# Beside these a figure is a name, a measure or one of a series, and no count. Our own list.
_NAMED = re.compile(
    r"(?:\b(?i:no|nos|number|numbers|page|pages|p|pp|chapter|chapters|part|room|flat|platform|line|"
    r"lines|verse|act|scene|bus|route|highway|gate|pier|unit|lot|track|channel|volume|vol|figure|"
    r"table|size|grade|level|box|berth|cell|ward|bed|square|section|article|item|jan|feb|mar|apr|"
    r"jun|jul|aug|sep|sept|oct|nov|dec)\.?|\d[,;]?|[(\[])\s*$"
)
_NAME = re.compile(r"\b[A-Z][\w.’']*\s*$")
_MEASURED = re.compile(
    r"\s*(?:(?i:a\.?m|p\.?m|per ?cent|percent|st|nd|rd|th|mm|cm|km|kg|lbs?|oz|ft|in|mph|hrs?|mins?)"
    r"|[A-Z]\w*|\d|[,;]\s*\d|(?:and|or|to) \d)\b"
)


def number_style(read: ReadParagraph, house: House) -> Iterator[Use]:
    """Numbers up to a hundred stand in words or in figures, one way all through a story.

    Looked at are counts in running text. A figure in a time, a date, a sum, an address, a measure,
    a series or a note given in italics is left alone; so are the words "one" and "a hundred".
    Numbers up to ten and from eleven on are weighed apart, as some houses set them otherwise.

    Source: New Hart's Rules and the Chicago Manual of Style, on numbers in words (from memory).
    """
    if read.paragraph.style not in RUNNING_TEXT:
        return
    text = read.paragraph.text
    if any(letter.isdigit() for letter in text):
        quoted = read.paragraph.spans_of(SpanKind.EMPHASIS)
        for match in _FIGURE.finditer(text):
            if any(each.start <= match.start() < each.end for each in quoted):
                continue
            if _is_count(text, *match.span()):
                yield _use(int(match["figure"]), "figures", *match.span(), match[0])
    if not read.vocabulary.isdisjoint(_values()):
        for word, plain in zip(read.prose.words, read.plain_words, strict=True):
            value = _values().get(plain)
            if value and not word.text[0].isupper():
                yield _use(value, "words", word.start, word.end, word.text)


def _use(value: int, kind: str, start: int, end: int, text: str) -> Use:
    question = _SMALL_ONES if value <= _SMALL else _GREAT_ONES
    return Use(question, f"{question} in {kind}", start, end, text)


def _is_count(text: str, start: int, end: int) -> bool:
    before, after = text[max(0, start - 24) : start], text[end : end + 24]
    named = _NAMED.search(before) or (_NAME.search(before) and not _opens_sentence(text, start))
    return not named and not _MEASURED.match(after)


def _opens_sentence(text: str, at: int) -> bool:
    before = text[:at].rstrip("“‘\"' ")
    return not before or before[-1] in ".!?"


@cache
def _values() -> dict[str, int]:
    """The words for two to ninety-nine, and their values."""
    return {in_words(value): value for value in range(2, 100)}


def _better(use: Use, way: str) -> str:
    if way.endswith("figures"):
        return str(_values()[use.text.lower()])
    return in_words(int(use.text))


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    return one_way(use, tally, sheet, _better)


OVERLAY = of_uses(number_style, _judge, Stage.PROOF, ProofMark.REPLACE)
_IN_WORDS = "They had seven boats and three dogs. "
EXAMPLES_MARKED = {
    _IN_WORDS + "He saw [4] men.": "four",
    _IN_WORDS + "After that twelve came, and fifteen; then [21] went.": "twenty-one",
}
EXAMPLES_UNMARKED = (
    _IN_WORDS * 2 + "Room 6, at 7 p.m., on 3 May; page 9, No. 8; 5-pound; £4; 1, 2, 3.",
    "Two came. He had 21 of them.",
)
