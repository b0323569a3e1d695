"""Overlay: phrases that come ready made."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.word_lists import phrases
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_IMAGES = frozenset("as like".split())


def stock_phrase(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A phrase met too often is read past: nothing is seen. In speech it may be character.

    In narration; where strict in speech too; where lenient only ready-made likenesses.

    Source: our own list; phrases of this kind stand in every dictionary of idioms.
    """
    strictness = house.strictness_of("stock_phrase")
    prose = read.prose
    for found in phrases("stock_phrases.txt").found_in(read):
        said = prose.text[found.start : found.end]
        if strictness is Strictness.LENIENT and _IMAGES.isdisjoint(said.lower().split()):
            continue
        if strictness < Strictness.STRICT and prose.is_spoken(found.start):
            continue
        yield Finding(
            found.start,
            found.end,
            f"“{said}” comes ready made. What was it like here, and here only?",
        )


OVERLAY = of_paragraph(stock_phrase, Stage.LINE, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "Her [blood ran cold]. He was [white as a sheet].": None,
    "She [rolled her eyes].": None,
}
EXAMPLES_UNMARKED = ("The sheet was white.", "“You’re white as a sheet,” she said.")
