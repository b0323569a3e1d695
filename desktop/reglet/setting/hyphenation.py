"""Where a word may be hyphenated.

Liang's method (F. M. Liang, *Word Hy-phen-a-tion by Com-put-er*, 1983) with the pattern files
that the `pyphen` package carries; for English those are made for British and American usage apart.
"""

from __future__ import annotations

import re
from functools import cache

import pyphen

LEAST_BEFORE = 2
LEAST_AFTER = 3
"""Letters that stay on the line, and that go to the next: the values that TeX's English
patterns were made for (Knuth, *The TeXbook*, appendix H)."""

LEAST_LETTERS = LEAST_BEFORE + LEAST_AFTER

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_OWN_HYPHENS = re.compile("[-\u2010\u2011]")


def points(text: str, language: str) -> tuple[int, ...]:
    """The code points of `text`, a stretch without spaces, before which a hyphen may end a line.

    `language` is a BCP 47 tag or a locale name; where there are no patterns for it, no points.
    A word that has a hyphen of its own is divided at that one only (common practice).
    """
    patterns = _patterns(language)
    if patterns is None or len(text) < LEAST_LETTERS or _OWN_HYPHENS.search(text):
        return ()
    found: list[int] = []
    for word in _WORD.finditer(text):
        letters = word[0].replace("’", "'")
        if len(letters) >= LEAST_LETTERS:
            found.extend(word.start() + position for position in patterns.positions(letters))
    return tuple(found)


@cache
def _patterns(language: str) -> pyphen.Pyphen | None:
    known = pyphen.language_fallback(language.replace("-", "_"))
    if known is None:
        return None
    return pyphen.Pyphen(lang=known, left=LEAST_BEFORE, right=LEAST_AFTER)
