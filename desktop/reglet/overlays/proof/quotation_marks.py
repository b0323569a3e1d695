"""Overlay: quotation marks without their fellow."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, zip_longest

from reglet.language.speech import Marks, Quotation
from reglet.language.speech_verbs import TELLING_VERBS
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

_TAG = (
    rf"(?:(?:{TELLING_VERBS}) (?:he|she|they|I|we|it|[A-Z]|the |her |his |my |some|one )|"
    rf"(?:he|she|they|we|I|it) (?:\w+ly )?(?:{TELLING_VERBS})\b|"
    rf"(?:[A-Z]\w+|[Tt]he \w+|[Hh](?:er|is) \w+) (?:{TELLING_VERBS})(?: \w+ly)?[,.;:])"
)
_SINGLE_BEFORE_TAG = re.compile(rf"[,.!?…—](?P<mark>[’'])(?= {_TAG})")
_CLOSING = re.compile("(?P<mark>”)")
_BEFORE_TAG = re.compile(rf"[,!?…—](?= {_TAG})")
_CLAUSE_START = re.compile(r", (?P<first>\w+)")
# A sentence that is surely told and not spoken.
_TOLD = re.compile(r"(?:He|She|They|The|His|Her|[A-Z]\w+ed|[A-Z]\w+ (?:\w+ed|stood|sat)\b)(?! ?is)")
_TAG_ENDS = re.compile(r" (?!they |you |we )(?:\w+ ){1,3}\w+[.,]")
_TURNED_OPENING = re.compile(r"(?:^|(?<=[\s(—–]))”(?=[\w‘’])")
_TURNED_CLOSING = re.compile(r"(?<=[\w,.!?…—–’])“(?=\s|$)")
_SENTENCE_START = re.compile(r"(?:^|[.!?…][”’]? |[:—] )[“‘]?(?P<first>\w+)")
# Words of a speech, below which the closing mark is missing although the next paragraph opens with
# a mark: alone in its paragraph, or after other words. Of 3,565 speeches that run on, in 60 novels,
# 46 are shorter.
_SHORT_ALONE, _SHORT = 20, 10
_TOLD_FROM = 14
_FURTHEST = 12  # paragraphs over which a speech may be broken by a verse (our own figure)
_PAUSES = re.compile(r"[\w:,—–]\s*$")
_DOUBLE = re.compile("[“”]")
_INNER = {Marks.DOUBLE: "‘", Marks.SINGLE: "“"}
_PAIRS = {"“": "”", "‘": "’", '"': '"', "'": "'", "«": "»", "„": "“"}


def quotation_marks(scene: ReadScene, house: House) -> Iterator[Finding]:
    """A speech that is opened and never closed, or closed and never opened, loses the reader.

    Speech that runs on into a paragraph which opens with a mark again needs no closing mark
    (common practice of printers). Nor is it asked about where it goes on after a verse or the like.

    Source: common practice of printers.
    """
    found = list(scene.prose())
    bridged = _bridged([read.paragraph.text for _, read in found])
    for index, (start, read) in enumerate(found):
        following = found[index + 1][1] if index + 1 < len(found) else None
        for finding in _in_paragraph(read, following, house):
            if index in bridged and finding.mark is None:
                continue
            yield replace(finding, start=start + finding.start, end=start + finding.end)


def _bridged(texts: Sequence[str]) -> set[int]:
    """The paragraphs where a speech is left open and where it is closed, or opened again, if a few
    without any mark stand between: a verse, a letter, a list.
    """
    found: set[int] = set()
    for index, text in enumerate(texts):
        if text.rfind("“") <= text.rfind("”"):
            continue
        for further in range(index + 1, min(index + 1 + _FURTHEST, len(texts))):
            first = _DOUBLE.search(texts[further])
            if first is not None:
                goes_on = first[0] == "”" or (first.start() == 0 and _PAUSES.search(text))
                if goes_on and further > index + 1:
                    found |= {index, further}
                break
    return found


def _in_paragraph(
    read: ReadParagraph, following: ReadParagraph | None, house: House
) -> Iterator[Finding]:
    text = read.paragraph.text
    first = [*_turned(text), *_not_nested(read, house.marks)]
    if first:  # the others have to wait, for these set the marks after them wrong
        yield from first
        return
    quotations = [each for each in read.prose.quotations if each.depth == 0]
    singles = list(_single_for_double(read, house.marks))
    yield from singles
    for quotation in quotations:
        if any(quotation.start <= each.start < quotation.end for each in singles):
            continue
        if not quotation.closed and quotation.opened:
            tag = _BEFORE_TAG.search(text, quotation.start, quotation.end)
            at_the_end = quotation.end >= len(text.rstrip())
            runs_on = following and _goes_on(following, read, quotation, house.marks)
            if not at_the_end or not runs_on or _is_tagged(text, quotation, tag, house.marks):
                yield _unclosed(text, quotation, tag.end() if tag else quotation.end)
        elif not quotation.opened and not quotation.continues:
            yield _unopened(text, quotations, quotation.end - 1)
    yield from _stray(text, quotations, house.marks)


def _is_tagged(text: str, quotation: Quotation, tag: re.Match[str] | None, marks: Marks) -> bool:
    """Whether a tag near the beginning of a speech left open says that a mark is missing there. One
    further in may be part of what is told.
    """
    if tag is None or not quotation.spoken or _INNER[marks] in text:
        return False
    before = text[quotation.start : tag.start()].count(" ")
    return before < _TOLD_FROM and _TAG_ENDS.match(text, tag.end()) is not None


def _turned(text: str) -> Iterator[Finding]:
    """Double marks that look the wrong way."""
    if "“" not in text and "”" not in text:
        return
    for pattern, right in ((_TURNED_OPENING, "“"), (_TURNED_CLOSING, "”")):
        for match in pattern.finditer(text):
            message = "This mark looks the wrong way."
            yield Finding(*match.span(), message, right, ProofMark.REPLACE)


def _not_nested(read: ReadParagraph, marks: Marks) -> Iterator[Finding]:
    """Double marks within double ones: a speech breaks off where another opens in the middle of its
    sentence, and what is left of it closes with no opening.
    """
    if marks is Marks.SINGLE:
        return
    text = read.paragraph.text
    outer = [each for each in read.prose.quotations if each.depth == 0]
    for before, inner in pairwise(outer):
        between = text[before.end : inner.start]
        left_open = before.opened and not before.closed and not between.strip()
        if not left_open or not inner.closed or not text[: before.end][-1:].isalnum():
            continue
        rest = text[inner.end :]
        closes, opens = rest.find("”"), rest.find("“")
        if closes >= 0 and (opens < 0 or closes < opens):
            new = f"‘{text[inner.start + 1 : inner.end - 1]}’"
            message = "Within a speech, another one stands between single marks."
            yield Finding(inner.start, inner.end, message, new, ProofMark.REPLACE)


def _single_for_double(read: ReadParagraph, marks: Marks) -> Iterator[Finding]:
    """A speech opened double and closed single."""
    if marks is Marks.SINGLE:
        return
    text = read.paragraph.text
    for match in _SINGLE_BEFORE_TAG.finditer(text):
        outer = text.rfind("“", 0, match.start())
        if outer >= 0 and not {"‘", "”"} & set(text[outer : match.start()]):
            at = match.end("mark")
            message = "This speech is opened double and closed single."
            yield Finding(at - 1, at, message, "”", ProofMark.REPLACE)


def _goes_on(
    following: ReadParagraph, read: ReadParagraph, quotation: Quotation, marks: Marks
) -> bool:
    """Whether a speech left open runs on into the paragraph that follows."""
    found = following.prose.quotations
    opens = following.paragraph.text.lstrip()[:1] in _PAIRS
    if not opens and not any(each.continues for each in found):
        return False
    return not (opens and found and found[0].closed and _is_short(read, quotation, marks))


def _is_short(read: ReadParagraph, quotation: Quotation, marks: Marks) -> bool:
    """Whether a speech that begins here is too short to run on into a paragraph of its own. A story
    that is told, with speeches in it, may do so.
    """
    text = read.paragraph.text
    alone = not text[: quotation.start].strip()
    spoken = len(read.prose.words_in(quotation.start, quotation.end))
    return (
        not quotation.continues
        and _INNER[marks] not in text
        and text[quotation.end - 1] in ".?!"
        and spoken < (_SHORT_ALONE if alone else _SHORT)
    )


def _unclosed(text: str, quotation: Quotation, end: int) -> Finding:
    """The query for a speech that is to be closed at `end`."""
    opening = text[quotation.start]
    start = max(text.rfind(" ", quotation.start, end) + 1, quotation.start)
    return Finding(
        start,
        end,
        f"The speech that begins “{_opening_words(text, quotation)}” is not closed.",
        proposal=text[start:end] + _PAIRS.get(opening, opening),
    )


def _unopened(text: str, quotations: Sequence[Quotation], closing: int) -> Finding:
    """The query for a speech that is closed only."""
    after = max((each.end for each in quotations if each.end <= closing and each.opened), default=0)
    span = _beginning_of(text, after, closing)
    if span is None:
        return Finding(closing, closing + 1, "This mark closes a speech that was not opened.")
    start, end = span
    words = " ".join(text[start:closing].split()[-3:])
    message = f"The speech that ends “{words}” is not opened."
    opening = "“" if text[closing] == "”" else "‘"
    return Finding(start, end, message, opening + text[start:end])


def _beginning_of(text: str, after: int, closing: int) -> tuple[int, int] | None:
    """The first word of the speech that is closed at `closing`, `after` being where the one before
    it ends: it begins with the paragraph or after the other's tag, but for what is told first.
    """
    found = [
        match
        for match in _SENTENCE_START.finditer(text, after, closing)
        if match.start() > 0 or after == 0
    ]
    if not found and after:
        found = [*_CLAUSE_START.finditer(text, after, closing)][:1]
    spoken = [
        match
        for match, following in zip_longest(found, found[1:])
        if not _TOLD.match(text, match.start("first"), following.start() if following else closing)
    ]
    first = (spoken or found[-1:] or [None])[0]
    return first.span("first") if first else None


def _opening_words(text: str, quotation: Quotation) -> str:
    words = text[quotation.start + 1 : quotation.end].split()
    return " ".join(words[:4]) + ("…" if words[4:] else "")


def _stray(text: str, quotations: Sequence[Quotation], marks: Marks) -> Iterator[Finding]:
    """Closing marks that close nothing. Single ones are told from apostrophes by the tag behind."""
    closing = _SINGLE_BEFORE_TAG if marks is Marks.SINGLE and "“" not in text else _CLOSING
    for match in closing.finditer(text):
        at = match.start("mark")
        if not any(each.start <= at < each.end for each in quotations):
            yield _unopened(text, quotations, at)


OVERLAY = of_scene(quotation_marks, Stage.PROOF, ProofMark.INSERT)
EXAMPLES_MARKED = {
    "“Come [in,] she said.": "in,”",
    "“I came [home.]": "home.”",
    "He turned. [Go] home,” he said.": "“Go",
    "[”]Go home,” he said.": "“",
    "“Go home,[“] he said.": "”",
    "“He said [“never”] to me, twice,” she said.": "‘never’",
    "“That is not her hand,[’] said Abel.": "”",
    "“One for the [road,] he said, and drank.\nThe door shut.": "road,”",
    "“What, [then?]\n“If I thought so I would say so,” she said.": "then?”",
}
EXAMPLES_UNMARKED = (
    "“Come in,” she said. “It’s the dogs’ supper.”",
    "“It was a long road, and whoever takes it in such a month has to wade the half of it, with "
    "his boots in his hand.\n“And a wet one,” he said.",
    "She said ‘no’ and meant it.",
    "“He told me, ‘Go home,’ and I went.”",
)
