"""How much shorter a scene, its chapter and the book have become since a stage began."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import Reason
from reglet.manuscript.book import Book, Offcut
from reglet.manuscript.stage import Stage


@dataclass(frozen=True)
class StageStart:
    """The book as it was when a stage was first entered, and the snapshot that holds it."""

    snapshot: str
    made: datetime
    book: Book


@dataclass(frozen=True, slots=True)
class Tightening:
    """Words at the start of the stage and now, and those cut since that are kept in Offcuts."""

    then: int
    now: int
    kept: int = 0

    @property
    def cut(self) -> int:
        """Words fewer than at the start; below zero where there are more."""
        return self.then - self.now

    @property
    def share(self) -> float:
        """The part of the words at the start that is gone, 0 to 1; below 0 for growth."""
        return self.cut / self.then if self.then else 0.0


def start_of(file: BookFile, stage: Stage, known: StageStart | None = None) -> StageStart | None:
    """The book at the first entrance into a stage, read from its file unless it is `known`; None
    where the stage has not been entered. Raises RegletError.
    """
    for snapshot in file.snapshots():
        if snapshot.reason is Reason.ENTERING_STAGE and snapshot.stage is stage:
            if known is not None and known.snapshot == snapshot.id:
                return known
            return StageStart(snapshot.id, snapshot.made, file.state(snapshot.id))
    return None


def of_scene(start: StageStart, book: Book, scene_id: str) -> Tightening:
    """One scene; a scene that was not there at the start had no words. Raises UnknownThing."""
    scene = book.scene(scene_id)
    cut_from_it = {cut.offcut for cut in scene.cuts}
    kept = _kept(start, (each for each in book.offcuts if each.id in cut_from_it))
    then = start.book.scene(scene_id).passage.word_count if start.book.has_scene(scene_id) else 0
    return Tightening(then, scene.passage.word_count, kept)


def of_chapter(start: StageStart, book: Book, chapter_id: str) -> Tightening:
    """The scenes that stand in a chapter now, and those that were taken out of the book from it.
    Raises UnknownThing.
    """
    each = [of_scene(start, book, scene.id) for scene in book.chapter(chapter_id).scenes]
    gone = (
        scene.passage.word_count
        for chapter in start.book.chapters
        if chapter.id == chapter_id
        for scene in chapter.scenes
        if not book.has_scene(scene.id)
    )
    whole_scenes = (o for o in book.offcuts if o.origin and o.origin.chapter == chapter_id)
    return Tightening(
        sum(one.then for one in each) + sum(gone),
        sum(one.now for one in each),
        sum(one.kept for one in each) + _kept(start, whole_scenes),
    )


def of_book(start: StageStart, book: Book) -> Tightening:
    """The scenes of all chapters."""
    return Tightening(start.book.word_count, book.word_count, _kept(start, book.offcuts))


def _kept(start: StageStart, offcuts: Iterable[Offcut]) -> int:
    return sum(each.scene.passage.word_count for each in offcuts if each.cut_at >= start.made)
