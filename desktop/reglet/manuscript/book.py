"""The book: parts, chapters and scenes in order, and all that belongs to the work beside its text.

Every value is frozen. An operation (see `editing`, `arranging`, `offcuts`) takes a book and gives
a book that shares whatever did not change, so keeping an earlier book costs next to nothing and
is all that undo needs.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property

from reglet.errors import UnknownThing
from reglet.manuscript.anchored import Allowance
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter. Its title is the heading as the writer typed it, which may be empty; a second
    line of the heading stands behind a LINE_BREAK.
    """

    id: str
    title: str = ""
    scenes: tuple[Scene, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A part. A book without parts has one, with no title."""

    id: str
    title: str = ""
    chapters: tuple[Chapter, ...] = ()


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a scene among the Offcuts stood: its chapter, and the scenes before it there.

    `alternative_of` is given where it is another version of a scene that stands in the book.
    """

    chapter: str
    before: tuple[str, ...] = ()
    alternative_of: str = ""


@dataclass(frozen=True, slots=True)
class Offcut:
    """Text taken out of the book and kept. A cut scene has an origin; for a cut passage the scene
    it came from holds a `CutPlace` that rides on its edits.
    """

    id: str
    scene: Scene
    cut_at: datetime
    origin: Origin | None = None


@dataclass(frozen=True, slots=True)
class PlannedScene:
    """One scene of the plan the writer began from, under the heading it stood under.

    Where `decided`, the writer has said what became of it: `scene` is the written scene's id, or ""
    for "not written".
    """

    id: str
    text: str
    chapter: str = ""
    scene: str = ""
    decided: bool = False


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody in the book, with the other forms of their name that the writer joined to it."""

    name: str
    forms: tuple[str, ...] = ()


USUAL_AIM = 10
"""Percent that a second draft is shortened by (common practice)."""


@dataclass(frozen=True, slots=True)
class StyleSheet:
    """The book's own decisions. `language` is a BCP 47 tag; `words` are spellings to leave alone;
    `allowances` let an overlay's findings stand throughout the book; `said_as` has words and how
    they are said aloud, as `reglet.voice.said_as` takes them.

    `ways` has what the writer settled where a book can go two ways: a question ("grey or gray") and
    the way chosen ("grey"). `strictness` has the overlays that ask otherwise than usual (0 for
    less readily, 2 for more), `off` those that are not shown. `aim` is a percentage that the Line
    stage is to shorten the book by; `phone` and `page` are names of the sheets it is looked at on,
    empty for the usual ones.
    """

    language: str = "en-US"
    words: frozenset[str] = frozenset()
    allowances: frozenset[Allowance] = frozenset()
    said_as: tuple[tuple[str, str], ...] = ()
    ways: tuple[tuple[str, str], ...] = ()
    strictness: tuple[tuple[str, int], ...] = ()
    off: frozenset[str] = frozenset()
    aim: int = USUAL_AIM
    phone: str = ""
    page: str = ""

    def way(self, question: str) -> str:
        """The way that was settled for a question; "" where it is open."""
        return dict(self.ways).get(question, "")

    def with_way(self, question: str, way: str) -> StyleSheet:
        """This sheet with a question settled; an empty `way` opens it again."""
        ways = {**dict(self.ways), question: way}
        kept = sorted((asked, each) for asked, each in ways.items() if each)
        return replace(self, ways=tuple(kept))


@dataclass(frozen=True, slots=True)
class Rest:
    """A finished draft put aside from one day until another. `overruled`: the writer has chosen to
    change the text before its end.
    """

    begun: date
    until: date
    overruled: bool = False


@dataclass(frozen=True, slots=True)
class ReadingPlace:
    """How far the first read has come: a scene and a code point in it, and how many words were read
    in how many seconds, from which the reader's own pace is known.
    """

    scene: str = ""
    position: int = 0
    words: int = 0
    seconds: float = 0.0


@dataclass(frozen=True, slots=True)
class ArrangedChapter:
    """A chapter of a draft arrangement: its part's id, its own, its title, its scenes' ids."""

    part: str
    id: str
    title: str
    scenes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A draft arrangement: an order of the book's scenes that is tried and not yet taken."""

    id: str
    name: str
    chapters: tuple[ArrangedChapter, ...]


@dataclass(frozen=True, slots=True)
class Estimate:
    """What the writer thinks an item of the work list will take, in minutes (None: not said), and
    whether they struck it as done. `item` is the item's id.
    """

    item: str
    minutes: int | None = None
    done: bool = False


@dataclass(frozen=True, slots=True)
class Schedule:
    """The writer's plan of work: the day it is to be done by, the minutes for a day, estimates."""

    due: date | None = None
    minutes_a_day: int = 0
    estimates: tuple[Estimate, ...] = ()


@dataclass(frozen=True)
class Book:
    """One writer's whole work as it stands now."""

    title: str = ""
    author: str = ""
    parts: tuple[Part, ...] = ()
    front: tuple[Scene, ...] = ()
    back: tuple[Scene, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    plan: tuple[PlannedScene, ...] = ()
    cast: tuple[Person, ...] = ()
    threads: tuple[str, ...] = ()
    style_sheet: StyleSheet = field(default_factory=StyleSheet)
    rest: Rest | None = None
    reading: ReadingPlace = ReadingPlace()
    arrangements: tuple[Arrangement, ...] = ()
    schedule: Schedule = Schedule()
    cover: Picture | None = None

    @cached_property
    def chapters(self) -> tuple[Chapter, ...]:
        """All chapters in order."""
        return tuple(chapter for part in self.parts for chapter in part.chapters)

    @cached_property
    def scenes(self) -> tuple[Scene, ...]:
        """The scenes of all chapters in order, without front and back matter."""
        return tuple(scene for chapter in self.chapters for scene in chapter.scenes)

    @cached_property
    def texts(self) -> tuple[Scene, ...]:
        """Everything to be read in order: front matter, scenes, back matter."""
        return (*self.front, *self.scenes, *self.back)

    @cached_property
    def word_count(self) -> int:
        """The words of `scenes`: front and back matter, and Offcuts, are not counted."""
        return sum(scene.passage.word_count for scene in self.scenes)

    @cached_property
    def _by_id(self) -> dict[str, Scene]:
        return {scene.id: scene for scene in self.texts}

    def has_scene(self, scene_id: str) -> bool:
        """Whether a scene of this id stands in the book (and not among the Offcuts)."""
        return scene_id in self._by_id

    def scene(self, scene_id: str) -> Scene:
        """The scene of this id, front and back matter included. Raises UnknownThing."""
        try:
            return self._by_id[scene_id]
        except KeyError:
            raise UnknownThing(
                f"There is no scene “{scene_id}” in this book. It may be among the Offcuts."
            ) from None

    def chapter(self, chapter_id: str) -> Chapter:
        """The chapter of this id. Raises UnknownThing."""
        for chapter in self.chapters:
            if chapter.id == chapter_id:
                return chapter
        raise UnknownThing(f"There is no chapter “{chapter_id}” in this book.")

    def part(self, part_id: str) -> Part:
        """The part of this id. Raises UnknownThing."""
        for part in self.parts:
            if part.id == part_id:
                return part
        raise UnknownThing(f"There is no part “{part_id}” in this book.")

    def offcut(self, offcut_id: str) -> Offcut:
        """The offcut of this id. Raises UnknownThing."""
        for offcut in self.offcuts:
            if offcut.id == offcut_id:
                return offcut
        raise UnknownThing(f"There is no offcut “{offcut_id}” in this book.")

    def chapter_of(self, scene_id: str) -> Chapter | None:
        """The chapter a scene stands in; None for front and back matter. Raises UnknownThing."""
        self.scene(scene_id)
        for chapter in self.chapters:
            if any(scene.id == scene_id for scene in chapter.scenes):
                return chapter
        return None

    def part_of(self, chapter_id: str) -> Part:
        """The part a chapter stands in. Raises UnknownThing."""
        for part in self.parts:
            if any(chapter.id == chapter_id for chapter in part.chapters):
                return part
        raise UnknownThing(f"There is no chapter “{chapter_id}” in this book.")

    def walk(self) -> Iterator[tuple[Part | None, Chapter | None, Scene]]:
        """Every scene in reading order with the part and chapter it stands in."""
        for scene in self.front:
            yield None, None, scene
        for part in self.parts:
            for chapter in part.chapters:
                for scene in chapter.scenes:
                    yield part, chapter, scene
        for scene in self.back:
            yield None, None, scene

    def with_scene(self, scene: Scene) -> Book:
        """The book with `scene` in the place of the one that has its id. Raises UnknownThing."""
        self.scene(scene.id)

        def swap(scenes: tuple[Scene, ...]) -> tuple[Scene, ...]:
            if any(old.id == scene.id for old in scenes):
                return tuple(scene if old.id == scene.id else old for old in scenes)
            return scenes

        if scene.id in (old.id for old in self.front):
            return replace(self, front=swap(self.front))
        if scene.id in (old.id for old in self.back):
            return replace(self, back=swap(self.back))
        return self.with_chapters(lambda chapter: replace(chapter, scenes=swap(chapter.scenes)))

    def with_part(self, part: Part) -> Book:
        """The book with `part` in the place of the one that has its id."""
        return replace(self, parts=tuple(part if old.id == part.id else old for old in self.parts))

    def with_scenes(self, chapter_id: str, scenes: tuple[Scene, ...]) -> Book:
        """The book with other scenes in the chapter of this id."""
        return self.with_chapters(
            lambda each: replace(each, scenes=scenes) if each.id == chapter_id else each
        )

    def with_chapters(self, revise: Callable[[Chapter], Chapter]) -> Book:
        """The book with each chapter as `revise` gives it; what is equal is shared."""
        parts = []
        for part in self.parts:
            chapters = tuple(map(revise, part.chapters))
            parts.append(part if chapters == part.chapters else replace(part, chapters=chapters))
        return replace(self, parts=tuple(parts))


def fresh_id(kind: str) -> str:
    """A new id, such as `scene-5f2c90ab`: unlike any other, and never used again."""
    return f"{kind}-{secrets.token_hex(4)}"
