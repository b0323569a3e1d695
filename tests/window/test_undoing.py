"""Undo of the text and undo of the order go their own ways, and neither loses a word."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.errors import CannotArrange
from reglet.manuscript import arranging, draft_arrangement
from reglet.manuscript.book import Book
from reglet.manuscript.editing import edit
from reglet.manuscript.heard import Heard, paragraph_key
from reglet.manuscript.offcuts import (
    cut_passage,
    cut_scene,
    cut_scenes,
    keep_alternatives,
    put_back,
    put_back_all,
    swap_alternative,
)
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.voice.coverage import with_hearing
from reglet.window.desk import Desk
from reglet.window.scene_moves import moved_to, stepped
from reglet.window.undoing import Rearrangement

from tests.strategies import TEXTS, books
from tests.window.conftest import LAMP, SALT, small_book

WHEN = datetime(2026, 1, 2, tzinfo=UTC)


def everything(book: Book) -> Counter[str]:
    texts = [scene.passage.text for scene in book.texts]
    texts += [offcut.scene.passage.text for offcut in book.offcuts]
    return Counter(" ".join(texts).split())


OPERATIONS = (
    "move several step drop split merge cut cut-several put-back put-back-several passage "
    "passage-back version swap order-taken order-dropped start join retitle"
).split()


@st.composite
def arrangements(draw: st.DrawFn) -> tuple[Book, Book]:
    """A book, and what it is after one operation of book size, whichever it allows."""
    book = draw(books())
    ids = [scene.id for scene in book.scenes]
    scene_id = draw(st.sampled_from(ids))
    some = draw(st.lists(st.sampled_from(ids), min_size=1, unique=True))
    scene = book.scene(scene_id)
    chapter = draw(st.sampled_from(book.chapters))
    middle = len(scene.passage) // 2
    try:
        match draw(st.sampled_from(OPERATIONS)):
            case "move":
                return book, arranging.move_scenes(book, [scene_id], chapter.id, 0)
            case "several":
                return book, arranging.move_scenes(book, some, chapter.id, 1)
            case "step":
                return book, stepped(book, some, draw(st.sampled_from((-1, 1))))
            case "drop":
                return book, moved_to(book, some, draw(st.integers(0, len(ids))))
            case "split":
                return book, arranging.split_scene(book, scene_id, middle)
            case "merge":
                return book, arranging.merge_scenes(book, some)
            case "cut":
                return book, cut_scene(book, scene_id, WHEN)
            case "cut-several":
                return book, cut_scenes(book, some, WHEN)
            case "put-back":
                cut = cut_scenes(book, some, WHEN)
                return cut, put_back(cut, draw(st.sampled_from(cut.offcuts)).id)
            case "put-back-several":
                cut = cut_scenes(book, some, WHEN)
                return cut, put_back_all(cut, [each.id for each in cut.offcuts])
            case "passage":
                return book, cut_passage(book, scene_id, 0, middle, WHEN)
            case "passage-back":
                cut = cut_passage(book, scene_id, 0, middle, WHEN)
                return cut, put_back(cut, cut.offcuts[-1].id)
            case "version":
                return book, keep_alternatives(book, some, WHEN)
            case "swap":
                kept = keep_alternatives(book, [scene_id], WHEN)
                return kept, swap_alternative(kept, kept.offcuts[-1].id)
            case "order-taken":
                begun, draft = draft_arrangement.begun(book, "Other")
                shaped = moved_to(draft_arrangement.arranged(begun, draft), some, 0)
                tried = draft_arrangement.kept(begun, draft, shaped)
                return tried, draft_arrangement.taken(tried, draft)
            case "order-dropped":
                begun, draft = draft_arrangement.begun(book, "Other")
                return begun, draft_arrangement.dropped(begun, draft)
            case "start":
                return book, arranging.start_chapter(book, scene_id)
            case "join":
                return book, arranging.join_chapter(book, chapter.id)
            case _:
                return book, arranging.retitle(book, scene_id, "Another")
    except CannotArrange:
        return book, book


@given(arrangements())
@settings(max_examples=60)
def test_an_arrangement_undone_at_once_is_as_if_it_never_was(pair: tuple[Book, Book]) -> None:
    before, after = pair
    step = Rearrangement("Step", before, after)
    assert step.undone(after) == before
    assert step.redone(before) == after


@given(st.data())
@settings(max_examples=40)
def test_undoing_loses_nothing_typed_since(data: st.DataObject) -> None:
    before, after = data.draw(arrangements())
    if not after.scenes:
        return
    scene = data.draw(st.sampled_from(after.scenes))
    typed = data.draw(TEXTS)
    now = edit(after, scene.id, 0, 0, Passage.plain(f"{typed} "))
    try:
        undone = Rearrangement("Step", before, after).undone(now)
    except CannotArrange:
        return  # it says so, and nothing is lost
    assert everything(undone) >= Counter(typed.split())
    copied = everything(after) - everything(before)  # of a version that is kept no longer
    assert everything(undone) + copied == everything(now)


@pytest.fixture
def desk() -> Desk:
    desk = Desk()
    desk.lay_out(small_book(), "lamp", Stage.LINE)
    return desk


def type_at_end(desk: Desk, text: str) -> None:
    """Type into the open scene, a key at a time."""
    from reglet.manuscript.change import Change

    for letter in text:
        scene = desk.scene
        assert scene is not None
        at = len(scene.passage)
        passage = scene.passage.replace(at, at, Passage.plain(letter))
        desk.typed(scene.id, passage, Change.at(at, at, len(letter)))


def text(desk: Desk, scene_id: str) -> str:
    return desk.book.scene(scene_id).passage.text


def test_a_run_of_typing_is_undone_at_once_and_redone(desk: Desk) -> None:
    type_at_end(desk, " No.")
    assert text(desk, "lamp") == LAMP + " No."
    desk.undo_text()
    assert text(desk, "lamp") == LAMP
    desk.redo_text()
    assert text(desk, "lamp") == LAMP + " No."
    desk.undo_text()
    desk.undo_text()
    assert text(desk, "lamp") == LAMP


def test_each_scene_has_an_undo_of_its_own(desk: Desk) -> None:
    type_at_end(desk, " A")
    desk.show_scene("salt")
    type_at_end(desk, " B")
    desk.undo_text()
    assert (text(desk, "lamp"), text(desk, "salt")) == (LAMP + " A", SALT)
    desk.undo_text()
    assert text(desk, "lamp") == LAMP + " A"
    desk.show_scene("lamp")
    desk.undo_text()
    assert text(desk, "lamp") == LAMP


def test_an_act_on_the_text_is_a_step_of_its_own(desk: Desk) -> None:
    type_at_end(desk, " A")
    desk.rewrite("lamp", Passage.plain("Other words."))
    type_at_end(desk, " B")
    for expected in ("Other words.", LAMP + " A", LAMP):
        desk.undo_text()
        assert text(desk, "lamp") == expected


def test_order_is_undone_without_what_was_typed_since(desk: Desk) -> None:
    desk.perform("Move", lambda book: arranging.move_scenes(book, ["lamp"], "two", 0))
    type_at_end(desk, " Typed.")
    desk.undo_arrangement()
    assert [scene.id for scene in desk.book.scenes] == ["lamp", "salt", "mill"]
    assert text(desk, "lamp") == LAMP + " Typed."


def test_a_split_that_was_written_into_says_that_it_cannot_be_undone(desk: Desk) -> None:
    said: list[str] = []
    desk.refused.connect(said.append)
    desk.perform("Split a scene", lambda book: arranging.split_scene(book, "lamp", 18))
    type_at_end(desk, " More.")
    book = desk.book
    desk.undo_arrangement()
    assert desk.book is book
    assert said and "Split a scene" in said[0]
    desk.undo_text()
    desk.undo_text()
    assert text(desk, "lamp") == LAMP
    desk.redo_text()
    assert len(desk.book.scenes) == 4


def test_what_is_refused_is_said_and_changes_nothing(desk: Desk) -> None:
    said: list[str] = []
    desk.refused.connect(said.append)
    book = desk.book
    assert not desk.perform("Start", lambda book: arranging.start_chapter(book, "lamp"))
    assert desk.book is book
    assert len(said) == 1


def test_a_scene_that_leaves_the_book_gives_way_to_its_neighbour(desk: Desk) -> None:
    desk.perform("Cut", lambda book: cut_scene(book, "lamp", WHEN))
    assert desk.scene is not None and desk.scene.id == "salt"
    desk.undo_arrangement()
    assert desk.book == small_book()


def test_words_are_counted_as_the_text_changes(desk: Desk) -> None:
    before = desk.book.word_count
    type_at_end(desk, " one two")
    assert desk.book.word_count == before + 2


def test_what_was_heard_since_an_arrangement_stays_heard_when_it_is_undone() -> None:
    desk = Desk()
    desk.lay_out(small_book())
    desk.perform("Cut words", lambda book: cut_passage(book, "salt", 0, 5, WHEN))
    key = paragraph_key("She did not sweep it up.")
    desk.remember(lambda book: with_hearing(book, "salt", key))
    desk.undo_arrangement()
    assert desk.book.scene("salt").passage.text == SALT
    assert desk.book.scene("salt").heard == (Heard(key, 1),)
