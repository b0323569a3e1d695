"""What became of each scene between two states of the book."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from reglet.manuscript.book import Book
from reglet.manuscript.difference import Difference, difference
from reglet.manuscript.moved_text import MovedParagraph, moved_paragraphs
from reglet.manuscript.passage import EMPTY
from reglet.manuscript.scene import Scene


class Fate(StrEnum):
    """What became of a scene's text. `CUT` is gone from the book; it may be among the Offcuts."""

    SAME = "same"
    CHANGED = "changed"
    ADDED = "added"
    CUT = "cut"


@dataclass(frozen=True)
class SceneComparison:
    """One scene in two states of the book; at least one of them holds it."""

    old: Scene | None
    new: Scene | None
    moved: bool
    """Whether it stands elsewhere: in another chapter, or passed over scenes that kept still."""

    @property
    def scene(self) -> Scene:
        """The scene as it is in the new state or, if that has it no more, as it was."""
        found = self.new or self.old
        assert found is not None
        return found

    @cached_property
    def fate(self) -> Fate:
        """What became of its text."""
        if self.old is None:
            return Fate.ADDED
        if self.new is None:
            return Fate.CUT
        return Fate.SAME if self.old.passage == self.new.passage else Fate.CHANGED

    @cached_property
    def difference(self) -> Difference:
        """Word by word; a scene that one state lacks is compared with an empty text."""
        return difference(
            self.old.passage if self.old else EMPTY, self.new.passage if self.new else EMPTY
        )

    @property
    def words_added(self) -> int:
        """Words of this scene that stand in the new state only."""
        return 0 if self.fate is Fate.SAME else self.difference.words_added

    @property
    def words_cut(self) -> int:
        """Words of this scene that stand in the old state only."""
        return 0 if self.fate is Fate.SAME else self.difference.words_cut


@dataclass(frozen=True)
class BookComparison:
    """Every scene of either state: in the new order, each cut one behind what it stood behind."""

    scenes: tuple[SceneComparison, ...]

    @cached_property
    def words_added(self) -> int:
        """Words that stand in the new state only, scene by scene."""
        return sum(each.words_added for each in self.scenes)

    @cached_property
    def words_cut(self) -> int:
        """Words that stand in the old state only, scene by scene."""
        return sum(each.words_cut for each in self.scenes)

    @cached_property
    def moved_paragraphs(self) -> tuple[MovedParagraph, ...]:
        """The paragraphs that were cut from one scene and added to another."""
        return moved_paragraphs(
            (
                each.scene.id,
                each.old.passage if each.old else None,
                each.new.passage if each.new else None,
            )
            for each in self.scenes
        )

    @cached_property
    def words_moved(self) -> int:
        """Words of the paragraphs that moved between scenes. They are among `words_added` and
        `words_cut`, as far as these scenes have no other words to keep in their place.
        """
        return sum(each.words for each in self.moved_paragraphs)

    @cached_property
    def scenes_moved(self) -> tuple[SceneComparison, ...]:
        """The scenes that stand elsewhere."""
        return tuple(each for each in self.scenes if each.moved)

    def of(self, fate: Fate) -> tuple[SceneComparison, ...]:
        """The scenes of one fate."""
        return tuple(each for each in self.scenes if each.fate is fate)


def compare_books(old: Book, new: Book) -> BookComparison:
    """What became of each scene, front and back matter included, from `old` to `new`."""
    before = {scene.id: scene for scene in old.texts}
    chapters = _chapters(old), _chapters(new)
    kept = [scene.id for scene in new.texts if scene.id in before]
    places = {scene_id: place for place, scene_id in enumerate(before)}
    still = {kept[index] for index in longest_rising([places[each] for each in kept])}
    compared = [
        SceneComparison(
            before.get(scene.id),
            scene,
            moved=scene.id in before
            and (scene.id not in still or chapters[0][scene.id] != chapters[1][scene.id]),
        )
        for scene in new.texts
    ]
    follows: str | None = None
    for scene in old.texts:
        if not new.has_scene(scene.id):
            at = next((i + 1 for i, each in enumerate(compared) if each.scene.id == follows), 0)
            compared.insert(at, SceneComparison(scene, None, moved=False))
        follows = scene.id
    return BookComparison(tuple(compared))


def _chapters(book: Book) -> dict[str, str]:
    return {scene.id: chapter.id if chapter else "" for _, chapter, scene in book.walk()}


def longest_rising(numbers: Sequence[int]) -> list[int]:
    """The places of a longest rising run within different numbers: all else has moved.

    Patience sorting (C. Schensted, "Longest Increasing and Decreasing Subsequences", 1961).
    """
    tops: list[int] = []
    top_places: list[int] = []
    before: list[int] = []
    for place, number in enumerate(numbers):
        pile = bisect_left(tops, number)
        before.append(top_places[pile - 1] if pile else -1)
        tops[pile : pile + 1] = [number]
        top_places[pile : pile + 1] = [place]
    run: list[int] = []
    place = top_places[-1] if top_places else -1
    while place >= 0:
        run.append(place)
        place = before[place]
    return run[::-1]
