"""The process that sets text as its readers will have it, and measures it, so that Python's lock
never makes typing wait for it.

It keeps the texts that it was sent. A place asked for overtakes whatever else is under way, and an
older place; longer work goes on piece by piece between. Knows no Qt.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection

from reglet.language.readability import Readability
from reglet.language.speech import detect_marks
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.line.figures import figures_of
from reglet.overlays.reading import read_scene
from reglet.setting import Medium, Sheet
from reglet.setting.reader_copy import (
    Around,
    PageShape,
    Source,
    copy_of,
    on_page,
    on_phone,
    page_count,
    shapes,
)
from reglet.window.beside import HUNG_UP, give_way

Texts = tuple[tuple[str, Passage], ...]
"""Scenes by id whose text the process does not have yet, with that text."""


@dataclass(frozen=True)
class ChapterText:
    """A chapter's heading, and its scenes by id. Front and back matter is a chapter a scene."""

    id: str
    title: str
    scenes: tuple[str, ...]


@dataclass(frozen=True)
class AskPlace:
    """What stands around code point `offset` of paragraph `index` of a scene, on each sheet."""

    chapter: ChapterText
    scene: str
    index: int
    offset: int
    sheets: tuple[Sheet, ...]
    changed: Texts = ()


@dataclass(frozen=True)
class AskPages:
    """The pages of these chapters, one after another."""

    number: int
    chapters: tuple[ChapterText, ...]
    sheet: Sheet
    changed: Texts = ()


@dataclass(frozen=True)
class AskFigures:
    """The figures of these scenes, one after another."""

    number: int
    scenes: tuple[str, ...]
    changed: Texts = ()


@dataclass(frozen=True)
class AskCount:
    """How many pages these chapters make together."""

    number: int
    chapters: tuple[ChapterText, ...]
    sheet: Sheet
    changed: Texts = ()


Ask = AskPlace | AskPages | AskFigures | AskCount


@dataclass(frozen=True)
class PlaceSet:
    """The answer to an `AskPlace`: one `Around` a sheet."""

    scene: str
    index: int
    around: tuple[Around, ...]


@dataclass(frozen=True)
class ChapterSet:
    """One chapter of the answer to an `AskPages`; `chapter` is None when all are answered."""

    number: int
    chapter: str | None
    pages: tuple[PageShape, ...] = ()


@dataclass(frozen=True)
class SceneMeasured:
    """One scene of the answer to an `AskFigures`; `scene` is None when all are answered."""

    number: int
    scene: str | None
    figures: Readability | None = None


@dataclass(frozen=True)
class PagesCounted:
    """The answer to an `AskCount`: the pages, or screens, of `sheet`; None while there are more
    chapters to count.
    """

    number: int
    sheet: Sheet
    pages: int | None


Answer = PlaceSet | ChapterSet | SceneMeasured | PagesCounted


def work(pipe: Connection) -> None:
    """Answer what is asked until the pipe closes."""
    give_way()
    texts: dict[str, Passage] = {}
    long_work: dict[type, Iterator[Answer]] = {}
    with suppress(*HUNG_UP):
        while True:
            place: AskPlace | None = None
            while pipe.poll(None if not long_work and place is None else 0):
                ask: Ask = pipe.recv()
                texts.update(ask.changed)
                match ask:
                    case AskPlace():
                        place = ask
                    case AskPages():
                        long_work[AskPages] = _pages(texts, ask)
                    case AskFigures():
                        long_work[AskFigures] = _figures(texts, ask)
                    case AskCount():
                        long_work[AskCount] = _count(texts, ask)
            if place is not None:
                pipe.send(_place(texts, place))
            for kind, answers in list(long_work.items()):
                answer = next(answers, None)
                if answer is None:
                    del long_work[kind]
                else:
                    pipe.send(answer)


def _copy(texts: dict[str, Passage], chapter: ChapterText) -> tuple[Source, ...]:
    return copy_of(chapter.title, ((each, texts[each]) for each in chapter.scenes))


def _place(texts: dict[str, Passage], ask: AskPlace) -> PlaceSet:
    copy = _copy(texts, ask.chapter)
    wanted = ((source.scene, source.index) for source in copy)
    at = next(n for n, found in enumerate(wanted) if found == (ask.scene, ask.index))
    around = tuple(
        (on_phone if sheet.medium is Medium.PHONE else on_page)(copy, at, ask.offset, sheet)
        for sheet in ask.sheets
    )
    return PlaceSet(ask.scene, ask.index, around)


def _pages(texts: dict[str, Passage], ask: AskPages) -> Iterator[Answer]:
    for chapter in ask.chapters:
        yield ChapterSet(ask.number, chapter.id, shapes(_copy(texts, chapter), ask.sheet))
    yield ChapterSet(ask.number, None)


def _count(texts: dict[str, Passage], ask: AskCount) -> Iterator[Answer]:
    count = 0
    for chapter in ask.chapters:
        count += page_count(_copy(texts, chapter), ask.sheet)
        yield PagesCounted(ask.number, ask.sheet, None)
    yield PagesCounted(ask.number, ask.sheet, count)


def _figures(texts: dict[str, Passage], ask: AskFigures) -> Iterator[Answer]:
    marks = detect_marks(passage.text for passage in texts.values())
    for scene_id in ask.scenes:
        read = read_scene(Scene(scene_id, passage=texts[scene_id]), marks)
        yield SceneMeasured(ask.number, scene_id, figures_of(read))
    yield SceneMeasured(ask.number, None)
