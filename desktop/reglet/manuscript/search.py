"""Finding words in a scene or the book, and replacing them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from reglet.manuscript.book import Book
from reglet.manuscript.change import Change, Replacement
from reglet.manuscript.scene import Scene

# One code point for one, so that places in the folded text are places in the text.
_FOLDED = str.maketrans("‘’‚‛“”„‟\u00a0\u202f\u2010\u2011", "''''\"\"\"\"  --")


@dataclass(frozen=True, slots=True)
class Sought:
    """What to look for. Quotation marks, apostrophes and hyphens are found whichever way they are
    set, straight or curly; an empty text finds nothing.
    """

    text: str
    match_case: bool = False
    whole_words: bool = False

    def pattern(self) -> re.Pattern[str]:
        """The regular expression to run over folded text."""
        words = re.escape(self.text.translate(_FOLDED))
        if self.whole_words:
            words = rf"(?<!\w){words}(?!\w)"
        return re.compile(words, re.NOFLAG if self.match_case else re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Place:
    """Where it stands, in code points of a scene's text."""

    scene: str
    start: int
    end: int


def find(book: Book, sought: Sought, scene_ids: Iterable[str] | None = None) -> tuple[Place, ...]:
    """Every place where it stands, in the book's order; in these scenes only, if given.

    Raises UnknownThing for a scene that is not there.
    """
    scenes = book.texts if scene_ids is None else [book.scene(each) for each in scene_ids]
    return tuple(place for scene in scenes for place in find_in(scene, sought))


def find_in(scene: Scene, sought: Sought) -> tuple[Place, ...]:
    """Every place in one scene where it stands, none overlapping another."""
    if not sought.text:
        return ()
    text = scene.passage.text.translate(_FOLDED)
    return tuple(Place(scene.id, m.start(), m.end()) for m in sought.pattern().finditer(text))


def replace_at(book: Book, places: Iterable[Place], text: str) -> Book:
    """`text` set in place of each place; it wears the spans on what it replaces, and notes and
    stets beside it stay with their words.

    Raises UnknownThing for a scene.
    """
    by_scene: dict[str, list[Place]] = {}
    for place in places:
        by_scene.setdefault(place.scene, []).append(place)
    for scene_id, here in by_scene.items():
        scene = book.scene(scene_id)
        here.sort(key=lambda place: place.start)
        passage = scene.passage
        for place in reversed(here):
            new = passage.dressed(text, place.start, place.end)
            passage = passage.replace(place.start, place.end, new)
        change = Change(tuple(Replacement(each.start, each.end, len(text)) for each in here))
        book = book.with_scene(scene.rewritten(passage, change))
    return book
