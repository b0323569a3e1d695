"""What counts as a word, wherever Reglet counts or parts them.

The rule (common practice of word processors, made exact): words are parted by white space and also
by em and en dashes, double hyphens, ellipses, slashes and other marks; a hyphen or an apostrophe
between letters does not part a word; a run with no letter or digit in it ("***", "&", "—") is not
a word. So "twenty-one", "don’t", "U.S.A.", "1,000" and "3.14" are one each, "wait—no" is two.
"""

from __future__ import annotations

import re
from functools import lru_cache

# Marks that Python's ``\w`` leaves out but that belong to the letter before them: combining
# accents, and the vowel signs of South and South-East Asian scripts.
_MARKS = (
    "\u00ad\u0300-\u036f\u0483-\u0489\u0591-\u05bd\u0610-\u061a\u064b-\u065f\u0900-\u0dff"
    "\u0e00-\u0eff\u1ab0-\u1aff\u20d0-\u20ff\ufe20-\ufe2f"
)
# Only these are safe to read as dropped letters without knowing where quotations stand.
_SAFE_APHAERESES = (
    "tis|twas|twere|twill|twould|twasn|tisn|tain|em|cause|bout|til|nough|gainst|neath|mongst|fraid"
)

# What may stand inside a word: an apostrophe, a hyphen, &; a point or comma between digits; a point
# between single letters (U.S.A., a.m., J.R.R.), and then the last point belongs to the word too.
_JOINT = (
    r"(?:['’ʼ‐‑&-]"
    r"|[.,:](?:(?<=\d.)(?=\d)|(?<=\.)(?<=(?<![^\W_])[^\W\d_].)(?=[^\W\d_](?![^\W_]))))"
)
_BODY = rf"[^\W_]+(?:[{_MARKS}]+[^\W_]*|{_JOINT}[^\W_]+)*(?:(?<=\.[^\W\d_])\.)?"
WORD = rf"{_BODY}|['’](?<![^\W_].)(?=(?i:{_SAFE_APHAERESES})(?![^\W_])|\d0s\b){_BODY}"
ADDRESS = (
    r"(?:https?://|www\.)[^\s<>“”\"]*[\w/]"  # a web address
    r"|[\w.+-]+@[\w-]+(?:\.[\w-]+)+"  # a mail address
)
# Looking for addresses costs as much as all the rest, and few paragraphs can have one.
_WORDS = re.compile(WORD)
_WORDS_AND_ADDRESSES = re.compile(f"{ADDRESS}|{WORD}")


def may_hold_address(text: str) -> bool:
    """Whether `text` needs to be looked through for web and mail addresses."""
    return "@" in text or "://" in text or "www." in text


def word_pattern(text: str) -> re.Pattern[str]:
    """What finds the words of `text`, one match each."""
    return _WORDS_AND_ADDRESSES if may_hold_address(text) else _WORDS


@lru_cache(maxsize=65536)
def count_words(text: str) -> int:
    """The number of words in `text`. Never raises."""
    return sum(map(_count_in_run, text.split()))


@lru_cache(maxsize=65536)
def _count_in_run(run: str) -> int:
    """No word reaches over white space, and most stretches between have been counted before."""
    return len(word_pattern(run).findall(run))
