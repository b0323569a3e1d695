"""Words and tokens of one paragraph, with code-point offsets.

A *word* is what a novelist counts. A *token* is a piece that has one part of speech of its own:
"didn’t" is one word and two tokens ("did", "n’t"); a comma is a token and no word.

What a word is, and how words are counted, is settled in `manuscript.words`.
"""

import re
from functools import lru_cache
from typing import NamedTuple

from reglet.manuscript.words import ADDRESS, WORD, may_hold_address, word_pattern

# Words that begin with an apostrophe because their first sound is dropped. Our own list.
APHAERESES = (
    "tis twas twere twill twould twasn tisn tain em un uns cause cos cuz coz bout round til till "
    "nough gainst neath midst mongst fraid scuse spect ere ow ome ouse im er is ave ad e"
).split()
_MARK = r"\.{2,}|-{2,}|[^\w\s]|_"
_TOKENS = re.compile(f"(?P<word>{WORD})|{_MARK}")
_TOKENS_AND_ADDRESSES = re.compile(f"(?P<word>{ADDRESS}|{WORD})|{_MARK}")
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


def words(text: str) -> tuple[Word, ...]:
    """The words of ``text`` in order. Never raises."""
    found = word_pattern(text).finditer(text)
    return tuple([_make(Word, (*match.span(), match[0])) for match in found])


def tokens(text: str) -> tuple[Token, ...]:
    """Words, the parts of contracted words, and marks, in order; they cover all but white space."""
    found: list[Token] = []
    add = found.append
    pattern = _TOKENS_AND_ADDRESSES if may_hold_address(text) else _TOKENS
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
