"""Taking text out of the book and keeping it, and putting it back where it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from reglet.errors import CannotArrange
from reglet.manuscript.anchored import CutPlace
from reglet.manuscript.book import Book, Chapter, Offcut, Origin, Part, fresh_id
from reglet.manuscript.passage import EMPTY
from reglet.manuscript.scene import Scene


def cut_scene(book: Book, scene_id: str, when: datetime) -> Book:
    """A whole scene, with all that is tied to it, moved to the Offcuts.

    Raises UnknownThing; CannotArrange for front and back matter.
    """
    scene, chapter = book.scene(scene_id), book.chapter_of(scene_id)
    if chapter is None:
        raise CannotArrange("Front and back matter stay in the book; empty its text instead.")
    before = [each.id for each in chapter.scenes]
    origin = Origin(chapter.id, tuple(before[: before.index(scene_id)]))
    kept = tuple(each for each in chapter.scenes if each.id != scene_id)
    book = book.with_chapters(
        lambda each: replace(each, scenes=kept) if each.id == chapter.id else each
    )
    offcut = Offcut(fresh_id("offcut"), scene, when, origin)
    return replace(book, offcuts=(*book.offcuts, offcut))


def cut_passage(book: Book, scene_id: str, start: int, end: int, when: datetime) -> Book:
    """Code points `start` up to `end` of a scene moved to the Offcuts.

    Raises UnknownThing, IndexError; CannotArrange for an empty stretch.
    """
    scene = book.scene(scene_id)
    if start >= end:
        raise CannotArrange("Mark the words to cut first. Nothing was changed.")
    taken = scene.passage.slice(start, end)
    notes = tuple(note for note in scene.notes if start <= note.start and note.end <= end)
    stets = tuple(stet for stet in scene.stets if start <= stet.start and stet.end <= end)
    kept = Scene(
        fresh_id("scene"),
        scene.title,
        taken,
        notes=tuple(note.shifted(-start) for note in notes),
        stets=tuple(stet.shifted(-start) for stet in stets),
    )
    offcut = Offcut(fresh_id("offcut"), kept, when)
    left = replace(scene, notes=tuple(note for note in scene.notes if note not in notes))
    left = left.edited(start, end, EMPTY)
    left = replace(left, cuts=(*left.cuts, CutPlace(offcut.id, start)))
    return replace(book.with_scene(left), offcuts=(*book.offcuts, offcut))


def put_back(book: Book, offcut_id: str) -> Book:
    """An offcut set back where it was taken from, following what has moved since.

    A scene goes back behind the nearest scene that stood before it and still stands in its
    chapter; where the chapter is gone, to the end of the book. Raises UnknownThing, and
    CannotArrange where a passage's scene is no longer in the book.
    """
    offcut = book.offcut(offcut_id)
    rest = replace(book, offcuts=tuple(each for each in book.offcuts if each.id != offcut_id))
    if offcut.origin:
        return _scene_back(rest, offcut.scene, offcut.origin)
    for scene in rest.texts:
        for cut in scene.cuts:
            if cut.offcut == offcut_id:
                return _passage_back(rest, scene, cut, offcut)
    raise CannotArrange(
        "The scene this passage was cut from is no longer in the book. Put that scene back first, "
        "or set the passage into another scene."
    )


def put_into(book: Book, offcut_id: str, scene_id: str, position: int) -> Book:
    """An offcut's text set into a scene at a code point. Raises UnknownThing, IndexError."""
    offcut = book.offcut(offcut_id)
    rest = replace(book, offcuts=tuple(each for each in book.offcuts if each.id != offcut_id))
    for scene in rest.texts:
        cuts = tuple(cut for cut in scene.cuts if cut.offcut != offcut_id)
        if cuts != scene.cuts:
            rest = rest.with_scene(replace(scene, cuts=cuts))
    return _passage_back(rest, rest.scene(scene_id), CutPlace(offcut_id, position), offcut)


def _passage_back(book: Book, scene: Scene, cut: CutPlace, offcut: Offcut) -> Book:
    back = scene.edited(cut.position, cut.position, offcut.scene.passage)
    notes = tuple(note.shifted(cut.position) for note in offcut.scene.notes)
    stets = tuple(stet.shifted(cut.position) for stet in offcut.scene.stets)
    cuts = tuple(each for each in back.cuts if each.offcut != offcut.id)
    return book.with_scene(
        replace(
            back,
            notes=tuple(sorted((*back.notes, *notes), key=lambda each: (each.start, each.end))),
            stets=(*back.stets, *stets),
            cuts=cuts,
        )
    )


def _scene_back(book: Book, scene: Scene, origin: Origin) -> Book:
    if not book.chapters:
        chapter = Chapter(fresh_id("chapter"), scenes=(scene,))
        if book.parts:
            last = replace(book.parts[-1], chapters=(chapter,))
            return replace(book, parts=(*book.parts[:-1], last))
        return replace(book, parts=(Part(fresh_id("part"), chapters=(chapter,)),))
    chapter = next((each for each in book.chapters if each.id == origin.chapter), book.chapters[-1])
    at = 0 if chapter.id == origin.chapter else len(chapter.scenes)
    for index, each in enumerate(chapter.scenes):
        if each.id in origin.before:
            at = index + 1
    scenes = (*chapter.scenes[:at], scene, *chapter.scenes[at:])
    return book.with_chapters(
        lambda each: replace(each, scenes=scenes) if each.id == chapter.id else each
    )
