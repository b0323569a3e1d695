"""Overlay: quotation marks without their fellow."""

import re
from collections.abc import Iterator

from reglet.language.speech import Marks, Quotation
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

_TAG = r"(?:said|asked|replied|cried|whispered|answered|shouted|murmured|muttered|called|told)\b"
_SINGLE_BEFORE_TAG = re.compile(
    rf"[,.!?…—](?P<mark>[’'])(?= (?:{_TAG}|(?:he|she|I|we|they|[A-Z]\w+) {_TAG}))"
)
_TAG_INSIDE = re.compile(r",(?! ‘) (?:said [A-Z]\w+|(?:he|she) (?:said|asked|replied)[.,])")
# Words of a speech, below which the closing mark is missing although the next paragraph opens with
# a mark: alone in its paragraph, or after other words. Of 3,565 speeches that run on, in 60 novels,
# 46 are shorter.
_SHORT_ALONE, _SHORT = 20, 10
_PAIRS = {"“": "”", "‘": "’", '"': '"', "'": "'", "«": "»", "„": "“"}


def quotation_marks(scene: ReadScene, house: House) -> Iterator[Finding]:
    """A speech that is opened and never closed, or closed and never opened, loses the reader.

    Speech that runs on into a paragraph which opens with a mark again needs no closing mark
    (common practice of printers).
    """
    found = list(scene.prose())
    for index, (start, read) in enumerate(found):
        following = found[index + 1][1] if index + 1 < len(found) else None
        for finding in _in_paragraph(read, following, house):
            yield Finding(
                start + finding.start,
                start + finding.end,
                finding.message,
                finding.proposal,
                finding.mark,
            )


def _in_paragraph(
    read: ReadParagraph, following: ReadParagraph | None, house: House
) -> Iterator[Finding]:
    text = read.paragraph.text
    quotations = [each for each in read.prose.quotations if each.depth == 0]
    singles = list(_single_for_double(read, house.marks))
    yield from singles
    for quotation in quotations:
        if any(quotation.start <= each.start < quotation.end for each in singles):
            continue
        if not quotation.closed and quotation.opened:
            at_the_end = quotation.end >= len(text.rstrip())
            tagged = quotation.spoken and _TAG_INSIDE.search(text, quotation.start)
            runs_on = following and _goes_on(following, read, quotation)
            if at_the_end and runs_on and not tagged:
                continue
            yield _unclosed(text, quotation)
        elif not quotation.opened and not quotation.continues:
            yield Finding(
                quotation.end - 1,
                quotation.end,
                "This mark closes a speech that was not opened.",
            )
    yield from _stray(text, quotations, house.marks)


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


def _goes_on(following: ReadParagraph, read: ReadParagraph, quotation: Quotation) -> bool:
    """Whether a speech left open runs on into the paragraph that follows."""
    found = following.prose.quotations
    opens = following.paragraph.text.lstrip()[:1] in _PAIRS
    if not opens and not any(each.continues for each in found):
        return False
    return not (opens and found and found[0].closed and _is_short(read, quotation))


def _is_short(read: ReadParagraph, quotation: Quotation) -> bool:
    """Whether a speech that begins here is too short to run on into a paragraph of its own. A story
    that is told, with speeches in it, may do so.
    """
    text = read.paragraph.text
    alone = not text[: quotation.start].strip()
    spoken = len(read.prose.words_in(quotation.start, quotation.end))
    return (
        not quotation.continues
        and "‘" not in text
        and text[quotation.end - 1] in ".?!"
        and spoken < (_SHORT_ALONE if alone else _SHORT)
    )


def _unclosed(text: str, quotation: Quotation) -> Finding:
    opening = text[quotation.start]
    end = quotation.end
    start = max(text.rfind(" ", quotation.start, end) + 1, quotation.start)
    return Finding(
        start,
        end,
        f"The speech that begins “{_opening_words(text, quotation)}” is not closed.",
        proposal=text[start:end] + _PAIRS.get(opening, opening),
    )


def _opening_words(text: str, quotation: Quotation) -> str:
    words = text[quotation.start + 1 : quotation.end].split()
    return " ".join(words[:4]) + ("…" if words[4:] else "")


def _stray(text: str, quotations: list[Quotation], marks: Marks) -> Iterator[Finding]:
    """Closing double marks that close nothing. Single ones cannot be told from apostrophes."""
    if marks is Marks.SINGLE and "“" not in text:
        return
    for at, letter in enumerate(text):
        if letter == "”" and not any(q.start <= at < q.end for q in quotations):
            yield Finding(at, at + 1, "This mark closes a speech that was not opened.")


OVERLAY = of_scene(quotation_marks, Stage.PROOF, ProofMark.INSERT)
EXAMPLES_MARKED = {
    "“Come in, she [said.]": "said.”",
    "He turned. Go home,[”] he said.": None,
    "“That is not her hand,[’] said Abel.": "”",
    "“One for the road, he said, and [drank.]\nThe door shut.": "drank.”",
    "“What, [then?]\n“If I thought so I would say so,” she said.": "then?”",
}
EXAMPLES_UNMARKED = (
    "“Come in,” she said. “It’s the dogs’ supper.”",
    "“It was a long road, and whoever takes it in such a month has to wade the half of it, with "
    "his boots in his hand.\n“And a wet one,” he said.",
    "She said ‘no’ and meant it.",
    "“He told me, ‘Go home,’ and I went.”",
)
