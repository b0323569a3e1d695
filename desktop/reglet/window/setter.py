"""Text set and measured in another process: asked for here, told of by signals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QObject, Signal

from reglet.manuscript.book import Book
from reglet.manuscript.passage import Passage
from reglet.setting import Sheet
from reglet.window.setter_process import (
    Answer,
    AskCount,
    AskFigures,
    AskPages,
    AskPlace,
    ChapterSet,
    ChapterText,
    PagesCounted,
    PlaceSet,
    SceneMeasured,
    Texts,
    work,
)
from reglet.window.side_process import SideProcess


class Setter(QObject):
    """Asks the process, which is started when it is first needed. Of pages, counts and figures only
    those asked for last are told.
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
        self._process = SideProcess(work, self)
        self._process.answered.connect(self._tell)
        self._process.lost.connect(self._sent.clear)

    def ask_place(
        self, book: Book, scene_id: str, index: int, offset: int, sheets: Sequence[Sheet]
    ) -> None:
        """Set what stands around a place; one asked for later may come in its stead."""
        chapter = chapter_text(book, scene_id)
        changed = self._changed(book, chapter.scenes)
        self._process.send(AskPlace(changed, chapter, scene_id, index, offset, tuple(sheets)))

    def ask_pages(self, book: Book, sheet: Sheet) -> None:
        """Make the whole book up, front and back matter included, in order."""
        self._pages += 1
        chapters = chapter_texts(book)
        changed = self._changed(book, (each for chapter in chapters for each in chapter.scenes))
        self._process.send(AskPages(self._pages, changed, chapters, sheet))

    def ask_figures(self, book: Book, scene_ids: Sequence[str]) -> None:
        """Measure these scenes, in this order."""
        self._figures += 1
        changed = self._changed(book, scene_ids)
        self._process.send(AskFigures(self._figures, changed, tuple(scene_ids)))

    def ask_count(self, book: Book, sheet: Sheet) -> None:
        """Count the pages of the whole book."""
        self._counts += 1
        chapters = chapter_texts(book)
        changed = self._changed(book, (each for chapter in chapters for each in chapter.scenes))
        self._process.send(AskCount(self._counts, changed, chapters, sheet))

    def close(self) -> None:
        """End the process."""
        self._process.close()

    def _changed(self, book: Book, scene_ids: Iterable[str]) -> Texts:
        changed = []
        for scene_id in scene_ids:
            passage = book.scene(scene_id).passage
            if self._sent.get(scene_id) is not passage:
                self._sent[scene_id] = passage
                changed.append((scene_id, passage))
        return tuple(changed)

    def _tell(self, answer: Answer) -> None:
        match answer:
            case PlaceSet():
                self.place_set.emit(answer)
            case ChapterSet() if answer.number == self._pages:
                self.chapter_set.emit(answer)
            case SceneMeasured() if answer.number == self._figures:
                self.scene_measured.emit(answer)
            case PagesCounted() if answer.number == self._counts and answer.pages is not None:
                self.pages_counted.emit(answer)


def chapter_text(book: Book, scene_id: str) -> ChapterText:
    """The chapter that a scene stands in; a scene of the front or back matter stands alone."""
    chapter = book.chapter_of(scene_id)
    if chapter is None:
        return ChapterText(scene_id, book.scene(scene_id).title, (scene_id,))
    return ChapterText(chapter.id, chapter.title, tuple(scene.id for scene in chapter.scenes))


def chapter_texts(book: Book) -> tuple[ChapterText, ...]:
    """All that is to be set, in order."""
    return (
        *(ChapterText(scene.id, scene.title, (scene.id,)) for scene in book.front),
        *(
            ChapterText(chapter.id, chapter.title, tuple(scene.id for scene in chapter.scenes))
            for chapter in book.chapters
            if chapter.scenes
        ),
        *(ChapterText(scene.id, scene.title, (scene.id,)) for scene in book.back),
    )
