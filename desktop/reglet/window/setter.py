"""Text set and measured in another process: asked for here, told of by signals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from reglet.manuscript.book import Book
from reglet.manuscript.front_and_back import printed_back, printed_front
from reglet.manuscript.passage import Passage
from reglet.setting import Sheet
from reglet.window.setter_process import (
    Answer,
    Ask,
    AskCount,
    AskFigures,
    AskPages,
    AskPlace,
    ChapterSet,
    ChapterText,
    PagesCounted,
    PlaceSet,
    SceneMeasured,
    work,
)
from reglet.window.side_process import SideProcess


class Setter(QObject):
    """Asks the process, which is started when it is first needed. Of pages, counts and figures only
    those asked for last are told. What a process that is lost has not answered, another is asked.
    """

    place_set = Signal(object)
    """A `PlaceSet`."""
    chapter_set = Signal(object)
    """A `ChapterSet`; its chapter is None when all are told."""
    scene_measured = Signal(object)
    """A `SceneMeasured`; its scene is None when all are told."""
    pages_counted = Signal(object)
    """A `PagesCounted`."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._sent: dict[str, Passage] = {}
        self._pages = self._figures = self._counts = 0
        self._open: dict[type[Ask], tuple[Book, Ask]] = {}
        self._asked_again = False
        self.process = SideProcess(work, self)
        self.process.answered.connect(self._tell)
        self.process.lost.connect(self._lose)

    def ask_place(
        self, book: Book, scene_id: str, index: int, offset: int, sheets: Sequence[Sheet]
    ) -> None:
        """Set what stands around a place; one asked for later may come in its stead."""
        chapter = chapter_text(book, scene_id)
        self._ask(book, AskPlace(chapter, scene_id, index, offset, tuple(sheets)))

    def ask_pages(self, book: Book, sheet: Sheet) -> None:
        """Make the whole book up, front and back matter included, in order."""
        self._pages += 1
        self._ask(book, AskPages(self._pages, chapter_texts(book), sheet))

    def ask_figures(self, book: Book, scene_ids: Sequence[str]) -> None:
        """Measure these scenes, in this order."""
        self._figures += 1
        self._ask(book, AskFigures(self._figures, tuple(scene_ids)))

    def ask_count(self, book: Book, sheet: Sheet) -> None:
        """Count the pages of the whole book."""
        self._counts += 1
        self._ask(book, AskCount(self._counts, chapter_texts(book), sheet))

    def close(self) -> None:
        """End the process."""
        self.process.close()

    def _ask(self, book: Book, ask: Ask) -> None:
        """Ask, with those of the book's texts that it takes and the process does not have."""
        self._open[type(ask)] = (book, ask)
        changed = []
        for scene_id in _scenes_of(ask):
            passage = book.scene(scene_id).passage
            if self._sent.get(scene_id) is not passage:
                self._sent[scene_id] = passage
                changed.append((scene_id, passage))
        self.process.send(replace(ask, changed=tuple(changed)))

    def _lose(self) -> None:
        """Ask another process what the one that ended has not answered; but one after another that
        says nothing could go on for ever.
        """
        self._sent.clear()
        left_open, self._open = self._open, {}
        if not self._asked_again:
            self._asked_again = bool(left_open)
            for book, ask in left_open.values():
                self._ask(book, ask)

    def _tell(self, answer: Answer) -> None:
        self._asked_again = False
        match answer:
            case PlaceSet():
                self._take_off(AskPlace, answer)
                self.place_set.emit(answer)
            case ChapterSet() if answer.number == self._pages:
                self._take_off(AskPages, answer)
                self.chapter_set.emit(answer)
            case SceneMeasured() if answer.number == self._figures:
                self._take_off(AskFigures, answer)
                self.scene_measured.emit(answer)
            case PagesCounted() if answer.number == self._counts and answer.pages is not None:
                self._take_off(AskCount, answer)
                self.pages_counted.emit(answer)

    def _take_off(self, kind: type[Ask], answer: Answer) -> None:
        """Take an answer off what is left open."""
        if kind in self._open:
            book, ask = self._open.pop(kind)
            rest = _unanswered(ask, answer)
            if rest is not None:
                self._open[kind] = (book, rest)


def _unanswered(ask: Ask, answer: Answer) -> Ask | None:
    """What an answer leaves open of a question."""
    match ask, answer:
        case AskPlace(), PlaceSet() if (ask.scene, ask.index) != (answer.scene, answer.index):
            return ask  # an earlier place, as this one was asked for
        case AskPages(), ChapterSet() if answer.chapter is not None:
            return replace(ask, chapters=ask.chapters[1:])
        case AskFigures(), SceneMeasured() if answer.scene is not None:
            return replace(ask, scenes=ask.scenes[1:])
    return None


def _scenes_of(ask: Ask) -> Iterator[str]:
    """The scenes whose text an answer takes."""
    match ask:
        case AskPlace():
            yield from ask.chapter.scenes
        case AskFigures():
            yield from ask.scenes
        case AskPages() | AskCount():
            for chapter in ask.chapters:
                yield from chapter.scenes


def chapter_text(book: Book, scene_id: str) -> ChapterText:
    """The chapter that a scene stands in; a scene of the front or back matter stands alone."""
    chapter = book.chapter_of(scene_id)
    if chapter is None:
        return ChapterText(scene_id, book.scene(scene_id).title, (scene_id,))
    return ChapterText(chapter.id, chapter.title, tuple(scene.id for scene in chapter.scenes))


def chapter_texts(book: Book) -> tuple[ChapterText, ...]:
    """All that is to be set, in order."""
    return (
        *(ChapterText(scene.id, scene.title, (scene.id,)) for scene in printed_front(book)),
        *(
            ChapterText(chapter.id, chapter.title, tuple(scene.id for scene in chapter.scenes))
            for chapter in book.chapters
            if chapter.scenes
        ),
        *(ChapterText(scene.id, scene.title, (scene.id,)) for scene in printed_back(book)),
    )
