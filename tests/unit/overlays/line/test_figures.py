"""Figures of scenes add up, and the beats of the rhythm stand where their sentences stand."""

from hypothesis import given
from reglet.language.speech import Marks
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.house import house_of
from reglet.overlays.line.figures import book_figures, figures_of, rhythm
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
