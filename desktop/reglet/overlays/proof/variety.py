"""Overlay: spellings of two varieties of English in one book."""

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from reglet import resources
from reglet.language.dictionary import dictionary
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import Choice, ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use, commoner_of

# How the two spell otherwise, British first: "ll/l" as in "travelled", "l/ll" as in "skilful".
_RULES = tuple(
    tuple(rule.split("/"))
    for rule in (
        "our/or ou/o re/er ll/l l/ll yse/yze ysi/yzi ence/ense ae/e oe/e œ/e œu/eu ph/f sc/sk "
        "ough/ow mm/m pp/p gg/g que/ck y/i c/s s/c au/a ey/ay"
    ).split()
)
_NOUNS = ("analyses", "paralyses")
_BRITISH = ("en-GB", "en-IE", "en-AU", "en-NZ", "en-ZA")
_ALWAYS = 3  # times from which a spelling against the book's language is taken for its way
_ISE = re.compile(
    r"(?:un)?([a-z]{4,})([sz])(e[srd]?|ing|ingly|ation|ations|er|ers|able|ably|edly|ement)"
)


def variety(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A book spells in one way: grey or gray, realise or realize, colour or color, all through.

    The way that the book goes more often is proposed. Where neither is rare, or a spelling stands
    alone, the book's own variety of English decides; one that the book always goes against is asked
    about where it stands first. -ise and -ize are both British.

    Source: the dictionaries of Hunspell for British and American English.
    """
    for word, low in zip(read.prose.words, read.plain_words, strict=True):
        if len(low) < 4 or word.text[:1].isupper():
            continue
        if (way := _way(low)) is not None:
            yield Use(way[0], way[1], word.start, word.end, word.text)


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    found = one_way(use, tally, sheet, _better)
    ways = tally.ways(use.question)
    if found is not None or sheet.way(use.question) or commoner_of(ways) is not None:
        return found
    own = _own(use.question, house.language)
    if own is None or own == use.way:
        return None
    if len(ways) == 1 and ways[use.way] >= _ALWAYS and tally.first(use.question) is not use:
        return None
    language = "British" if house.language in _BRITISH else "American"
    said = f"The book is in {language} English, which has {own}, and it has {use.way} "
    choice = Choice(use.question, own)
    return Finding(
        use.start, use.end, f"{said}{times(ways[use.way])}.", _better(use, own), choice=choice
    )


def _own(question: str, language: str) -> str | None:
    """The way of a variety of English; None where it has both."""
    if question.startswith("-"):
        american = f"“{question.split(' or ')[1]}”"
        return american if language == "en-US" else None
    british, american = (f"“{each}”" for each in question.split(" or "))
    return british if language in _BRITISH else american if language == "en-US" else None


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
    if match is not None and low not in _NOUNS and _goes_both_ways(match[1]):
        vowel = match[1][-1]
        return f"-{vowel}se or -{vowel}ze", f"“-{vowel}{match[2]}e”"
    if british_too != american_too and (other := _counterpart(low, british_too)) is not None:
        pair = (low, other) if british_too else (other, low)
        return f"{pair[0]} or {pair[1]}", f"“{low}”"
    return None


def _counterpart(low: str, british: bool) -> str | None:
    """The word as the other variety spells it, by the rules that part the two."""
    own, other = dictionary("en-GB"), dictionary("en-US")
    if not british:
        own, other = other, own
    for rule in _RULES:
        old, new = rule if british else rule[::-1]
        at = low.find(old, 1)
        while at >= 0:
            made = low[:at] + new + low[at + len(old) :]
            if other.lists(made) and not own.lists(made):
                return made
            at = low.find(old, at + 1)
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
    for line in resources.lines("words", "varieties.txt"):
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
    "The [color] of the sea.": "colour",
    "The grey sea, the [gray] boat.": "grey",
    "He [traveled] on.": "travelled",
}
EXAMPLES_UNMARKED = (
    "A surprise, an exercise, a size, a prize. The grey sea and one colour.",
    "The grey sea, the grey boat.",
)
