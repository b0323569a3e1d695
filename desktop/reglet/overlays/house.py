"""What overlays take as given about the book: its house style and how strict to be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import cached_property

from reglet.language.speech import Marks, detect_marks
from reglet.manuscript.book import Book, StyleSheet
from reglet.setting import (
    EREADERS,
    PHONES,
    TRIMS,
    USUAL_PHONE,
    USUAL_TRIM,
    Medium,
    Sheet,
)

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
    strictness: tuple[tuple[str, Strictness], ...] = ()

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
    """The house style that the book itself shows and its style sheet says."""
    sheet = book.style_sheet
    phone, page = phone_of(sheet), page_of(sheet)
    trim = page if page.medium is Medium.PRINT else USUAL_TRIM
    return House(
        language=sheet.language,
        marks=detect_marks(_beginning(book)),
        phone=phone.in_language(sheet.language),
        trim=trim.in_language(sheet.language),
        strictness=tuple(sorted(strictness_in(sheet).items())),
    )


def phone_of(sheet: StyleSheet) -> Sheet:
    """The phone that the book is looked at on."""
    return PHONES.get(sheet.phone, USUAL_PHONE)


def page_of(sheet: StyleSheet) -> Sheet:
    """The printed page or the e-reader that the book is looked at on."""
    return TRIMS.get(sheet.page) or EREADERS.get(sheet.page) or USUAL_TRIM


def strictness_in(sheet: StyleSheet) -> dict[str, Strictness]:
    """How readily overlays ask, where the writer has set it; a step that is none is as usual."""
    steps = set(Strictness)
    return {name: Strictness(step) for name, step in sheet.strictness if step in steps}


def with_strictness(sheet: StyleSheet, overlay: str, wanted: Strictness) -> StyleSheet:
    """The style sheet with one overlay asking more or less readily; the usual is not kept."""
    steps = {**dict(sheet.strictness), overlay: int(wanted)}
    kept = sorted((name, step) for name, step in steps.items() if step != Strictness.USUAL)
    return replace(sheet, strictness=tuple(kept))


def _beginning(book: Book) -> Iterator[str]:
    """As much of the text as shows its way with quotation marks: this is asked at every edit."""
    left = ENOUGH
    for scene in book.texts:
        for paragraph in scene.passage.paragraphs:
            if left <= 0:
                return
            yield paragraph.text
            left -= len(paragraph.text)
