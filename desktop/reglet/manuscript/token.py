"""A passage as tokens: what two states are compared by, and put together again from.

Words are tokens, so is each stretch of white space and each mark, so is the beginning of a
paragraph. A token carries its style or its spans with it; a word set in italics is a different
token from the same word in roman, so a difference in tokens leaves nothing out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import accumulate, chain
from typing import NamedTuple

from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.words import WORD

_TOKEN = re.compile(rf"{WORD}|\s+|.", re.DOTALL)

Format = tuple[tuple[int, int, SpanKind, str], ...]


class Token(NamedTuple):
    """A piece of text with the spans that fall on it, their positions counted from its start; or,
    where `style` is given, the beginning of a paragraph of that style, with no text of its own.

    A tuple, not a dataclass, because a novel has a quarter of a million of them.
    """

    text: str
    format: Format = ()
    style: Style | None = None


def tokens(passage: Passage) -> tuple[Token, ...]:
    """The tokens of a passage, in order; it starts with the beginning of its first paragraph."""
    return tuple(chain.from_iterable(map(_paragraph_tokens, passage.paragraphs)))


def passage_of(parts: Iterable[Token]) -> Passage:
    """The passage that these tokens are of: the inverse of `tokens`.

    Raises ValueError where they do not start with the beginning of a paragraph.
    """
    begun: list[tuple[Style, list[str], list[Span]]] = []
    length = 0
    for token in parts:
        if token.style is not None:
            begun.append((token.style, [], []))
            length = 0
            continue
        if not begun:
            raise ValueError("tokens of a passage start with the beginning of a paragraph")
        _, pieces, spans = begun[-1]
        pieces.append(token.text)
        spans += [Span(length + a, length + b, kind, value) for a, b, kind, value in token.format]
        length += len(token.text)
    return Passage(
        tuple(Paragraph("".join(pieces), style, tuple(spans)) for style, pieces, spans in begun)
    )


def text_of(parts: Iterable[Token]) -> str:
    """Their text; the beginning of a paragraph reads as "\\n"."""
    return "".join("\n" if token.style is not None else token.text for token in parts)


def positions(parts: Sequence[Token]) -> list[int]:
    """Where each token starts in the passage's text, and, last, where the text ends.

    The beginning of a paragraph stands at the "\\n" before it, that of the first one at -1.
    """
    return list(
        accumulate(
            (1 if token.style is not None else len(token.text) for token in parts), initial=-1
        )
    )


@lru_cache(maxsize=16384)
def _paragraph_tokens(paragraph: Paragraph) -> tuple[Token, ...]:
    """Kept, because two states of a book share most of their paragraphs."""
    begin, spans = Token("", style=paragraph.style), paragraph.spans
    if not spans:
        return (begin, *map(_plain, _TOKEN.findall(paragraph.text)))
    return (begin, *(_token(match, spans) for match in _TOKEN.finditer(paragraph.text)))


def _token(match: re.Match[str], spans: tuple[Span, ...]) -> Token:
    found = _format(spans, match.start(), match.end())
    return Token(match[0], found) if found else _plain(match[0])


@lru_cache(maxsize=65536)
def _plain(text: str) -> Token:
    """The token of a text without spans: one for all places, as a novel has few words that differ
    and what is kept of many states of it would otherwise fill the memory.
    """
    return Token(text)


def _format(spans: tuple[Span, ...], start: int, end: int) -> Format:
    return tuple(
        (max(span.start, start) - start, min(span.end, end) - start, span.kind, span.value)
        for span in spans
        if span.start < end and span.end > start
    )
