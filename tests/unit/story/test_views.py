"""Views as data, and as SVG that is well formed and shows what they hold."""

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.story import views
from reglet.story.drawing_svg import Theme, document, drawing
from reglet.story.eyes import Eyes, Look
from reglet.story.facts import Analyst
from reglet.story.hops import hops

from tests.strategies import books


def book_of(*texts, **fields):
    scenes = tuple(
        Scene(f"s{n}", f"Scene <{n}> & more", Passage.plain(text)) for n, text in enumerate(texts)
    )
    return Book(parts=(Part("p", chapters=(Chapter("c", "One <&>", scenes),)),), **fields)


def test_outliers_are_marked():
    view = views.lengths(Analyst().read(book_of(*["word " * 10] * 5, "word " * 30, "word", "")))
    assert view.words == (10, 10, 10, 10, 10, 30, 1, 0)
    assert (view.middle, view.long, view.short) == (10, {5}, {6})


def test_people_and_threads_across_scenes():
    texts = ["So Dorrel sat with the key. Then Dorrel rose.", *["Rain."] * 12, "So Dorrel sat."]
    view = views.across(Analyst().read(book_of(*texts, threads=("key",))))
    (thread,), (person,) = view.threads, view.people
    assert (thread.name, thread.first, thread.last) == ("key", 0, 0)
    assert (person.name, person.counts[0], person.gaps) == ("Dorrel", 2, ((0, 13),))


def test_time_against_telling():
    texts = (
        "It was Monday.",
        "On Wednesday it rained.",
        "On Tuesday it thawed.",
        "It was Tuesday.",
    )
    view = views.time_against_telling(Analyst().read(book_of(*texts)))
    assert view.days == (0, 2, 1, 1)
    assert view.jumps_back == {2}


@pytest.mark.parametrize(
    ("mine", "theirs", "hopped"),
    [(4, 3, True), (4, 2, False), (20, 3, False), (0, 3, False), (3, 3, True)],
)
def test_head_hopping(mine, theirs, hopped):
    looks = [Look(n, n + 1, "Ann", True, False, 1.0) for n in range(mine)]
    looks += [Look(100 + n, 101 + n, "Bo", True, False, 1.0) for n in range(theirs)]
    found = hops(Eyes("Ann" if mine > theirs else "", 0.6, tuple(looks)))
    assert [(hop.name, hop.start, hop.count) for hop in found] == (
        [("Bo", 100, theirs)] if hopped else []
    )


@given(st.lists(st.floats(0, 1000), max_size=12))
def test_smoothing_stays_within_what_it_smooths(values):
    smooth = views.smoothed(values)
    assert len(smooth) == len(values)
    for value, smoothed in zip(values, smooth, strict=True):
        assert (smoothed == 0) == (value == 0)
        assert smoothed <= max(values) * 1.000001


THEME = Theme("#111111", "#eeeeee", "#aaaaaa", "#333333", "#888888", "#bbbbbb", "A & B")


@given(books())
def test_every_view_is_drawn(book):
    found = views.all_views(Analyst().read(book))
    for view in found:
        assert len(view.scenes) == len(book.scenes)
        root = ElementTree.fromstring(drawing(view, THEME, 800))
        assert root.get("width") == "800"
    whole = ElementTree.fromstring(document(found, THEME))
    assert int(whole.get("height")) > 0
    assert "#111111" in document(found, THEME)


def test_what_is_drawn_is_said_in_words():
    facts = Analyst().read(book_of("So Dorrel sat. So Dorrel rose.", "Rain.", ""))
    svg = document(views.all_views(facts))
    assert "Scene &lt;0&gt; &amp; more: 6 words" in svg
    assert "Dorrel?" in svg
    assert ElementTree.fromstring(document(views.all_views(Analyst().read(Book())))) is not None


def test_letters_tell_those_whose_eyes_they_are_apart():
    names = ["Catherine", "Mrs Tarrow", "Caspar", "", "Tobit", "Catherine", "I", "Isaura"]
    view = views.EyesInOrder((), tuple(Eyes(name, 1.0, ()) for name in names), ())
    assert list(view.letters.values()) == ["C", "T", "Ca", "To", "I", "Is"]
