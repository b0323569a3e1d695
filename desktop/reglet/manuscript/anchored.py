"""What is tied to places in a scene's text, and rides on its edits: notes, stets, cut places."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from reglet.manuscript.change import Change, Lean

BY_EAR = "heard"
"""The kind of a note that marks a spot while the book is listened to."""


class Answer(StrEnum):
    """What the writer has decided about a note."""

    OPEN = "open"
    DONE = "done"
    STET = "stet"


@dataclass(frozen=True, slots=True)
class Note:
    """A remark tied to a span of a scene, by the writer or (`author`) by a reader.

    `words` is the text it was made on, kept so that the remark makes sense after that text is
    gone; the span then is empty, at the nearest place.
    """

    id: str
    start: int
    end: int
    words: str
    text: str
    made: datetime
    author: str = ""
    kind: str = ""
    answer: Answer = Answer.OPEN

    def carried(self, change: Change) -> Note:
        """This note where it stands after `change`."""
        start, end = change.carry_span(self.start, self.end)
        return (
            self if (start, end) == (self.start, self.end) else replace(self, start=start, end=end)
        )

    def shifted(self, by: int) -> Note:
        """This note `by` code points further on."""
        return replace(self, start=self.start + by, end=self.end + by)


def in_order(notes: Iterable[Note]) -> tuple[Note, ...]:
    """Notes by their place in the text."""
    return tuple(sorted(notes, key=lambda note: (note.start, note.end)))


@dataclass(frozen=True, slots=True)
class Stet:
    """The writer's answer that these words stand as they are, for one overlay, at this place.

    `words` is the text of the span. The stet holds while that text does; the scene drops it when
    an edit changes them.
    """

    overlay: str
    start: int
    end: int
    words: str

    def carried(self, change: Change) -> Stet | None:
        """This stet after `change`, or None if its own words were touched."""
        if change.touches(self.start, self.end):
            return None
        return self.shifted(change.carry(self.start, Lean.FORWARD) - self.start)

    def shifted(self, by: int) -> Stet:
        """This stet `by` code points further on."""
        return self if not by else replace(self, start=self.start + by, end=self.end + by)


@dataclass(frozen=True, slots=True, order=True)
class Allowance:
    """A stet for every place where these words stand, in one scene or the whole book."""

    overlay: str
    words: str


@dataclass(frozen=True, slots=True)
class CutPlace:
    """Where a passage that is now among the Offcuts was taken from."""

    offcut: str
    position: int

    def carried(self, change: Change) -> CutPlace:
        """This place after `change`."""
        return replace(self, position=change.carry(self.position, Lean.BACK))

    def shifted(self, by: int) -> CutPlace:
        """This place `by` code points further on."""
        return replace(self, position=self.position + by)
