"""Words and tokens of one paragraph, with code-point offsets.

A *word* is what a novelist counts. A *token* is a piece that has one part of speech of its own:
"didn’t" is one word and two tokens ("did", "n’t"); a comma is a token and no word.

The rule for counting (common practice of word processors, made exact): words are parted by white
space and also by em and en dashes, double hyphens, ellipses, slashes and other marks; a hyphen or
an apostrophe between letters does not part a word; a run with no letter or digit in it ("***",
"&", "—") is not a word. So "twenty-one", "don’t", "U.S.A.", "1,000" and "3.14" are one each,
"wait—no" is two. ``count(text)`` is always ``len(words(text))``.
"""

import re
from functools import lru_cache
from typing import NamedTuple

# Marks that Python's ``\w`` leaves out but that belong to the letter before them: combining
# accents, and the vowel signs of South and South-East Asian scripts.
_MARKS = (
    "\u00ad\u0300-\u036f\u0483-\u0489\u0591-\u05bd\u0610-\u061a\u064b-\u065f\u0900-\u0dff"
    "\u0e00-\u0eff\u1ab0-\u1aff\u20d0-\u20ff\ufe20-\ufe2f"
)
# Words that begin with an apostrophe because their first sound is dropped. Our own list.
APHAERESES = (
    "tis twas twere twill twould twasn tisn tain em un uns cause cos cuz coz bout round til till "
    "nough gainst neath midst mongst fraid scuse spect ere ow ome ouse im er is ave ad e"
).split()
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
_WORD = rf"{_BODY}|['’](?<![^\W_].)(?=(?i:{_SAFE_APHAERESES})(?![^\W_])|\d0s\b){_BODY}"
_ADDRESS = (
    r"(?:https?://|www\.)[^\s<>“”\"]*[\w/]"  # a web address
    r"|[\w.+-]+@[\w-]+(?:\.[\w-]+)+"  # a mail address
)
_MARK = r"\.{2,}|-{2,}|[^\w\s]|_"
_WORDS = re.compile(_WORD)
_TOKENS = re.compile(f"(?P<word>{_WORD})|{_MARK}")
# Looking for addresses costs as much as all the rest, and few paragraphs can have one.
_WORDS_AND_ADDRESSES = re.compile(f"{_ADDRESS}|{_WORD}")
_TOKENS_AND_ADDRESSES = re.compile(f"(?P<word>{_ADDRESS}|{_WORD})|{_MARK}")
_CLITIC = re.compile(r"(?:n['’ʼ]t|['’ʼ](?:s|d|ll|re|ve|m))$", re.IGNORECASE)


class Word(NamedTuple):
    """One word: ``text[start:end]`` of its paragraph, in code points.

    A tuple, not a dataclass, because a novel has a hundred thousand of them. An apostrophe that
    ends a word ("dogs’", "runnin’") is not part of ``text``; one that begins it is only in words
    such as ’tis and ’em.
    """

    start: int
    end: int
    text: str


class Token(NamedTuple):
    """A word, a part of a contraction or possessive, or one mark; offsets in code points."""

    start: int
    end: int
    text: str
    is_word: bool


# A named tuple made without the detour over its own __new__: a third of the time of `words` and
# `tokens` would go there.
_make = tuple.__new__


def _may_hold_address(text: str) -> bool:
    return "@" in text or "://" in text or "www." in text


def words(text: str) -> tuple[Word, ...]:
    """The words of ``text`` in order. Never raises."""
    pattern = _WORDS_AND_ADDRESSES if _may_hold_address(text) else _WORDS
    return tuple([_make(Word, (*match.span(), match[0])) for match in pattern.finditer(text)])


def count(text: str) -> int:
    """How many words ``text`` has, without making them: the count used everywhere in Reglet."""
    pattern = _WORDS_AND_ADDRESSES if _may_hold_address(text) else _WORDS
    return len(pattern.findall(text))


def tokens(text: str) -> tuple[Token, ...]:
    """Words, the parts of contracted words, and marks, in order; they cover all but white space."""
    found: list[Token] = []
    add = found.append
    pattern = _TOKENS_AND_ADDRESSES if _may_hold_address(text) else _TOKENS
    for match in pattern.finditer(text):
        piece = match[0]
        start, end = match.span()
        if match.lastindex is None:
            add(_make(Token, (start, end, piece, False)))
        elif piece.isalpha() and piece not in _JOINED:
            add(_make(Token, (start, end, piece, True)))
        else:
            for part in parts(piece):
                end = start + len(part)
                add(Token(start, end, part, True))
                start = end
    return tuple(found)


# Words that are two tokens with no apostrophe to show it, as in the Penn Treebank.
_JOINED = {"cannot": 3, "Cannot": 3, "CANNOT": 3}


@lru_cache(maxsize=4096)
def parts(word: str) -> tuple[str, ...]:
    """A contracted or possessive word in its parts: "couldn’t’ve" → "could", "n’t", "’ve"."""
    cut = _JOINED.get(word)
    if cut is not None:
        return word[:cut], word[cut:]
    ends: list[str] = []
    while (match := _CLITIC.search(word)) and match.start() > 0:
        ends.append(match[0])
        word = word[: match.start()]
    return (word, *reversed(ends))
