"""Figures of scenes add up, and the beats of the rhythm stand where their sentences stand."""

import pytest
from hypothesis import given
from reglet.language.speech import Marks
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.house import house_of
from reglet.overlays.line.figures import book_figures, figures_of, rhythm
from reglet.overlays.line.tightening import Tightening, tightening
from reglet.overlays.reading import read_scene

from tests.strategies import books


def a_book(*texts):
    scenes = tuple(Scene(f"s{i}", passage=Passage.plain(text)) for i, text in enumerate(texts))
    return Book(parts=(Part("part", chapters=(Chapter("chapter", scenes=scenes),)),))


def test_the_rhythm_of_a_scene():
    text = "It rained. “Go home now,” said Ann.\n***\nShe went."
    beats = rhythm(read_scene(a_book(text).scene("s0"), Marks.DOUBLE))
    assert [(text[b.start : b.end], b.words, b.spoken) for b in beats] == [
        ("It rained.", 2, False),
        ("“Go home now,” said Ann.", 5, True),
        ("She went.", 2, False),
    ]


@given(books())
def test_scenes_add_up_to_the_book(book):
    figures, marks = book_figures(book), house_of(book).marks
    reads = [read_scene(scene, marks) for scene in book.scenes]
    assert [each.figures for each in figures.scenes] == [figures_of(read) for read in reads]
    assert figures.whole.words == sum(read.word_count for read in reads)
    assert figures.whole.spoken == sum(read.spoken_words for read in reads)
    lengths = [beat.words for read in reads for beat in rhythm(read)]
    assert sum(lengths) == figures.whole.words
    assert len(lengths) == figures.whole.sentences


def test_words_now_and_then():
    then = a_book("one two three four", "five six", "seven")
    now = editing.edit(then, "s0", 0, len("one two "), Passage.plain(""))
    found = tightening(then, now)
    assert found.scenes["s0"] == Tightening(4, 2)
    assert found.chapters["chapter"] == found.book == Tightening(7, 5)
    assert (found.book.cut, found.scenes["s0"].share) == (2, 0.5)


def test_a_scene_taken_out_is_cut_and_a_new_one_is_growth():
    then, now = a_book("one two three", "four"), a_book("one two three")
    assert tightening(then, now).book == Tightening(4, 3)
    assert tightening(now, then).scenes["s1"] == Tightening(0, 1)
    assert tightening(now, then).book.cut == -1


@pytest.mark.parametrize(
    ("then", "now", "aim", "left"), [(100, 100, 0.1, 10), (100, 85, 0.1, 0), (0, 5, 0.1, 5)]
)
def test_an_aim(then, now, aim, left):
    assert Tightening(then, now).to_cut(aim) == left


@given(books())
def test_a_book_beside_itself_has_cut_nothing(book):
    found = tightening(book, book)
    assert found.book.cut == 0
    assert all(each.cut == 0 for each in found.scenes.values())
