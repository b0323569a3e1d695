"""Words that went since a stage began, wherever they stood and stand."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from reglet.manuscript.arranging import add_scene
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.offcuts import cut_passage, cut_scene
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.line.tightening import (
    StageStart,
    Tightening,
    of_book,
    of_chapter,
    of_scene,
)

from tests.strategies import books

BEGUN = datetime(2026, 3, 1, tzinfo=UTC)
LATER = BEGUN + timedelta(days=1)
EARLIER = BEGUN - timedelta(days=1)


def a_book(*texts):
    scenes = tuple(Scene(f"s{i}", passage=Passage.plain(text)) for i, text in enumerate(texts))
    return Book(parts=(Part("part", chapters=(Chapter("chapter", scenes=scenes),)),))


THEN = a_book("one two three four", "five six", "seven")


def passage_cut(book):
    return cut_passage(book, "s0", 0, len("one two "), LATER)


def scene_cut(book):
    return cut_scene(book, "s1", LATER)


def scene_added(book):
    return add_scene(book, "chapter", 0, passage=Passage.plain("eight nine"))


@pytest.mark.parametrize(
    ("change", "first_scene", "whole"),
    [
        (lambda book: book, Tightening(4, 4), Tightening(7, 7)),
        (passage_cut, Tightening(4, 2, 2), Tightening(7, 5, 2)),
        (scene_cut, Tightening(4, 4), Tightening(7, 5, 2)),
        (scene_added, Tightening(4, 4), Tightening(7, 9)),
        (lambda book: scene_cut(passage_cut(book)), Tightening(4, 2, 2), Tightening(7, 3, 4)),
    ],
)
def test_words_now_and_then(change, first_scene, whole):
    start, now = StageStart("1", BEGUN, THEN), change(THEN)
    assert of_scene(start, now, "s0") == first_scene
    assert of_book(start, now) == of_chapter(start, now, "chapter") == whole


def test_a_scene_written_since_had_no_words_and_what_was_cut_before_is_not_counted():
    then = cut_scene(THEN, "s1", EARLIER)
    start, now = StageStart("1", BEGUN, then), scene_added(then)
    assert of_scene(start, now, now.scenes[0].id) == Tightening(0, 2)
    assert of_book(start, now) == Tightening(5, 7)
    assert (of_book(start, now).cut, of_scene(start, now, "s0").share) == (-2, 0.0)


@given(books())
def test_a_book_beside_itself_has_cut_nothing(book):
    start = StageStart("1", LATER, book)
    assert of_book(start, book).cut == 0
    assert all(of_scene(start, book, scene.id).cut == 0 for scene in book.scenes)
