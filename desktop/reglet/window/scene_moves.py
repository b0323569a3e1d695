"""Where scenes go when a gesture in a view of the whole book moves them."""

from __future__ import annotations

from collections.abc import Sequence

from reglet.manuscript.arranging import move_scenes
from reglet.manuscript.book import Book


def in_order(book: Book, scene_ids: Sequence[str]) -> list[str]:
    """The scenes in the order they have in the book; those not in its chapters are left out."""
    wanted = set(scene_ids)
    return [scene.id for scene in book.scenes if scene.id in wanted]


def stepped(book: Book, scene_ids: Sequence[str], by: int) -> Book:
    """The book with scenes, gathered in their order, one place on (1) or back (-1), over the edge
    of a chapter where they stand at it. At an end of the book nothing moves.
    """
    ids = in_order(book, scene_ids)
    if not ids:
        return book
    edge = ids[-1] if by > 0 else ids[0]
    chapter = book.chapter_of(edge)
    assert chapter is not None  # only scenes of chapters are in order
    at = [scene.id for scene in chapter.scenes].index(edge)
    if 0 <= at + by < len(chapter.scenes):
        return move_scenes(book, ids, chapter.id, at + 2 if by > 0 else at - 1)
    number = [each.id for each in book.chapters].index(chapter.id) + by
    if not 0 <= number < len(book.chapters):
        return book
    other = book.chapters[number]
    return move_scenes(book, ids, other.id, 0 if by > 0 else len(other.scenes))


def moved_to(book: Book, scene_ids: Sequence[str], slot: int) -> Book:
    """The book with scenes set before the `slot`th of all scenes, in the chapter of the scene that
    stands before that place; at the book's beginning, in the first chapter.
    """
    ids = in_order(book, scene_ids)
    scenes = book.scenes
    if not ids:
        return book
    if slot <= 0:
        first = book.chapter_of(scenes[0].id)
        assert first is not None
        return move_scenes(book, ids, first.id, 0)
    before = scenes[min(slot, len(scenes)) - 1].id
    chapter = book.chapter_of(before)
    assert chapter is not None
    at = [scene.id for scene in chapter.scenes].index(before)
    return move_scenes(book, ids, chapter.id, at + 1)
