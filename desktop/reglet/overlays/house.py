"""What overlays take as given about the book: its house style and how strict to be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import IntEnum
from functools import cached_property

from reglet.language.speech import Marks, detect_marks
from reglet.manuscript.book import Book
from reglet.setting import USUAL_PHONE, USUAL_TRIM, Sheet

ENOUGH = 60_000
"""Code points of a book, ten thousand words or so, that show its marks (our own figure)."""


class Strictness(IntEnum):
    """How readily an overlay asks."""

    LENIENT = 0
    USUAL = 1
    STRICT = 2


@dataclass(frozen=True)
class House:
    """The book's way with language and quotation marks, the sheets it is meant for, and the
    strictness of overlays that the writer set otherwise than usual.

    What an overlay finds may depend on these and its text alone: results are kept by both.
    """

    language: str = "en-US"
    marks: Marks = Marks.DOUBLE
    phone: Sheet = USUAL_PHONE
    trim: Sheet = USUAL_TRIM
    strictness: tuple[tuple[str, Strictness], ...] = field(default=())

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Made once: every result that is kept is looked up by it."""
        return hash((self.language, self.marks, self.phone, self.trim, self.strictness))

    def strictness_of(self, overlay: str) -> Strictness:
        """How readily this overlay asks."""
        return dict(self.strictness).get(overlay, Strictness.USUAL)

    def with_strictness(self, wanted: Mapping[str, Strictness]) -> House:
        """This house with the strictness of these overlays set."""
        return replace(self, strictness=tuple(sorted({**dict(self.strictness), **wanted}.items())))


def house_of(book: Book) -> House:
    """The house style that the book itself shows."""
    language = book.style_sheet.language
    return House(
        language=language,
        marks=detect_marks(_beginning(book)),
        phone=USUAL_PHONE.in_language(language),
        trim=USUAL_TRIM.in_language(language),
    )


def _beginning(book: Book) -> Iterator[str]:
    """As much of the text as shows its way with quotation marks: this is asked at every edit."""
    left = ENOUGH
    for scene in book.texts:
        if left <= 0:
            return
        yield scene.passage.text
        left -= len(scene.passage.text)
