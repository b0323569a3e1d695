"""Draft arrangements: another order of the scenes, tried beside the book, then taken or dropped.

A draft arrangement is kept in the book as ids. `arranged` gives the book as it would be, for every
view and for further moving; `kept` keeps the order of such a book as the arrangement.
"""

from __future__ import annotations

from dataclasses import replace

from reglet.errors import UnknownThing
from reglet.manuscript.book import (
    ArrangedChapter,
    Arrangement,
    Book,
    Chapter,
    fresh_id,
)
from reglet.manuscript.scene import Scene


def begun(book: Book, name: str) -> tuple[Book, str]:
    """The book with a new draft arrangement that is its present order, and the arrangement's id."""
    arrangement = Arrangement(fresh_id("arrangement"), name, _order(book))
    return replace(book, arrangements=(*book.arrangements, arrangement)), arrangement.id


def kept(book: Book, arrangement_id: str, shaped: Book) -> Book:
    """The book with the order of `shaped` kept as the draft arrangement of this id.

    `shaped` is what `arranged` gave, changed in its order and division. Raises UnknownThing.
    """
    return put(book, replace(named(book, arrangement_id), chapters=_order(shaped)))


def put(book: Book, arrangement: Arrangement) -> Book:
    """The book with a draft arrangement as it was at another time, in the place of the one of its
    id. Raises UnknownThing where that is no longer there.
    """
    named(book, arrangement.id)
    return replace(
        book,
        arrangements=tuple(arrangement if a.id == arrangement.id else a for a in book.arrangements),
    )


def named(book: Book, arrangement_id: str) -> Arrangement:
    """The draft arrangement of this id. Raises UnknownThing."""
    for each in book.arrangements:
        if each.id == arrangement_id:
            return each
    raise UnknownThing(f"There is no draft arrangement “{arrangement_id}” in this book.")


def arranged(book: Book, arrangement_id: str) -> Book:
    """The book as it would be in a draft arrangement. Raises UnknownThing.

    Not a scene of the book is missing from it: one written since stands behind the scene that it
    follows in the book; a chapter that the arrangement does not have stays, if only with its title.
    """
    wanted = named(book, arrangement_id).chapters
    scenes = {scene.id: scene for scene in book.scenes}
    placed = {each for chapter in wanted for each in chapter.scenes}
    behind: dict[str, list[Scene]] = {}
    first_of: dict[str, list[Scene]] = {}
    for chapter in book.chapters:
        last = ""
        for scene in chapter.scenes:
            if scene.id in placed:
                last = scene.id
            elif last:
                behind.setdefault(last, []).append(scene)
            else:
                first_of.setdefault(chapter.id, []).append(scene)
    titles = {chapter.id: chapter.title for chapter in book.chapters}
    standing = frozenset(titles)
    parts: dict[str, list[Chapter]] = {part.id: [] for part in book.parts}
    for each in wanted:
        held = list(first_of.pop(each.id, ()))
        for scene_id in each.scenes:
            if scene_id in scenes:
                held += [scenes[scene_id], *behind.get(scene_id, ())]
        title = titles.pop(each.id, each.title)
        if held or each.id in standing:
            home = each.part if each.part in parts else book.parts[-1].id
            parts[home].append(Chapter(each.id, title, tuple(held)))
    for part in book.parts:
        for chapter in part.chapters:
            if chapter.id in titles:
                parts[part.id].append(replace(chapter, scenes=tuple(first_of.get(chapter.id, ()))))
    shaped = tuple(replace(part, chapters=tuple(parts[part.id])) for part in book.parts)
    return replace(book, parts=shaped)


def taken(book: Book, arrangement_id: str) -> Book:
    """The book in the order of a draft arrangement, which is thereby done with."""
    return dropped(arranged(book, arrangement_id), arrangement_id)


def dropped(book: Book, arrangement_id: str) -> Book:
    """The book without a draft arrangement. Raises UnknownThing."""
    named(book, arrangement_id)
    rest = tuple(each for each in book.arrangements if each.id != arrangement_id)
    return replace(book, arrangements=rest)


def _order(book: Book) -> tuple[ArrangedChapter, ...]:
    return tuple(
        ArrangedChapter(
            part.id, chapter.id, chapter.title, tuple(scene.id for scene in chapter.scenes)
        )
        for part in book.parts
        for chapter in part.chapters
    )
