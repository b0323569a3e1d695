"""Overlay: one compound in two or three ways: "wood stove", "wood-stove", "woodstove"."""

import re
from collections.abc import Iterator
from functools import lru_cache

from reglet.language.frequency import zipf
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use, commoner, counted

_HYPHENED = re.compile(r"([a-z]{3,})-([a-z]{3,})")
_SHORTEST = 3  # letters of each half
_IN_USE = 1.0  # Zipf value


def compound(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A compound goes one way all through a book, with a hyphen or closed up: the commoner way.

    Compared are compounds with a hyphen and the same letters closed up. Two words apart mean too
    often something else ("a high way") to be told from a compound.
    """
    for word in read.prose.words:
        text = word.text
        if _HYPHENED.fullmatch(text) or _may_be_two(text):
            yield Use(text.replace("-", ""), f"“{text}”", word.start, word.end, text)


@lru_cache(maxsize=65536)
def _may_be_two(word: str) -> bool:
    """Whether a word closed up may be put together from two that are in use."""
    cuts = range(_SHORTEST, len(word) - _SHORTEST + 1)
    return (
        bool(cuts)
        and word.isalpha()
        and word.islower()
        and any(zipf(word[:at]) >= _IN_USE and zipf(word[at:]) >= _IN_USE for at in cuts)
    )


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    common = commoner(use, tally)
    if common is None:
        return None
    return Finding(use.start, use.end, counted(use, common, tally), common.strip("“”"))


OVERLAY = of_uses(compound, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The woodstove.\nThe woodstove glowed.\nA woodstove.\nThe [wood-stove] was cold.": "woodstove",
    "A wood-stove, the wood-stove, his wood-stove.\nThe [woodstove] was cold.": "wood-stove",
}
EXAMPLES_UNMARKED = ("The wood-stove and the woodstove.", "A well-known man, well known.")
