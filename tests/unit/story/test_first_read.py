"""The first read: pace, time left, notes in order, and the rest before it."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.anchored import Answer, Note
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.story import first_read

WHEN = datetime(2026, 1, 2, tzinfo=UTC)


def note(number, start, kind="", answer=Answer.OPEN):
    return Note(f"n{number}", start, start, "", "?", WHEN, kind=kind, answer=answer)


@pytest.fixture
def book():
    scenes = (
        Scene(
            "a",
            "Quay",
            Passage.plain("word " * 260),
            notes=(note(1, 9, "slow"), note(2, 3, "slow", Answer.DONE)),
        ),
        Scene("b", passage=Passage.plain("word " * 520)),
        Scene("c", passage=Passage.plain("word"), notes=(note(3, 0, "my own"),)),
    )
    return Book(parts=(Part("p", chapters=(Chapter("c1", "One", scenes),)),))


def test_time_left_at_the_usual_pace(book):
    assert first_read.progress(book).minutes == pytest.approx(781 / 260)
    at = first_read.progress(first_read.read_to(book, "b", 0))
    assert (at.words_read, at.words_left) == (260, 521)
    assert at.share == pytest.approx(260 / 781)
    gone = first_read.progress(replace(book, reading=replace(book.reading, scene="gone")))
    assert gone.words_read == 0


def test_the_pace_becomes_the_readers_own(book):
    slow = book
    for _ in range(100):
        slow = first_read.read_to(slow, "a", 5, 260, 120)
    assert first_read.pace(slow.reading) == pytest.approx(130, rel=0.1)
    left = first_read.read_to(book, "a", 5, 10, 3600)
    assert first_read.pace(left.reading) == first_read.USUAL_PACE
    assert left.reading.position == 5
    assert first_read.begin_again(slow).reading.words == slow.reading.words


@given(st.integers(0, 10**6), st.floats(0, 10**7))
def test_no_pace_is_beyond_reading(words, seconds):
    found = first_read.pace(replace(Book().reading, words=words, seconds=seconds))
    assert first_read.SLOWEST <= found <= first_read.FASTEST


def test_notes_in_order_with_counts(book):
    first, last = first_read.notes_in_order(book)
    assert [each.id for each in first.notes] == ["n2", "n1"]
    assert (first.kinds, first.open, first.chapter) == ({"slow": 2}, 1, "One")
    assert last.scene == "c"
    assert first_read.kinds_of(book) == (*first_read.KINDS, "my own")


def test_a_rest_asks_once_and_ends():
    today = date(2026, 3, 1)
    book = first_read.put_to_rest(Book(), today)
    assert first_read.days_of_rest_left(book, today) == 14
    assert first_read.asks_before_change(book, today)
    assert not first_read.asks_before_change(first_read.overruled(book), today)
    assert not first_read.asks_before_change(book, date(2026, 3, 15))
    assert first_read.woken(book) == Book()
    assert first_read.overruled(Book()) == Book()


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("who is he?", ("", "who is he?")),
        ("#cold", ("cold", "")),
        ("# too clever : a lamp", ("too clever", "a lamp")),
        ("no. 3: count", ("", "no. 3: count")),
    ],
)
def test_a_typed_note_may_make_a_kind(said, wanted):
    assert first_read.remark(said) == wanted
