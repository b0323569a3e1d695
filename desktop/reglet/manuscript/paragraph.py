"""A paragraph: its text, its style, and the spans of emphasis and the like within it.

Positions are code points throughout. A line break that the writer set inside a paragraph (in
verse, an address) is U+2028 LINE SEPARATOR, so that "\\n" always and only parts paragraphs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

LINE_BREAK = "\u2028"
SCENE_BREAK = "***"
"""The text that every paragraph of style `SCENE_BREAK` holds, whatever mark a draft used."""

_PARTS_PARAGRAPHS = frozenset("\n\r\u2029")


class Style(StrEnum):
    """How a paragraph is set."""

    BODY = "body"
    FIRST = "first"
    HEADING = "heading"
    BLOCK_QUOTE = "block_quote"
    VERSE = "verse"
    LETTER = "letter"
    CENTRED = "centred"
    SCENE_BREAK = "scene_break"


NO_PROSE = (Style.HEADING, Style.SCENE_BREAK)
"""Styles of what is no prose: nothing in it is read for sentences or counted for a story."""

RUNNING_TEXT = (Style.BODY, Style.FIRST)
"""Styles of the story's own text; a letter, a verse, a notice may go ways of their own."""


class SpanKind(StrEnum):
    """What a span says of its words. `LANGUAGE` carries a BCP 47 tag as the span's value."""

    EMPHASIS = "emphasis"
    STRONG = "strong"
    SMALL_CAPITALS = "small_capitals"
    UNDERLINE = "underline"
    STRIKE = "strike"
    LANGUAGE = "language"


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of one paragraph, from code point `start` up to `end`."""

    start: int
    end: int
    kind: SpanKind
    value: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph. Its spans are kept in one normal form, so equal paragraphs compare equal:
    inside the text, never empty, sorted, and those of one kind and value joined where they meet.

    Raises ValueError if the text holds a character that parts paragraphs.
    """

    text: str
    style: Style = Style.BODY
    spans: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if not _PARTS_PARAGRAPHS.isdisjoint(self.text):
            raise ValueError("a paragraph's text holds no line end; use LINE_BREAK inside it")
        if self.spans:
            object.__setattr__(self, "spans", _normal(self.spans, len(self.text)))

    def slice(self, start: int, end: int) -> Paragraph:
        """The code points from `start` up to `end`, with the style and the spans on them."""
        moved = (
            replace(span, start=span.start - start, end=span.end - start) for span in self.spans
        )
        return Paragraph(self.text[start:end], self.style, tuple(moved))

    def joined(self, other: Paragraph) -> Paragraph:
        """This text with `other`'s behind it, in this paragraph's style."""
        if not other.text:
            return self
        offset = len(self.text)
        moved = (
            replace(span, start=span.start + offset, end=span.end + offset) for span in other.spans
        )
        return Paragraph(self.text + other.text, self.style, (*self.spans, *moved))

    def stretches(self) -> Iterator[tuple[str, tuple[Span, ...]]]:
        """The text cut where spans begin and end: each stretch with the spans that hold it."""
        edges = {
            0,
            len(self.text),
            *(edge for span in self.spans for edge in (span.start, span.end)),
        }
        for start, end in pairwise(sorted(edges)):
            held_by = (span for span in self.spans if span.start <= start and span.end >= end)
            yield self.text[start:end], tuple(held_by)

    def spans_of(self, kind: SpanKind) -> tuple[Span, ...]:
        """The spans of one kind, in order."""
        return tuple(span for span in self.spans if span.kind is kind)


def scene_break() -> Paragraph:
    """A paragraph that breaks a scene inside: a pause which does not divide the book."""
    return Paragraph(SCENE_BREAK, Style.SCENE_BREAK)


def _normal(spans: Iterable[Span], length: int) -> tuple[Span, ...]:
    clipped = (
        span
        if span.start >= 0 and span.end <= length
        else replace(span, start=max(0, span.start), end=min(length, span.end))
        for span in spans
    )
    joined: list[Span] = []
    for span in sorted(
        (span for span in clipped if span.start < span.end),
        key=lambda span: (span.kind, span.value, span.start, span.end),
    ):
        last = joined[-1] if joined else None
        if last and (last.kind, last.value) == (span.kind, span.value) and span.start <= last.end:
            joined[-1] = replace(last, end=max(last.end, span.end))
        else:
            joined.append(span)
    return tuple(sorted(joined))
