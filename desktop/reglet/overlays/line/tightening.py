"""How much shorter a book has become since a stage began, and how much shorter it is to be."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words

USUAL_AIM = 0.1
"""The share of a draft that a second one is often shorter by (common practice)."""


@dataclass(frozen=True, slots=True)
class Tightening:
    """Words of a scene, a chapter or the book: `then`, at the start of the stage, and `now`."""

    then: int
    now: int

    def __add__(self, other: Tightening) -> Tightening:
        return Tightening(self.then + other.then, self.now + other.now)

    @property
    def cut(self) -> int:
        """Words fewer than then; below 0 where it has grown."""
        return self.then - self.now

    @property
    def share(self) -> float:
        """The part of the words that is cut; 0.0 where there were none."""
        return self.cut / self.then if self.then else 0.0

    def to_cut(self, aim: float = USUAL_AIM) -> int:
        """Words still to cut for an aim, a share of the words then; 0 where it is reached."""
        return max(0, self.now - round(self.then * (1 - aim)))


@dataclass(frozen=True, slots=True)
class BookTightening:
    """The words of each scene and chapter that stands in the book now, by id, and of the whole
    book, in which scenes that stood in it then and do so no more are counted as cut.
    """

    scenes: dict[str, Tightening]
    chapters: dict[str, Tightening]
    book: Tightening


def tightening(then: Book, now: Book) -> BookTightening:
    """The words of a book beside those of the state it had when the stage began.

    A scene is known by its id wherever it has moved; one that is new since had no words then. A
    chapter's words then are those that its scenes of now had.
    """
    before = {scene.id: _words(scene) for scene in then.scenes}
    scenes = {scene.id: Tightening(before.get(scene.id, 0), _words(scene)) for scene in now.scenes}
    chapters = {
        chapter.id: _together(scenes[scene.id] for scene in chapter.scenes)
        for chapter in now.chapters
    }
    gone = sum(words for scene_id, words in before.items() if scene_id not in scenes)
    return BookTightening(scenes, chapters, _together(scenes.values()) + Tightening(gone, 0))


def _together(parts: Iterable[Tightening]) -> Tightening:
    return sum(parts, Tightening(0, 0))


def _words(scene: Scene) -> int:
    return sum(count_words(paragraph.text) for paragraph in scene.passage.paragraphs)
