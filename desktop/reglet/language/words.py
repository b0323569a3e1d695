"""Words and tokens of one paragraph, with code-point offsets.

A *word* is what a novelist counts. A *token* is a piece that has one part of speech of its own:
"didn’t" is one word and two tokens ("did", "n’t"); a comma is a token and no word.

What a word is, and how words are counted, is settled in `manuscript.words`.
"""

import re
from enum import Enum
from typing import NamedTuple, TypeAlias

from reglet.language.remembered import Remembered
from reglet.manuscript.words import ADDRESS, WORD, may_hold_address

# Words that begin with an apostrophe because their first sound is dropped. Our own list.
APHAERESES = (
    "tis twas twere twill twould twasn tisn tain em un uns cause cos cuz coz bout round til till "
    "nough gainst neath midst mongst fraid scuse spect ere ow ome ouse im er is ave ad e"
).split()
_MARK = r"\.{2,}|-{2,}|[^\w\s]|_"
_TOKENS = re.compile(f"(?P<word>{WORD})|{_MARK}")
_TOKENS_AND_ADDRESSES = re.compile(f"(?P<word>{ADDRESS}|{WORD})|{_MARK}")
_CLITIC = re.compile(r"(?:n['’ʼ]t|['’ʼ](?:s|d|ll|re|ve|m))$", re.IGNORECASE)


class Token(NamedTuple):
    """A word, a part of a contraction or possessive, or one mark: ``text[start:end]`` of its
    paragraph, in code points.

    A tuple, not a dataclass, because a novel has a hundred thousand of them.
    """

    start: int
    end: int
    text: str


Word: TypeAlias = Token
"""A word that is counted: one token, or several taken together.

An apostrophe that ends a word ("dogs’", "runnin’") is not part of it; one that begins it is only in
words such as ’tis and ’em.
"""


def plain(word: str) -> str:
    """A word in small letters with straight apostrophes, as word lists have it."""
    return word.lower().replace("’", "'")


def written_like(word: str, model: str) -> str:
    """A plain word with the capitals and the apostrophe of another."""
    if "'" not in model:
        word = word.replace("'", "’")
    if model.isupper() and len(model) > 1:
        return word.upper()
    return word[:1].upper() + word[1:] if model[:1].isupper() else word


class Pieces(NamedTuple):
    """A text in its words, and in its tokens; `plain` are the words as `plain` gives them."""

    words: tuple[Word, ...]
    tokens: tuple[Token, ...]
    plain: tuple[str, ...]


def words(text: str) -> tuple[Word, ...]:
    """The words of ``text`` in order. Never raises."""
    return cut(text).words


def tokens(text: str) -> tuple[Token, ...]:
    """Words, the parts of contracted words, and marks, in order; they cover all but white space."""
    return cut(text).tokens


class _Kind(Enum):
    WORD_AND_TOKEN = 0
    WORD = 1
    TOKEN = 2


_BOTH, _WORD, _TOKEN = _Kind

# A named tuple made without the detour over its own __new__, where a third of the time would go.
_make = tuple.__new__


def cut(text: str) -> Pieces:
    """The words and the tokens of ``text``. Never raises."""
    found_words: list[Word] = []
    found: list[Token] = []
    plain_words: list[str] = []
    at = 0
    for run in text.split(" "):
        for start, end, piece, kind, small in _RUNS[run]:
            token = _make(Token, (at + start, at + end, piece))
            if kind is not _TOKEN:
                found_words.append(token)
                plain_words.append(small)
            if kind is not _WORD:
                found.append(token)
        at += len(run) + 1
    return Pieces(tuple(found_words), tuple(found), tuple(plain_words))


def _cut_run(run: str) -> tuple[tuple[int, int, str, _Kind, str], ...]:
    """The pieces of a stretch without spaces, each word in small letters too."""
    found: list[tuple[int, int, str, _Kind, str]] = []
    pattern = _TOKENS_AND_ADDRESSES if may_hold_address(run) else _TOKENS
    for match in pattern.finditer(run):
        start, end = match.span()
        if match.lastindex is None:
            found.append((start, end, match[0], _TOKEN, ""))
            continue
        several = parts(match[0])
        kind = _WORD if len(several) > 1 else _BOTH
        found.append((start, end, match[0], kind, plain(match[0])))
        for part in several if len(several) > 1 else ():
            found.append((start, start + len(part), part, _TOKEN, ""))
            start += len(part)
    return tuple(found)


_RUNS = Remembered(_cut_run)
"""No word reaches over a space, and novels repeat themselves: nine stretches in ten have been cut
before, so that a text is cut in about half the time that it takes to look at every letter.
"""


# Words that are two tokens with no apostrophe to show it, as in the Penn Treebank.
_JOINED = {"cannot": 3, "Cannot": 3, "CANNOT": 3}


def parts(word: str) -> tuple[str, ...]:
    """A contracted or possessive word in its parts: "couldn’t’ve" → "could", "n’t", "’ve"."""
    joint = _JOINED.get(word)
    if joint is not None:
        return word[:joint], word[joint:]
    if word.isalpha():
        return (word,)
    ends: list[str] = []
    while (match := _CLITIC.search(word)) and match.start() > 0:
        ends.append(match[0])
        word = word[: match.start()]
    return (word, *reversed(ends))
