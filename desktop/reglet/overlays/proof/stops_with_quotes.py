"""Overlay: comma and full stop inside or outside the closing quotation mark."""

import re
from collections.abc import Iterator

from reglet.language.speech import Quotation
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.paragraph import SpanKind
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_INSIDE = "comma and full stop inside the closing mark"
_OUTSIDE = "comma and full stop outside the closing mark"
_SPEECH, _WORDS = "stops with speech", "stops with quoted words"
_ENOUGH = 3  # places that show the book's way
_PAUSE = ",.:;!?…—–-(”’\"'"
_DROPPED = re.compile(r"(?:in|an|o|wi|th|t)[’']$", re.IGNORECASE)  # "nothin’."
_ENGLISH_MARKS = "“‘\"'"
_OTHER_LETTER = re.compile(r"[^\W\d_a-zA-Z\u00c0-\u024f\u1e00-\u1eff]")  # of no Latin alphabet
_SENTENCE = re.compile(r"[^\w]*[A-Z]\S* \S+ \S")


def stops_with_quotes(read: ReadParagraph, house: House) -> Iterator[Use]:
    """American books set comma and full stop inside a closing mark, British ones often outside.

    In speech they stand inside either way; with single words and phrases the way of the style
    sheet is kept, else the book's own, else that of its variety of English. A whole sentence that
    is quoted keeps its full stop inside. Words of another language are left to its own ways, which
    their marks («», „“), their letters or their span show.

    Source: The Chicago Manual of Style and New Hart's Rules (from memory).
    """
    text = read.paragraph.text
    for quotation in read.prose.quotations:
        end = quotation.end
        if not quotation.closed or end - quotation.start < 3 or not _is_english(read, quotation):
            continue
        kind = _SPEECH if _is_speech(text, quotation) else _WORDS
        if text[end : end + 1] in (",", ".") and text[end : end + 2] != "..":
            if text[end - 2].isalnum() and not _DROPPED.search(text, quotation.start, end):
                yield Use(kind, _OUTSIDE, end - 1, end + 1, text[end - 1 : end + 1])
        elif text[end - 2] == "," or (text[end - 2] == "." and text[end - 3].isalnum()):
            if text[end - 2] == "." and _SENTENCE.match(text, quotation.start + 1):
                continue
            if kind is _WORDS and text[end : end + 1] in ("’", "”", "'", '"'):
                continue  # the outer speech ends here too, and its stop is wanted inside it
            yield Use(kind, _INSIDE, end - 2, end, text[end - 2 : end])


def _is_english(read: ReadParagraph, quotation: Quotation) -> bool:
    text, start, end = read.paragraph.text, quotation.start, quotation.end
    foreign = read.paragraph.spans_of(SpanKind.LANGUAGE)
    return (
        text[start] in _ENGLISH_MARKS
        and not _OTHER_LETTER.search(text, start, end)
        and not any(span.start < end and span.end > start for span in foreign)
    )


def _is_speech(text: str, quotation: Quotation) -> bool:
    before = text[: quotation.start].rstrip()
    inner = text[quotation.start + 1 : quotation.end].lstrip("’‘“\"' ")
    return (not before and inner[:1].isupper()) or before[-1:] in tuple(_PAUSE)


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    swapped = use.text[::-1]
    if use.question == _SPEECH:
        if use.way == _INSIDE:
            return None
        message = "In speech, comma and full stop stand before the closing mark."
        return Finding(use.start, use.end, message, swapped)
    few = sum(tally.ways(_WORDS).values()) < _ENOUGH
    if few and not sheet.way(_WORDS):
        if house.language != "en-US" or use.way == _INSIDE:
            return None
        message = "American usage sets comma and full stop before the closing mark."
        return Finding(use.start, use.end, message, swapped)
    return one_way(use, tally, sheet, lambda use, _: use.text[::-1])


OVERLAY = of_uses(stops_with_quotes, _judge, Stage.PROOF, ProofMark.TRANSPOSE)
EXAMPLES_MARKED = {
    "“Go home[”,] he said.": ",”",
    "The “wick”, the “drip”, the “glass”, and the “lamp[,”] as he called them.": "”,",
    "The “wick,” the “drip,” the “glass,” and the “lamp[”,] as he called them.": ",”",
}
EXAMPLES_UNMARKED = (
    "“Go home,” he said. She called it the “lamp”. He said “Home.”",
    "The “wick”, the “drip”, the “glass”. She said “The lamp is out.” He knew.",
    "“He calls it the ‘lamp’, I think,” she said.",
    "«Лампа», — сказал он. «Иди домой», сказала она. Он знал слова «дом», «сад», «лампа».",
    "The “лампа,” the “дом,” the “сад,” and the “lamp”. „Geh heim“, sagte er. «Rentre», dit-il.",
)
