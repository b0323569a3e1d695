"""British or American: a guess at the language of a draft from the spellings in it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from reglet import resources
from reglet.exchange.draft import DraftParagraph
from reglet.manuscript.words import word_pattern

BRITISH, AMERICAN = "en-GB", "en-US"


def guess_language(paragraphs: Iterable[DraftParagraph], declared: str) -> str:
    """The BCP 47 tag that fits the spellings in a draft.

    Words that the two sides spell differently (`resources/exchange/two_spellings.txt`: colour and
    color, grey and gray) are counted, each form once, since a writer who writes a word one way
    writes it so always. The side with more forms is taken; on a tie, the language that the file
    declares, and American English where it declares none.
    """
    british, american = _sides()
    found: set[str] = set()
    for each in paragraphs:
        text = each.text.lower()
        found.update(word_pattern(text).findall(text))
    ours, theirs = len(found & british), len(found & american)
    if ours != theirs:
        return BRITISH if ours > theirs else AMERICAN
    return declared or AMERICAN


@cache
def _sides() -> tuple[frozenset[str], frozenset[str]]:
    lines = resources.path("exchange", "two_spellings.txt").read_text("utf-8").splitlines()
    pairs = [line.split() for line in lines if line.strip() and not line.startswith("#")]
    return frozenset(pair[0] for pair in pairs), frozenset(pair[1] for pair in pairs)
