"""How common a word is in English fiction, on the Zipf scale.

The Zipf scale is the logarithm to base ten of a word's occurrences in a thousand million words
(van Heuven, Mandera, Keuleers and Brysbaert 2014): "the" is near 7.7, "said" 6.7, "candle" 4.6.
The table in ``resources/language/frequency.txt.xz`` is counted by us (``packaging/tagger_model``)
from novels in the public domain, so words of the last eighty years stand lower than they would
today ("phone" 4.2, "okay" 3.3).
"""

import lzma
from functools import cache

from reglet import resources
from reglet.language.remembered import Remembered
from reglet.language.words import plain


def zipf(word: str) -> float:
    """The Zipf value of a word form, whatever its case; 0.0 for one not in the table."""
    return _ZIPF[word]


def is_mostly_name(word: str) -> bool:
    """Whether fiction writes the word with a capital nearly always ("London", "Dorothy")."""
    return _plain(word) in _names()


def _plain(word: str) -> str:
    return plain(word).removesuffix("'s")


@cache
def _rows() -> list[tuple[str, str]]:
    with lzma.open(resources.path("language", "frequency.txt.xz"), "rt", encoding="utf-8") as lines:
        return [
            (word, value) for word, _, value in (line.rstrip("\n").partition(" ") for line in lines)
        ]


@cache
def _table() -> dict[str, float]:
    return {word: int(value.rstrip("N")) / 10 for word, value in _rows()}


@cache
def _names() -> frozenset[str]:
    return frozenset(word for word, value in _rows() if value.endswith("N"))


_ZIPF = Remembered(lambda word: _table().get(_plain(word), 0.0))
