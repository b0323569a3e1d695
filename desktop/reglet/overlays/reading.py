"""Text as overlays read it: paragraphs with the language core's sense of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

from reglet.language.prose import Prose
from reglet.language.speech import Marks, quotations_in
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.paragraph import NO_PROSE, Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.story.facts import Analyst, StoryFacts

_OPENING_WORDS = 6
_INSIDE = str.maketrans({"“": "‘", "”": "’", '"': "'"})
"""Quotation marks as they stand inside others."""


@dataclass(frozen=True, eq=False)
class ReadParagraph:
    """One paragraph, as set and as prose.

    Made by `read_paragraph`, which gives the same one for equal paragraphs; so it is compared as a
    thing and not by its parts, which would cost more than many an overlay. What an overlay of a
    scene needs of each paragraph it may keep by it (`functools.lru_cache`), so that an edit costs
    one paragraph and not the scene.
    """

    paragraph: Paragraph
    prose: Prose

    @property
    def is_prose(self) -> bool:
        """Whether it is running text, and no heading or break."""
        return self.paragraph.style not in NO_PROSE

    @property
    def plain_words(self) -> tuple[str, ...]:
        """The words in lower case with straight apostrophes, as word lists have them."""
        return self.prose.plain_words

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """The different words among `plain_words`: to see at a glance what cannot be found here."""
        return frozenset(self.plain_words)


@lru_cache(maxsize=16384)
def read_paragraph(paragraph: Paragraph, marks: Marks, continued: bool) -> ReadParagraph:
    """The paragraph with its prose; equal ones are read once."""
    return ReadParagraph(paragraph, Prose(paragraph.text, marks, continued))


@dataclass(frozen=True)
class ReadScene:
    """A scene with its paragraphs read. Positions in `starts` are those of the scene's text."""

    scene: Scene
    paragraphs: tuple[ReadParagraph, ...]

    @property
    def starts(self) -> tuple[int, ...]:
        """Where each paragraph starts in the scene's text."""
        return self.scene.passage.starts

    def prose(self) -> tuple[tuple[int, ReadParagraph], ...]:
        """The paragraphs of running text, each with its start."""
        return self._prose

    @cached_property
    def _prose(self) -> tuple[tuple[int, ReadParagraph], ...]:
        return tuple(
            (start, paragraph)
            for start, paragraph in zip(self.starts, self.paragraphs, strict=True)
            if paragraph.is_prose
        )

    @cached_property
    def word_count(self) -> int:
        """Words of running text."""
        return sum(len(each.prose.words) for _, each in self.prose())

    @cached_property
    def spoken_words(self) -> int:
        """Words of running text that are spoken."""
        return sum(each.prose.spoken_words for _, each in self.prose())


def read_scene(scene: Scene, marks: Marks) -> ReadScene:
    """The scene, read."""
    return ReadScene(scene, _read_passage(scene.passage, marks))


@lru_cache(maxsize=2048)
def _read_passage(passage: Passage, marks: Marks) -> tuple[ReadParagraph, ...]:
    texts = [paragraph.text for paragraph in passage.paragraphs]
    carried = (
        any(q.continues and not q.opened for q in found) for found in quotations_in(texts, marks)
    )
    return tuple(
        read_paragraph(paragraph, marks, continued)
        for paragraph, continued in zip(passage.paragraphs, carried, strict=True)
    )


@dataclass(frozen=True)
class ReadBook:
    """A book with the scenes of its chapters read, in order."""

    book: Book
    scenes: tuple[ReadScene, ...]

    @cached_property
    def story(self) -> StoryFacts:
        """What the story is made of: its cast, times, threads, eyes."""
        return _analyst().read(self.book)

    def called(self, at: int) -> str:
        """The name of the scene at this place to the writer, in quotation marks: its title, or the
        words it opens with.
        """
        scene = self.scenes[at].scene
        if scene.title:
            return f"“{scene.title.translate(_INSIDE)}”"
        words = scene.passage.text.split(maxsplit=_OPENING_WORDS)[:_OPENING_WORDS]
        return f"“{' '.join(words).translate(_INSIDE)} …”"

    def chapter_of(self, scene_id: str) -> Chapter | None:
        """The chapter that a scene stands in."""
        return self.book.chapter_of(scene_id)


@cache
def _analyst() -> Analyst:
    return Analyst()
