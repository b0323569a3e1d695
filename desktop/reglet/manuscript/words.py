"""What counts as a word, wherever Reglet counts them.

A word is a run of letters and digits, held together inside by apostrophes, hyphens, and the marks
inside a number: "o'clock", "wood-stove" and "3,120" are one each; a dash parts two words. This is
close to what word processors count, which part at white space, and fairer where a dash is set
without spaces.
"""

from __future__ import annotations

import re
from functools import lru_cache

WORD = re.compile(r"[^\W_]+(?:(?:['’\-\u2010\u2011]|(?<=\d)[.,:](?=\d))[^\W_]+)*")


@lru_cache(maxsize=65536)
def count_words(text: str) -> int:
    """The number of words in `text`."""
    return len(WORD.findall(text))
