"""Overlay: a right spelling of the wrong word."""

from collections.abc import Iterator

from reglet.language.confusions import misfits
from reglet.language.neighbours import pieces
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# How far the evidence must go beyond what misleads in one place of two million words of clean
# prose, in natural logarithms of the odds (our own figures).
_LEAST = {Strictness.LENIENT: 1.0, Strictness.USUAL: 0.0, Strictness.STRICT: -1.5}


def wrong_word(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A slip that is itself a word ("form" for "from") gets past the eye and the dictionary.

    What stands around each word of a pair that is easily confused is weighed; the overlay speaks
    where the other word fits far better.
    """
    found = pieces(read.paragraph.text)
    least = _LEAST[house.strictness_of("wrong_word")]
    for misfit in misfits([piece.text for piece in found], least):
        piece = found[misfit.at]
        word = read.paragraph.text[piece.start : piece.end]
        if (
            word[:1].isupper()
            and len(word) > 1
            and _inside_sentence(read.paragraph.text, piece.start)
        ):
            continue  # a name
        better = _dressed(misfit.better, word)
        yield Finding(piece.start, piece.end, f"“{better}” would fit here.", proposal=better)


def _inside_sentence(text: str, at: int) -> bool:
    before = text[:at].rstrip()[-1:]
    return before.isalnum() or before in ",;"


def _dressed(better: str, word: str) -> str:
    """The better word with the capitals and the apostrophe of the one that stands."""
    if "'" not in word:
        better = better.replace("'", "’")
    if word.isupper() and len(word) > 1:
        return better.upper()
    return better[:1].upper() + better[1:] if word[:1].isupper() else better


OVERLAY = of_paragraph(wrong_word, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "He turned his face [form] the fire and went out.": "from",
    "They walked [passed] the mill.": "past",
}
EXAMPLES_UNMARKED = (
    "It’s a long way to the mill, and its wheel has stopped.",
    "“They’re late,” said Mrs Stile, “and their coats are gone.”",
)
