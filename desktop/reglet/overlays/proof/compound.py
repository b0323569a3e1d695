"""Overlay: one compound in two or three ways: "wood stove", "wood-stove", "woodstove"."""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import zip_longest

from reglet.language.frequency import zipf
from reglet.language.neighbours import classes
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_HYPHENED = re.compile(r"([a-z]{3,})-([a-z]{3,})")
_SHORTEST = 3  # letters of each half
_IN_USE = 1.0  # Zipf value
_NOUNS = ("NN", "NNS")  # Penn Treebank tags
_AHEAD = 3  # the commonest way stands at least so many times as often as the next


def compound(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A compound goes one way all through a book, open, with a hyphen or closed: the commoner way.

    Two words apart are taken for a compound where both are nouns, and the book has them with a
    hyphen or closed up as well. A hyphen right before another noun ("a wood-stove fire") says
    nothing: an open compound has one there, too.

    Source: New Hart's Rules, on compound words (from memory).
    """
    words = read.prose.words
    for word, after in zip_longest(words, words[1:]):
        text = word.text
        beside = after is not None and read.paragraph.text[word.end : after.start] == " "
        if _HYPHENED.fullmatch(text):
            if not (beside and after and _is_noun(after.text)):
                yield _use(word.start, word.end, text)
        elif _may_be_two(text):
            yield _use(word.start, word.end, text)
        elif beside and after and _are_nouns(text, after.text):
            yield _use(word.start, after.end, f"{text} {after.text}")


def _use(start: int, end: int, text: str) -> Use:
    """One place; a plural answers the question of its singular."""
    one = text[:-1] if text.endswith("s") and not text.endswith("ss") else text
    return Use(re.sub("[- ]", "", one), f"“{one}”", start, end, text)


def _are_nouns(one: str, other: str) -> bool:
    return all(
        len(word) >= _SHORTEST and word.isascii() and word.isalpha() and word.islower()
        for word in (one, other)
    ) and (_is_noun(one) and _is_noun(other))


@lru_cache(maxsize=65536)
def _is_noun(word: str) -> bool:
    return classes([word.lower()])[0] in _NOUNS


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
    counts = sorted(tally.ways(use.question).values(), reverse=True)
    if len(counts) > 1 and counts[0] < _AHEAD * counts[1] and not sheet.way(use.question):
        return None
    return one_way(use, tally, sheet, _better, most=0.5)


def _better(use: Use, way: str) -> str:
    """The compound as `way` has it, its plural kept."""
    model = way.strip("“”")
    letters = re.sub("[- ]", "", use.text)
    cut = re.search("[- ]", model)
    if cut is None:
        return letters
    return letters[: cut.start()] + cut[0] + letters[cut.start() :]


OVERLAY = of_uses(compound, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The woodstove.\nThe woodstove glowed.\nA woodstove.\nThe [wood-stove] was cold.": "woodstove",
    "A wood-stove, the wood-stove, his wood-stove.\nThe [woodstove] was cold.": "wood-stove",
    "A wood-stove, the wood-stove, his wood-stove.\nThe [wood stove] was cold.": "wood-stove",
    "A wood stove, the wood stove, his wood stove.\nThe [woodstoves].": "wood stoves",
}
EXAMPLES_UNMARKED = (
    "The wood-stove and the woodstove.",
    "A well-known man, well known.",
    "A wood stove. The wood stove.\nA wood-stove fire.",
)
