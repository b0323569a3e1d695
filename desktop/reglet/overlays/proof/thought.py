"""Overlay: what somebody thinks, word for word, in italics here and otherwise there."""

import re
from collections.abc import Iterator
from dataclasses import replace

from reglet.language.speech import Marks
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.paragraph import SpanKind
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import Dress, ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_QUESTION = "thoughts"
_ITALICS, _QUOTED, _PLAIN = (
    "thoughts in italics",
    "thoughts in quotation marks",
    "thoughts with neither",
)
_OFTEN = 3  # times that the commoner way stands before the other is asked about
_WHO = r"(?:he|she|they|[A-Z][a-z]+)"
_THINKS = r"(?:thought|wondered|mused|reflected|told (?:him|her|them)sel(?:f|ves))"
_TAG = re.compile(
    rf"(?P<stop>[,.?!…—])(?P<close>[”’\"']?) (?:{_WHO} {_THINKS}|{_THINKS} {_WHO})(?=[,.;:—]| and )"
)
_BEGINS = re.compile(r"(?:^|[.?!…:;—“‘\"] ?)(?P<words>[^.?!…:;—“‘\"]+)$")
_FIRST_PERSON = re.compile(r"\b(?:I|I’m|I’ve|I’ll|I’d|my|me|we|our|us)\b")
_OPENERS = {"”": "“", "’": "‘", '"': '"', "'": "'"}


def thought(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A thought that is given word for word is set one way all through a book, mostly in italics.

    Known by its tag ("she thought"). Without italics or quotation marks, only words in the first
    person count, for others may be the narrator's: "It was late, he thought."

    Source: The Chicago Manual of Style, on unspoken discourse (from memory).
    """
    text = read.paragraph.text
    emphasis = read.paragraph.spans_of(SpanKind.EMPHASIS)
    for match in _TAG.finditer(text):
        at = match.start()
        span = next((each for each in emphasis if each.start < at <= each.end), None)
        if span is not None:
            yield _use(_ITALICS, span.start, max(span.end, at), text)
        elif match["close"]:
            start = text.rfind(_OPENERS[match["close"]], 0, at)
            if start >= 0:
                yield _use(_QUOTED, start, match.end("close"), text)
        else:
            begins = _BEGINS.search(text[:at])
            if begins and _FIRST_PERSON.search(begins["words"]):
                stop = match["stop"] in "?!…"
                yield _use(_PLAIN, begins.start("words"), at + stop, text)


def _use(way: str, start: int, end: int, text: str) -> Use:
    return Use(_QUESTION, way, start, end, text[start:end])


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    if not sheet.way(_QUESTION) and max(tally.ways(_QUESTION).values()) < _OFTEN:
        return None
    found = one_way(use, tally, sheet, lambda use, way: _better(use, way, house.marks))
    if found is None or found.choice is None:
        return found
    dress = Dress.EMPHASIS if found.choice.way == _ITALICS else Dress.PLAIN
    return replace(found, dress=dress)


def _better(use: Use, way: str, marks: Marks) -> str:
    words = use.text[1:-1] if use.way == _QUOTED else use.text
    if way != _QUOTED:
        return words
    return f"‘{words}’" if marks is Marks.SINGLE else f"“{words}”"


OVERLAY = of_uses(thought, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "“I am late,” she thought. “What now?” she wondered. “No,” she thought, and ran. "
    "[I must run], she thought.": "“I must run”",
}
EXAMPLES_UNMARKED = (
    "“I am late,” she thought. I must run, she thought.",
    "“I am late,” she thought. “What now?” she wondered. “No,” she thought. It was late, he "
    "thought. The man, she thought, was mad.",
)
