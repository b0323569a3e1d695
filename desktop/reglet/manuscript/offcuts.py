"""Taking text out of the book and keeping it, and putting it back where it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from reglet.errors import CannotArrange
from reglet.manuscript.anchored import CutPlace, in_order
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
    book = book.with_scenes(chapter.id, kept)
    offcut = Offcut(fresh_id("offcut"), scene, when, origin)
    return replace(book, offcuts=(*book.offcuts, offcut))


def cut_scenes(book: Book, scene_ids: Sequence[str], when: datetime) -> Book:
    """Several scenes moved to the Offcuts, each as `cut_scene` does. Raises as that does, and then
    none is cut.
    """
    for scene_id in scene_ids:
        book = cut_scene(book, scene_id, when)
    return book


def put_back_all(book: Book, offcut_ids: Sequence[str]) -> Book:
    """Several offcuts set back where they were taken from, the one cut last first. Raises as
    `put_back` does, and then none is.
    """
    wanted = set(offcut_ids)
    for offcut_id in offcut_ids:
        book.offcut(offcut_id)
    for offcut in reversed(book.offcuts):
        if offcut.id in wanted:
            book = put_back(book, offcut.id)
    return book


def keep_alternative(book: Book, scene_id: str, when: datetime) -> Book:
    """A copy of a scene kept among the Offcuts as its alternative; the scene itself stays.

    The copy has ids of its own throughout. Raises UnknownThing; CannotArrange for front and back
    matter.
    """
    scene, chapter = book.scene(scene_id), book.chapter_of(scene_id)
    if chapter is None:
        raise CannotArrange("Alternatives are kept of the scenes of chapters only.")
    notes = tuple(replace(note, id=fresh_id("note")) for note in scene.notes)
    # A place that a passage was cut from is one place, and stays with the scene in the book.
    copy = replace(scene, id=fresh_id("scene"), notes=notes, cuts=())
    ids = [each.id for each in chapter.scenes]
    origin = Origin(chapter.id, tuple(ids[: ids.index(scene_id) + 1]), alternative_of=scene_id)
    return replace(book, offcuts=(*book.offcuts, Offcut(fresh_id("offcut"), copy, when, origin)))


def keep_alternatives(book: Book, scene_ids: Sequence[str], when: datetime) -> Book:
    """A copy of each of several scenes kept as `keep_alternative` does. Raises as that does, and
    then none is.
    """
    for scene_id in scene_ids:
        book = keep_alternative(book, scene_id, when)
    return book


def alternatives(book: Book, scene_id: str) -> tuple[Offcut, ...]:
    """The other versions of a scene that are kept among the Offcuts."""
    return tuple(
        each for each in book.offcuts if each.origin and each.origin.alternative_of == scene_id
    )


def swap_alternative(book: Book, offcut_id: str) -> Book:
    """An alternative set into the book in the place of its scene, which is kept as the alternative.

    Raises UnknownThing; CannotArrange where the offcut is no alternative of a scene that stands in
    the book.
    """
    offcut = book.offcut(offcut_id)
    old_id = offcut.origin.alternative_of if offcut.origin else ""
    if not old_id or not book.has_scene(old_id):
        raise CannotArrange(
            "The scene that this is another version of is not in the book. Nothing was changed; "
            "put this version back by itself instead."
        )
    old, new = book.scene(old_id), offcut.scene
    # Passages cut from the old version go back to the version that stands in the book.
    cuts = tuple(replace(cut, position=min(cut.position, len(new.passage))) for cut in old.cuts)
    new = replace(new, cuts=(*new.cuts, *cuts))
    old = replace(old, cuts=())

    def renamed(each: Offcut) -> Offcut:
        if each.id == offcut_id:
            each = replace(each, scene=old)
        if not each.origin:
            return each
        of = new.id if each.origin.alternative_of == old_id else each.origin.alternative_of
        before = tuple(new.id if each_id == old_id else each_id for each_id in each.origin.before)
        return replace(each, origin=replace(each.origin, before=before, alternative_of=of))

    book = book.with_chapters(
        lambda chapter: replace(
            chapter, scenes=tuple(new if scene.id == old_id else scene for scene in chapter.scenes)
        )
    )
    return replace(book, offcuts=tuple(map(renamed, book.offcuts)))


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
    rest = _without(book, offcut_id)
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
    rest = _without(book, offcut_id)
    for scene in rest.texts:
        cuts = tuple(cut for cut in scene.cuts if cut.offcut != offcut_id)
        if cuts != scene.cuts:
            rest = rest.with_scene(replace(scene, cuts=cuts))
    return _passage_back(rest, rest.scene(scene_id), CutPlace(offcut_id, position), offcut)


def _without(book: Book, offcut_id: str) -> Book:
    return replace(book, offcuts=tuple(each for each in book.offcuts if each.id != offcut_id))


def _passage_back(book: Book, scene: Scene, cut: CutPlace, offcut: Offcut) -> Book:
    back = scene.edited(cut.position, cut.position, offcut.scene.passage)
    notes = tuple(note.shifted(cut.position) for note in offcut.scene.notes)
    stets = tuple(stet.shifted(cut.position) for stet in offcut.scene.stets)
    cuts = tuple(each for each in back.cuts if each.offcut != offcut.id)
    return book.with_scene(
        replace(
            back,
            notes=in_order((*back.notes, *notes)),
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
    return book.with_scenes(chapter.id, scenes)
