"""How the paragraphs of a scene are put together into the windows that the network reads.

A window is what the network sees at once, so the same window always gives the same scores, and they
may be kept by it. Where one window ends is told by the paragraphs themselves: an edit moves the
ends near by, and those further on stay where they were.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

WINDOW = 288  # words in a window at most; a longer paragraph is cut
OVERLAP = 24  # words on either side of a cut that serve as context only
_ENOUGH = 160  # words from which a window may end before the next would make it too long
_ENDS_ONE_IN = 3


@dataclass(frozen=True, slots=True)
class Piece:
    """Words `first` to `last` of a paragraph, of which those from `begin` to `end` are judged."""

    paragraph: int
    first: int
    last: int
    begin: int
    end: int


def windows(paragraphs: Sequence[str], lengths: Sequence[int]) -> Iterator[list[Piece]]:
    """Whole paragraphs together up to WINDOW words; a longer paragraph in overlapping pieces.

    `lengths` are the paragraphs' lengths in words; those without a word are in no window.
    """
    held: list[Piece] = []
    size = 0
    for number, (text, length) in enumerate(zip(paragraphs, lengths, strict=True)):
        if length == 0:
            continue
        if held and size + length > WINDOW:
            yield held
            held, size = [], 0
        if length > WINDOW:
            yield from _cut(number, length)
            continue
        held.append(Piece(number, 0, length, 0, length))
        size += length
        if size >= _ENOUGH and zlib.crc32(text.encode()) % _ENDS_ONE_IN == 0:
            yield held
            held, size = [], 0
    if held:
        yield held


def _cut(paragraph: int, length: int) -> Iterator[list[Piece]]:
    begin = 0
    while begin < length:
        first = max(0, begin - OVERLAP)
        last = min(length, first + WINDOW)
        end = last if last == length else last - OVERLAP
        yield [Piece(paragraph, first, last, begin, end)]
        begin = end
