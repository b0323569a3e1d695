"""What is sought is found as a reader would find it, and replaced without touching the rest."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.search import Sought, find, replace_at

from tests.strategies import books


def a_book(text):
    scene = Scene("s", passage=Passage.plain(text))
    return Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))


CASES = [
    # text with what is found in brackets, what is sought
    ("The [tide] and the [Tide]s", Sought("tide")),
    ("The [tide] and the Tides", Sought("tide", match_case=True)),
    ("The [tide] and the tides", Sought("tide", whole_words=True)),
    ("It [don’t] matter. It [don't].", Sought("don't")),
    ("[“No,”] he said", Sought('"No,"')),
    ("a wood[-]stove and a wood[‑]stove", Sought("-")),
    ("one[.] two[.]", Sought(".")),
    ("nothing here", Sought("")),
]


@pytest.mark.parametrize(("drawn", "sought"), CASES)
def test_what_is_sought_is_found(drawn, sought):
    text = drawn.replace("[", "").replace("]", "")
    for place in reversed(find(a_book(text), sought)):
        text = f"{text[: place.start]}[{text[place.start : place.end]}]{text[place.end :]}"
    assert text == drawn


@given(
    books(), st.sampled_from(["the", "tide", "o’clock", "—"]), st.sampled_from(["", "sea", "🐚"])
)
def test_replacing_everywhere_is_replacing_in_the_text(book, sought, new):
    found = find(book, Sought(sought, match_case=True))
    replaced = replace_at(book, found, new)
    for scene in book.scenes:
        assert replaced.scene(scene.id).passage.text == scene.passage.text.replace(sought, new)


def test_what_replaces_wears_the_spans_of_what_it_replaces():
    paragraph = Paragraph("the tide turned", spans=(Span(4, 8, SpanKind.EMPHASIS),))
    book = a_book("x").with_scene(Scene("s", passage=Passage((paragraph,))))
    replaced = replace_at(book, find(book, Sought("tide")), "water")
    (span,) = replaced.scene("s").passage.paragraphs[0].spans
    assert (span.start, span.end) == (4, 9)
