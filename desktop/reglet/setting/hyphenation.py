"""Where a word may be hyphenated.

Liang's method (F. M. Liang, *Word Hy-phen-a-tion by Com-put-er*, 1983) with the pattern files
that the `pyphen` package carries; for English those are made for British and American usage apart.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from pathlib import Path

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
    if len(text) < LEAST_LETTERS or _OWN_HYPHENS.search(text):
        return ()
    return tuple(
        word.start() + point
        for word in _WORD.finditer(text)
        for point in _points_of_word(word[0].replace("’", "'"), language)
    )


@lru_cache(maxsize=65_536)
def _points_of_word(word: str, language: str) -> tuple[int, ...]:
    patterns = _patterns(language)
    small = word.lower()
    # A few capitals have two small letters, after which no offset would hold.
    if patterns is None or len(small) != len(word) or len(word) < LEAST_LETTERS:
        return ()
    # What hangs on an apostrophe is not told from the word by the patterns: should-n't.
    last = len(small.partition("'")[0]) - LEAST_AFTER
    return tuple(point for point in patterns.points(small) if point <= last)


_Numbers = tuple[int, tuple[int, ...]]
"""How far into a piece its first number stands, and the numbers."""

_NO_NUMBERS: _Numbers = (0, ())


class _Patterns:
    """Liang's patterns of one language: pieces of words, with a number between each two letters.

    Where pieces overlap the highest number holds; a word may be divided at odd numbers.
    """

    def __init__(self, path: Path) -> None:
        # pyphen reads the file. Its own search tries every piece up to the longest pattern; this
        # one stops as soon as no pattern begins so, and is twice as fast.
        patterns = pyphen.HyphDict(path).patterns
        self._pieces: dict[str, _Numbers] = {
            pattern[:end]: _NO_NUMBERS for pattern in patterns for end in range(1, len(pattern))
        }
        self._pieces.update(patterns)

    def points(self, word: str) -> tuple[int, ...]:
        """Where `word`, in small letters, may be divided."""
        pieces = self._pieces
        marked = f".{word}."
        highest = [0] * (len(marked) + 1)
        for start in range(len(marked) - 1):
            for end in range(start + 1, len(marked) + 1):
                piece = pieces.get(marked[start:end])
                if piece is None:
                    break
                if piece is not _NO_NUMBERS:
                    offset, numbers = piece
                    for place, number in enumerate(numbers, start + offset):
                        if number > highest[place]:
                            highest[place] = number
        last = len(word) - LEAST_AFTER
        return tuple(place for place in range(LEAST_BEFORE, last + 1) if highest[place + 1] % 2)


@cache
def _patterns(language: str) -> _Patterns | None:
    known = pyphen.language_fallback(language.replace("-", "_"))
    return _Patterns(pyphen.LANGUAGES[known]) if known else None
