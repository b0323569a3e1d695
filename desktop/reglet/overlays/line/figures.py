"""What a scene measures: the lengths of its sentences in order, and its figures beside the book's.

For looking at, not for grading: nothing here says what a figure should be. Figures of scenes add up
to the book's, and a paragraph that stays the same is not measured again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from reglet.language.readability import Readability, readability
from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.overlays.house import House, house_of
from reglet.overlays.reading import ReadParagraph, ReadScene, read_scene


@dataclass(frozen=True, slots=True)
class Beat:
    """One sentence in the rhythm of a scene: `words` long, from `start` to `end` in code points of
    the scene's text. `spoken`: it begins in speech.
    """

    start: int
    end: int
    words: int
    spoken: bool


@dataclass(frozen=True, slots=True)
class SceneFigures:
    """The figures of the scene with this id."""

    scene: str
    figures: Readability


@dataclass(frozen=True, slots=True)
class BookFigures:
    """The figures of every scene of the chapters, and of all of them together."""

    scenes: tuple[SceneFigures, ...]
    whole: Readability


def rhythm(scene: ReadScene) -> tuple[Beat, ...]:
    """The sentences of a scene's running text in order; those without a word are left out."""
    return tuple(
        Beat(start + beat.start, start + beat.end, beat.words, beat.spoken)
        for start, read in scene.prose()
        for beat in _beats(read)
    )


def figures_of(scene: ReadScene) -> Readability:
    """The figures of a scene's running text."""
    return _together(_figures(read) for _, read in scene.prose())


def book_figures(book: Book, house: House | None = None) -> BookFigures:
    """The figures of a book, scene by scene; front and back matter aside."""
    house = house or house_of(book)
    scenes = tuple(_figures_of_scene(scene, house) for scene in book.scenes)
    return BookFigures(scenes, _together(each.figures for each in scenes))


def _figures_of_scene(scene: Scene, house: House) -> SceneFigures:
    return SceneFigures(scene.id, figures_of(read_scene(scene, house.marks)))


def _together(figures: Iterable[Readability]) -> Readability:
    return sum(figures, Readability())


@lru_cache(maxsize=16_384)
def _beats(read: ReadParagraph) -> tuple[Beat, ...]:
    prose = read.prose
    return tuple(
        Beat(sentence.start, sentence.end, words, prose.is_spoken(sentence.start))
        for sentence, words in zip(prose.sentences, prose.sentence_lengths, strict=True)
        if words
    )


@lru_cache(maxsize=16_384)
def _figures(read: ReadParagraph) -> Readability:
    return readability([read.prose])
