"""Overlay: "a" and "an" by the sound of the word that follows."""

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from reglet import resources
from reglet.language.words import plain
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Letters whose names begin with a vowel's sound, for words that are spelt out ("an M.P.").
_VOWEL_NAMES = frozenset("aefhilmnorsx")
_SPELT_OUT = re.compile(r"(?:[a-z]\.)+[a-z]?")


def article(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """The sound that follows decides between “a” and “an”, and a late change leaves the wrong one.

    "A" stands before a consonant's sound ("a European", "a one-eyed man"), "an" before a vowel's
    ("an hour", "an M.P."). Words whose h is sounded by some are left alone.

    Source: common practice; the list of sounds is ours.
    """
    text = read.paragraph.text
    for word, following in pairwise(read.prose.words):
        low = word.text.lower()
        if low not in ("a", "an") or text[word.end : following.start] not in (" ", "\u00a0"):
            continue
        if word.text == "A" and text[: word.start].rstrip()[-1:].isalnum():
            continue  # the letter
        needed = _needed(following.text)
        if needed is not None and needed != low:
            better = needed.capitalize() if word.text[0] == "A" else needed
            yield Finding(
                word.start, word.end, f"“{following.text}” begins with the other sound.", better
            )


def _needed(word: str) -> str | None:
    low = plain(word)
    if not low[0].isalpha() or not low.isascii():
        return None
    if word.isupper() and 1 < len(word) < 4 and not set("aeiou").isdisjoint(low):
        return None  # shouted or spelt out, who knows
    if _SPELT_OUT.fullmatch(low) or (word.isupper() and len(word) < 4):
        return None if low[0] == "u" else "an" if low[0] in _VOWEL_NAMES else "a"
    if len(low) == 1:
        return None
    either, vowel, consonant = _exceptions()
    if low.startswith(either):
        return None
    if low.startswith(vowel):
        return "an"
    if low.startswith(consonant):
        return "a"
    return "an" if low[0] in "aeiou" else "a"


@cache
def _exceptions() -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Beginnings of words that may take either, "an" or "a" against their spelling."""
    lists: dict[str, list[str]] = {}
    for line in resources.lines("words", "articles.txt"):
        kind, _, words = line.partition(":")
        lists[kind] = words.split()
    return tuple(lists["either"]), tuple(lists["an"]), tuple(lists["a"])


OVERLAY = of_paragraph(article, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "She had [a] apple and [an] pear.": None,
    "[A] hour went by.": "An",
    "It was [an] university.": "a",
}
EXAMPLES_UNMARKED = (
    "An hour, a one-eyed European, an uncle, a unit, an honest M.P., a historic day.",
    "Vitamin A is good. He gave it an “A” for effort; a, b and c.",
)
