"""Overlay: sentences that open with "there was" or "it was"."""

import re
from collections.abc import Iterator

from reglet.language.prose import Prose
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_BE = "was|were|is|are|had been|has been|have been|will be|would be|may be|might be|came|stood"
_OPENING = re.compile(
    rf"[*_]?(?:(?P<there>There (?:{_BE}))|(?P<it>It (?:was|is|had been|would be)))\b"
)
# "It was she who …", "it was clear that …"; "it was a lamp that …" tells what a thing was.
_CLEFT = re.compile(
    r" (?!(?:an?|like|something|one|so|too|as|the same|[a-z]+ing)\b)"
    r"[^,;:—.!?]{1,40}? (?:who|that)\b"
)
# In these "there" is a place, or the sentence says that something is so, and needs its "there".
_NOT_EMPTY = re.compile(r" (?:he|she|they|I|we|no|nothing|not|never|none|little|nobody|no one)\b")


def empty_opening(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """“There was” and “it was … that” open a sentence with words that name nothing yet.

    Only in narration. Where lenient, only where a verb follows that could carry the sentence (“a
    man standing”); where strict, every “it was” and the present too.
    """
    prose = read.prose
    if "There" not in prose.text and "It" not in prose.text:
        return
    strictness = house.strictness_of("empty_opening")
    for sentence in prose.sentences:
        opening = _OPENING.match(prose.text, sentence.start)
        if opening is None or prose.is_spoken(sentence.start):
            continue
        carried = _carried(prose, opening.end(), sentence.end)
        if strictness is Strictness.LENIENT and not carried:
            continue
        if strictness < Strictness.STRICT and not _is_usual(prose, opening, sentence.end):
            continue
        advice = f" Could “{carried}” carry it?" if carried else " What could come first?"
        yield Finding(
            opening.start(), opening.end(), f"The sentence opens with “{opening[0]}”.{advice}"
        )


def _is_usual(prose: Prose, opening: re.Match[str], end: int) -> bool:
    if opening["it"]:
        return opening["it"].startswith("It was") and bool(
            _CLEFT.match(prose.text, opening.end(), end)
        )
    return opening["there"].endswith(("was", "were", "been")) and not _NOT_EMPTY.match(
        prose.text, opening.end()
    )


def _carried(prose: Prose, start: int, end: int) -> str:
    """A verb further on that could be the sentence's own: "a man standing", "a lamp that swung"."""
    for at, token in enumerate(prose.tokens):
        if token.start < start:
            continue
        if token.start >= end or token.text in ",;:—.":
            return ""
        if prose.tags[at] == "VBG" and prose.tags[at - 1] in ("NN", "NNS", "NNP"):
            return token.text
        if token.text in ("who", "that", "which") and prose.tags[at + 1 : at + 2] == ("VBD",):
            return prose.tokens[at + 1].text
    return ""


OVERLAY = of_paragraph(empty_opening, Stage.LINE, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "[There was] a man standing at the gate.": None,
    "He stopped. [It was] the ledger that she wanted.": None,
}
EXAMPLES_UNMARKED = (
    "It was cold. She put on her coat.",
    "There she was. “There was a man,” he said.",
    "There was nothing to be done.",
)
