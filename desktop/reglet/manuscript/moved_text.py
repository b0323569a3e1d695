"""Paragraphs that went from one scene to another between two states of the book.

Word by word they would look cut here and added there; the writer only moved them.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reglet.manuscript.passage import Passage
from reglet.manuscript.words import count_words

Texts = tuple[str, Passage | None, Passage | None]
"""A scene by its id, with what it was and what it is; None where a state lacks it."""

FEWEST_WORDS = 4
"""A shorter paragraph ("“No,” he said.") is not followed: there may be many like it."""


@dataclass(frozen=True, slots=True)
class MovedParagraph:
    """A paragraph cut from one scene and added to another, word for word the same.

    `old_start` and `new_start` are code points of the two scenes' texts; `words` is its length.
    """

    text: str
    words: int
    old_scene: str
    old_start: int
    new_scene: str
    new_start: int


def moved_paragraphs(scenes: Iterable[Texts]) -> tuple[MovedParagraph, ...]:
    """The paragraphs that moved between these scenes, in the order they now stand in."""
    gone: dict[str, list[tuple[str, int]]] = defaultdict(list)
    come: list[tuple[str, int, str]] = []
    for scene, old, new in scenes:
        if old is new or old == new:
            continue
        for text, start in _only_in(old, new):
            gone[text].append((scene, start))
        come += [(text, start, scene) for text, start in _only_in(new, old)]
    found = []
    for text, start, scene in come:
        from_elsewhere = [place for place in gone.get(text, ()) if place[0] != scene]
        if from_elsewhere:
            place = from_elsewhere[0]
            gone[text].remove(place)
            found.append(MovedParagraph(text, count_words(text), *place, scene, start))
    return tuple(found)


def _only_in(one: Passage | None, other: Passage | None) -> Sequence[tuple[str, int]]:
    """The paragraphs of one passage that another lacks, or has fewer of, each with its start."""
    if one is None:
        return ()
    there = Counter(paragraph.text for paragraph in other.paragraphs) if other else Counter[str]()
    found = []
    for paragraph, start in zip(one.paragraphs, one.starts, strict=True):
        if there[paragraph.text]:
            there[paragraph.text] -= 1
        elif count_words(paragraph.text) >= FEWEST_WORDS:
            found.append((paragraph.text, start))
    return found
