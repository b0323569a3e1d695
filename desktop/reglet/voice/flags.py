"""Spots marked by ear: the hand is late, so a flag takes in what was said just before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from reglet.errors import UnknownThing
from reglet.manuscript.anchored import BY_EAR, Note
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.change import Change
from reglet.manuscript.editing import add_note

_REACH = 3.0
"""Seconds of text before the key that a flag takes in."""


@dataclass(frozen=True, slots=True)
class Said:
    """A word that was heard: code points of a scene's text, and the seconds it took, on any clock
    that runs on while the voice reads.
    """

    scene: str
    start: int
    end: int
    begins: float
    ends: float

    def carried(self, scene_id: str, change: Change) -> Said:
        """The word where it stands once `change` is made in the text of a scene."""
        if scene_id != self.scene:
            return self
        start, end = change.carry_span(self.start, self.end)
        return replace(self, start=start, end=end)


@dataclass(frozen=True, slots=True)
class Spot:
    """A stretch of a scene's text."""

    scene: str
    start: int
    end: int


def spot(heard: Sequence[Said], now: float) -> Spot | None:
    """What was said in the last `_REACH` seconds before `now`, in the scene heard last.

    Whole words, and at least the last one begun however long ago; None if nothing was heard.
    """
    begun = [said for said in heard if said.begins <= now]
    if not begun:
        return None
    last = begun[-1]
    within = [s for s in begun if s.scene == last.scene and s.ends > now - _REACH] or [last]
    return Spot(last.scene, min(s.start for s in within), max(s.end for s in within))


def flagged(book: Book, where: Spot, made: datetime) -> Book:
    """The book with a note of kind `BY_EAR` on that stretch. Raises UnknownThing."""
    text = book.scene(where.scene).passage.text
    if where.end > len(text):
        raise UnknownThing(
            "The text has become shorter since this was heard, so the spot is not marked. Nothing "
            "else has changed."
        )
    words = text[where.start : where.end]
    note = Note(
        fresh_id("note"),
        where.start,
        where.end,
        words,
        "Marked while listening.",
        made,
        kind=BY_EAR,
    )
    return add_note(book, where.scene, note)
