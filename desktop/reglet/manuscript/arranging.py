"""Operations on the book's order and division. Not one of them alters a word of the text.

Notes, stets and cut places go with the text they are tied to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from reglet.errors import CannotArrange
from reglet.manuscript.book import Book, Chapter, Part, fresh_id
from reglet.manuscript.heard import most_heard
from reglet.manuscript.paragraph import scene_break
from reglet.manuscript.passage import EMPTY, Passage
from reglet.manuscript.scene import Scene


def move_scenes(book: Book, scene_ids: Sequence[str], chapter_id: str, index: int) -> Book:
    """Scenes taken out and set, in the order given, before the `index`th scene of a chapter.

    `index` counts the chapter as it stands before the move. Raises UnknownThing for an id that is
    no scene or chapter of the body, CannotArrange if a scene is named twice.
    """
    if len(set(scene_ids)) != len(scene_ids):
        raise CannotArrange("A scene was named twice. Nothing was moved; name each scene once.")
    for scene_id in scene_ids:
        _body_chapter(book, scene_id)
    moved = tuple(book.scene(scene_id) for scene_id in scene_ids)
    target = book.chapter(chapter_id)
    before = sum(scene.id not in scene_ids for scene in target.scenes[:index])

    def without_moved(chapter: Chapter) -> Chapter:
        scenes = tuple(scene for scene in chapter.scenes if scene.id not in scene_ids)
        if chapter.id == chapter_id:
            scenes = (*scenes[:before], *moved, *scenes[before:])
        return replace(chapter, scenes=scenes)

    return book.with_chapters(without_moved)


def move_chapter(book: Book, chapter_id: str, part_id: str, index: int) -> Book:
    """A chapter set before the `index`th chapter of a part, counted before the move.

    Raises UnknownThing.
    """
    chapter, target = book.chapter(chapter_id), book.part(part_id)
    before = sum(each.id != chapter_id for each in target.chapters[:index])

    def without_moved(part: Part) -> Part:
        chapters = tuple(each for each in part.chapters if each.id != chapter_id)
        if part.id == part_id:
            chapters = (*chapters[:before], chapter, *chapters[before:])
        return replace(part, chapters=chapters)

    return replace(book, parts=tuple(map(without_moved, book.parts)))


def split_scene(book: Book, scene_id: str, position: int, title: str = "") -> Book:
    """A scene parted in two at a code point; the second half is a new scene behind it.

    The sheet and the passed stages stay with the first half, whose facts they are. Raises
    UnknownThing, IndexError, and CannotArrange where one half would hold no text.
    """
    scene, chapter = book.scene(scene_id), _body_chapter(book, scene_id)
    head, tail = scene.passage.divide(position)
    if not head.text.strip() or not tail.text.strip():
        raise CannotArrange(
            "A scene is split inside its text. Put the cursor where the new scene should start."
        )
    offset = len(scene.passage) - len(tail)
    first = replace(
        scene,
        passage=head,
        notes=tuple(note for note in scene.notes if note.start < offset),
        stets=tuple(stet for stet in scene.stets if stet.end <= len(head)),
        cuts=tuple(cut for cut in scene.cuts if cut.position < offset),
    )
    first = replace(
        first, notes=tuple(replace(note, end=min(note.end, len(head))) for note in first.notes)
    )
    second = Scene(
        fresh_id("scene"),
        title,
        tail,
        notes=tuple(note.shifted(-offset) for note in scene.notes if note.start >= offset),
        stets=tuple(stet.shifted(-offset) for stet in scene.stets if stet.start >= offset),
        allowances=scene.allowances,
        cuts=tuple(cut.shifted(-offset) for cut in scene.cuts if cut.position >= offset),
        heard=scene.heard,
    )
    scenes = tuple(
        half for each in chapter.scenes for half in ((first, second) if each is scene else (each,))
    )
    return book.with_scenes(chapter.id, scenes)


def merge_scenes(book: Book, scene_ids: Sequence[str], with_breaks: bool = False) -> Book:
    """Scenes made one: the first takes the texts of the others behind its own, in the order given,
    parted by a scene-break paragraph if `with_breaks`. Sheets are joined, nothing dropped.

    Raises UnknownThing, and CannotArrange for fewer than two scenes or one named twice.
    """
    if len(set(scene_ids)) != len(scene_ids) or len(scene_ids) < 2:
        raise CannotArrange("Merging takes two or more different scenes. Nothing was changed.")
    chapter = _body_chapter(book, scene_ids[0])
    merged = book.scene(scene_ids[0])
    for scene_id in scene_ids[1:]:
        _body_chapter(book, scene_id)
        merged = _merged(merged, book.scene(scene_id), with_breaks)
    gone = set(scene_ids[1:])

    def without_gone(each: Chapter) -> Chapter:
        scenes = tuple(scene for scene in each.scenes if scene.id not in gone)
        if each.id == chapter.id:
            scenes = tuple(merged if scene.id == merged.id else scene for scene in scenes)
        return replace(each, scenes=scenes)

    return book.with_chapters(without_gone)


def add_scene(
    book: Book, chapter_id: str, index: int, title: str = "", passage: Passage = EMPTY
) -> Book:
    """A new scene set before the `index`th of a chapter. Raises UnknownThing."""
    chapter = book.chapter(chapter_id)
    new = Scene(fresh_id("scene"), title, passage)
    return book.with_scenes(chapter_id, (*chapter.scenes[:index], new, *chapter.scenes[index:]))


def start_chapter(book: Book, scene_id: str, title: str = "") -> Book:
    """A new chapter that starts with this scene and takes those behind it from its old chapter.

    Raises UnknownThing; CannotArrange for the first scene of a chapter, where one starts already.
    """
    chapter = _body_chapter(book, scene_id)
    at = [scene.id for scene in chapter.scenes].index(scene_id)
    if at == 0:
        raise CannotArrange("A chapter starts with this scene already. Nothing was changed.")
    new = Chapter(fresh_id("chapter"), title, chapter.scenes[at:])
    old = replace(chapter, scenes=chapter.scenes[:at])
    return _with_chapter(book, chapter.id, (old, new))


def join_chapter(book: Book, chapter_id: str) -> Book:
    """A chapter's scenes joined to the chapter before it. Its heading's words are not lost: they
    become the title of its first scene where that has none, else they stand before that title.

    Raises UnknownThing; CannotArrange for the first chapter of a part.
    """
    chapter, part = book.chapter(chapter_id), book.part_of(chapter_id)
    at = [each.id for each in part.chapters].index(chapter_id)
    if at == 0:
        raise CannotArrange("There is no chapter before this one to join it to.")
    scenes = chapter.scenes
    if chapter.title:
        first = scenes[0] if scenes else Scene(fresh_id("scene"))
        titled = f"{chapter.title} · {first.title}" if first.title else chapter.title
        scenes = (replace(first, title=titled), *scenes[1:])
    before = part.chapters[at - 1]
    joined = replace(before, scenes=before.scenes + scenes)
    chapters = (*part.chapters[: at - 1], joined, *part.chapters[at + 1 :])
    return book.with_part(replace(part, chapters=chapters))


def retitle(book: Book, thing_id: str, title: str) -> Book:
    """A scene, chapter or part of this id given a new title. Raises UnknownThing."""
    if book.has_scene(thing_id):
        return book.with_scene(replace(book.scene(thing_id), title=title))
    for part in book.parts:
        if part.id == thing_id:
            return book.with_part(replace(part, title=title))
    return _with_chapter(book, thing_id, (replace(book.chapter(thing_id), title=title),))


def _merged(first: Scene, second: Scene, with_break: bool) -> Scene:
    passage = first.passage
    if with_break:
        passage = passage.followed_by(Passage((scene_break(),)))
    offset = len(passage) + 1
    return replace(
        first,
        passage=passage.followed_by(second.passage),
        title=first.title or second.title,
        sheet=first.sheet.joined(second.sheet),
        passed=first.passed & second.passed,
        notes=first.notes + tuple(note.shifted(offset) for note in second.notes),
        stets=first.stets + tuple(stet.shifted(offset) for stet in second.stets),
        allowances=first.allowances | second.allowances,
        cuts=first.cuts + tuple(cut.shifted(offset) for cut in second.cuts),
        heard=most_heard(first.heard, second.heard),
    )


def _body_chapter(book: Book, scene_id: str) -> Chapter:
    chapter = book.chapter_of(scene_id)
    if chapter is None:
        raise CannotArrange(
            "Front and back matter keep their place. Only the scenes of chapters can be moved, "
            "split, merged or cut."
        )
    return chapter


def _with_chapter(book: Book, chapter_id: str, chapters: tuple[Chapter, ...]) -> Book:
    """The book with the chapter of this id given way to `chapters`."""
    part = book.part_of(chapter_id)
    changed = tuple(
        new for each in part.chapters for new in (chapters if each.id == chapter_id else (each,))
    )
    return book.with_part(replace(part, chapters=changed))
