"""What is worked out beside the interface before one way is put through the book. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from reglet.manuscript.book import Book
from reglet.overlays.examine import Examiner
from reglet.overlays.overlay import Scope
from reglet.overlays.query import Choice
from reglet.overlays.register import named
from reglet.overlays.settle import Settlement, settle


@dataclass(frozen=True)
class Prepared:
    """A book, one way that could be put through it, every way it goes now with how often, and what
    settling would do.
    """

    book: Book
    overlay: str
    choice: Choice
    ways: Mapping[str, int]
    settlement: Settlement

    @property
    def label(self) -> str:
        """What it is about, as the writer sees it."""
        return named(self.overlay).label

    @property
    def said(self) -> str:
        """What is done, for the label of a snapshot or an undoing."""
        return f"one way: {self.label.lower()}, {self.choice.way}"


def prepared(book: Book, overlay: str, choice: Choice) -> Prepared:
    """What putting a way through the book would do; nothing is changed."""
    examiner = Examiner()
    known = named(overlay)
    ways: Mapping[str, int] = {}
    if known.scope is Scope.USES:
        ways = examiner.ways(known, choice.question, book)
    by_count = dict(sorted(ways.items(), key=lambda each: (-each[1], each[0])))
    return Prepared(book, overlay, choice, by_count, settle(book, overlay, [choice], examiner))
