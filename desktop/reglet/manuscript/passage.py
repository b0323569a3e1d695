"""A passage: paragraphs in order, addressed as one text.

The text of a passage is its paragraphs joined by "\\n"; every position in Reglet (of a cursor, a
query, a note) is a code point in that text. An empty passage is one empty paragraph, as an empty
page has one line to write on.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from reglet.manuscript.paragraph import Paragraph, Span, Style
from reglet.manuscript.words import count_words


@dataclass(frozen=True)
class Passage:
    """Paragraphs, at least one. Raises ValueError for none."""

    paragraphs: tuple[Paragraph, ...] = (Paragraph(""),)

    def __post_init__(self) -> None:
        if not self.paragraphs:
            raise ValueError("a passage has at least one paragraph, if only an empty one")

    @classmethod
    def of(cls, paragraphs: Iterable[Paragraph]) -> Passage:
        """A passage of these paragraphs; of one empty paragraph where there are none."""
        return cls(tuple(paragraphs) or (Paragraph(""),))

    @classmethod
    def plain(cls, text: str, style: Style = Style.BODY) -> Passage:
        """A passage from text with one paragraph a line, all in one style and without spans."""
        return cls(tuple(Paragraph(line, style) for line in text.split("\n")))

    @cached_property
    def text(self) -> str:
        """The whole text, one paragraph a line."""
        return "\n".join(paragraph.text for paragraph in self.paragraphs)

    @cached_property
    def starts(self) -> tuple[int, ...]:
        """Where each paragraph starts in `text`."""
        lengths = (len(paragraph.text) + 1 for paragraph in self.paragraphs[:-1])
        return tuple(accumulate(lengths, initial=0))

    @cached_property
    def word_count(self) -> int:
        """The number of words in `text`."""
        return sum(count_words(paragraph.text) for paragraph in self.paragraphs)

    def __len__(self) -> int:
        """The length of `text` in code points."""
        return self.starts[-1] + len(self.paragraphs[-1].text)

    def locate(self, position: int) -> tuple[int, int]:
        """The paragraph that holds `position`, and the offset within it.

        A position on a paragraph's end belongs to that paragraph. Raises IndexError outside the
        text.
        """
        if not 0 <= position <= len(self):
            raise IndexError(f"position {position} is outside a passage of {len(self)}")
        index = bisect_right(self.starts, position) - 1
        return index, position - self.starts[index]

    def slice(self, start: int, end: int) -> Passage:
        """The part from `start` up to `end`; its text is exactly `text[start:end]`."""
        first, first_offset = self.locate(start)
        last, last_offset = self.locate(end)
        if first == last:
            return Passage((self.paragraphs[first].slice(first_offset, last_offset),))
        head = self.paragraphs[first]
        return Passage(
            (
                head.slice(first_offset, len(head.text)),
                *self.paragraphs[first + 1 : last],
                self.paragraphs[last].slice(0, last_offset),
            )
        )

    def replace(self, start: int, end: int, fragment: Passage) -> Passage:
        """This passage with `fragment` in place of `start` up to `end`.

        The text is exactly `text[:start] + fragment.text + text[end:]`. The paragraph joined at the
        front keeps its style if text of it is left before `start`, and takes the fragment's
        otherwise; the one joined at the back takes that of the fragment's last paragraph. So
        putting a slice back where it was taken gives the passage it was taken from.
        """
        first, first_offset = self.locate(start)
        last, last_offset = self.locate(end)
        head = self.paragraphs[first].slice(0, first_offset)
        tail = self.paragraphs[last].slice(last_offset, len(self.paragraphs[last].text))
        top, foot = fragment.paragraphs[0], fragment.paragraphs[-1]
        middle: tuple[Paragraph, ...]
        if fragment == EMPTY:
            middle = (_after(head, tail) if tail.text else head,)
        elif len(fragment.paragraphs) == 1:
            middle = (_after(head, top).joined(tail),)
        else:
            middle = (_after(head, top), *fragment.paragraphs[1:-1], foot.joined(tail))
        return Passage((*self.paragraphs[:first], *middle, *self.paragraphs[last + 1 :]))

    def dressed(self, text: str, start: int, end: int) -> Passage:
        """`text` (one paragraph a line) made to take the place of code points `start` up to `end`:
        in the style of the paragraph it goes into, and the spans on all that it replaces there.
        """
        index, offset = self.locate(start)
        paragraph = self.paragraphs[index]
        reach = min(max(offset + 1, offset + end - start), len(paragraph.text))
        worn = [span for span in paragraph.spans if span.start <= offset and span.end >= reach]
        return Passage.of(
            Paragraph(
                line,
                paragraph.style,
                tuple(Span(0, len(line), span.kind, span.value) for span in worn),
            )
            for line in text.split("\n")
        )

    def divide(self, position: int) -> tuple[Passage, Passage]:
        """Two passages, before and after `position`; a paragraph end standing there is used up."""
        index, offset = self.locate(position)
        paragraph = self.paragraphs[index]
        before, after = self.paragraphs[:index], self.paragraphs[index + 1 :]
        if offset == 0 and before:
            return Passage(before), Passage(self.paragraphs[index:])
        if offset == len(paragraph.text) and after:
            return Passage((*before, paragraph)), Passage(after)
        left, right = paragraph.slice(0, offset), paragraph.slice(offset, len(paragraph.text))
        return Passage((*before, left)), Passage((right, *after))

    def followed_by(self, other: Passage) -> Passage:
        """This passage's paragraphs, then `other`'s."""
        return Passage(self.paragraphs + other.paragraphs)


EMPTY = Passage()


def _after(head: Paragraph, rest: Paragraph) -> Paragraph:
    return head.joined(rest) if head.text else rest
