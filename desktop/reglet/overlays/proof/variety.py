"""Overlay: spellings of two varieties of English in one book."""

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from reglet import resources
from reglet.language.dictionary import dictionary
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use, commoner, counted

_ISE = re.compile(r"([a-z]{4,})([sz])(e[srd]?|ing|ation|ations|er|ers)")


def variety(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A book spells in one way: grey or gray, realise or realize, colour or color, all through.

    The way that the book goes more often is proposed; where neither is rare, nothing is asked.
    """
    for word, low in zip(read.prose.words, read.plain_words, strict=True):
        if len(low) < 4 or word.text[:1].isupper():
            continue
        if (way := _way(low)) is not None:
            yield Use(way[0], way[1], word.start, word.end, word.text)


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    common = commoner(use, tally)
    if common is None:
        return None
    return Finding(use.start, use.end, counted(use, common, tally), _better(use, common))


@lru_cache(maxsize=65536)
def _way(low: str) -> tuple[str, str] | None:
    """The question that a word answers and the way it goes, if it is of a variety."""
    british, american = _beginnings()
    # "humorous" and "vigorous" are British too.
    british_too, american_too = (dictionary(tag).lists(low) for tag in ("en-GB", "en-US"))
    for length in range(4, min(len(low), 12) + 1):
        head = low[:length]
        if head in british and not american_too:
            return british[head], f"“{head}”"
        if head in american and not british_too:
            return american[head], f"“{head}”"
    match = _ISE.fullmatch(low)
    if match is not None and _goes_both_ways(match[1]):
        vowel = match[1][-1]
        return f"-{vowel}se or -{vowel}ze", f"“-{vowel}{match[2]}e”"
    return None


def _goes_both_ways(stem: str) -> bool:
    """Whether both spellings are words: "realise", "realize"; never "surprise", "seize"."""
    one, other = dictionary("en-GB"), dictionary("en-US")
    return (
        stem.endswith(("i", "y"))
        and one.lists(stem + "se")
        and other.lists(stem + "ze")
        and not other.lists(stem + "se")
    )


@cache
def _beginnings() -> tuple[dict[str, str], dict[str, str]]:
    """British and American beginnings, each with the question that they answer."""
    british, american = {}, {}
    for line in resources.path("words", "varieties.txt").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            one, other = line.split()
            british[one] = american[other] = f"{one} or {other}"
    return british, american


def _better(use: Use, way: str) -> str:
    """The word in the other way."""
    if use.question.startswith("-"):
        old, new = ("s", "z") if "z" in way else ("z", "s")
        at = next(m.start(2) for m in [_ISE.fullmatch(use.text)] if m is not None)
        return use.text[:at] + use.text[at:].replace(old, new, 1)
    head = use.way.strip("“”")
    return way.strip("“”") + use.text[len(head) :]


OVERLAY = of_uses(variety, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The grey sea, the grey sky, a [gray] boat, greyer still.": "grey",
    "They realised, organised, and [recognized] it.": "recognised",
}
EXAMPLES_UNMARKED = (
    "A surprise, an exercise, a size, a prize. The grey sea and one colour.",
    "The grey sea, the gray boat.",
)
