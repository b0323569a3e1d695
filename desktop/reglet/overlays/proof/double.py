"""Overlay: words set twice."""

from collections.abc import Iterator
from functools import cache

from reglet import resources
from reglet.language.words import Word
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Small words that no writer means to set twice, even with a mark between: "the, the".
_NEVER_TWICE = frozenset("a an the of to and or at by for from in into with as than if but".split())
_SPACE = frozenset(" \t\u00a0\u2028\u202f\u2009")


def double(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A word set twice is easy to write and hard to see, most of all across the end of a line.

    Words that are doubled on purpose ("had had", "no no", "very very") are asked about only where
    the overlay is strict.
    """
    strict = house.strictness_of("double") is Strictness.STRICT
    text = read.paragraph.text
    previous: Word | None = None
    for word in read.prose.words:
        if previous and word.text.lower() == previous.text.lower():
            low, between = word.text.lower(), text[previous.end : word.start]
            if _slipped(low, between, strict) and not _is_name(previous, word, text):
                yield Finding(
                    previous.start,
                    word.end,
                    f"“{word.text}” stands twice.",
                    proposal=previous.text,
                    mark=ProofMark.DELETE,
                )
        previous = word


def _slipped(word: str, between: str, strict: bool) -> bool:
    if not _SPACE.issuperset(between):
        return word in _NEVER_TWICE and between.strip(" ") in (",", ";", "")
    return strict or word not in _meant_twice()


def _is_name(previous: Word, word: Word, text: str) -> bool:
    """Capitalised twice inside a sentence: a name such as Baden Baden, or a sound."""
    inside = text[: previous.start].rstrip()[-1:] not in ("", ".", "!", "?", "“", "‘", '"')
    return word.text[:1].isupper() and len(word.text) > 1 and inside


@cache
def _meant_twice() -> frozenset[str]:
    lines = resources.path("words", "doubles.txt").read_text("utf-8").splitlines()
    return frozenset(line for line in lines if line and not line.startswith("#"))


OVERLAY = of_paragraph(double, Stage.PROOF, ProofMark.DELETE)
EXAMPLES_MARKED = {
    "He went to [the the] door.": "the",
    "[The the] door stood open.": "The",
    "She was [of, of] course, late.": "of",
    "a stone [in\u2028in] the wall": "in",
}
EXAMPLES_UNMARKED = (
    "All he had had was tea.",
    "“No, no,” she said. “No no no.”",
    "She knew that that was so.",
    "It was theirs. Theirs alone.",
    "“I—I can’t.”",
)
