import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.reading_order import (
    Place,
    paragraph_before,
    passage_at,
    pieces,
    sentence_at,
    sentence_before,
)

from tests.strategies import books

ONE = Passage.of(
    [
        Paragraph("She came in. “Well?” said Dorrel."),
        scene_break(),
        Paragraph("—"),
        Paragraph("No!"),
    ]
)
TWO = Passage.plain("Two is short.")
BOOK = Book(
    parts=(
        Part(
            "p",
            "",
            (
                Chapter("c1", "One\u2028Slack Water", (Scene("a", "", ONE), Scene("e"))),
                Chapter("c2", "", (Scene("b", "", TWO),)),
            ),
        ),
    )
)


def test_sentences_in_order_with_their_pauses():
    told = [(p.scene, p.text, p.pause) for p in pieces(BOOK)]
    assert told == [
        ("a", "One. Slack Water", 1.0),
        ("a", "She came in.", 0.3),
        ("a", "“Well?” said Dorrel.", 1.5),  # a break within the scene follows
        ("a", "No!", 1.5),
        ("b", "Two is short.", 1.5),
    ]


def test_from_a_place_the_sentence_that_holds_it_comes_first():
    assert next(p.text for p in pieces(BOOK, Place("a", 15))) == "“Well?” said Dorrel."
    assert [p.text for p in pieces(BOOK, Place("b", 0))] == ["Two is short."]
    assert [p.text for p in pieces(BOOK, chapter="c2")] == ["Two is short."]
    assert next(p.text for p in pieces(BOOK, Place("a"), headings=False)) == "She came in."


def test_back_by_sentence_and_by_paragraph():
    no = ONE.text.index("No!")
    assert sentence_at(BOOK, Place("a", 17)) == Place("a", 13)
    assert sentence_before(BOOK, Place("a", 17)) == Place("a", 0)
    assert sentence_before(BOOK, Place("a", 0)) == Place("a", 0)
    assert sentence_before(BOOK, Place("b", 3)) == Place("a", no)  # past the empty scene
    assert paragraph_before(BOOK, Place("a", 17)) == Place("a", 0)
    assert paragraph_before(BOOK, Place("a", no)) == Place("a", 0)
    assert paragraph_before(BOOK, Place("b", 0)) == Place("a", no)


@given(books(), st.data())
def test_reading_from_anywhere_is_the_end_of_reading_all(book, data):
    everything = [p for p in pieces(book) if not p.heading]
    for piece in everything:
        scene = book.scene(piece.scene)
        assert scene.passage.text[piece.start : piece.end] == piece.text
        assert scene.passage.locate(piece.start)[0] == piece.paragraph
    scene = data.draw(st.sampled_from(book.scenes))
    position = data.draw(st.integers(0, len(scene.passage)))
    rest = [p for p in pieces(book, Place(scene.id, position)) if not p.heading]
    assert rest == everything[len(everything) - len(rest) :]
    assert all(p.end > position for p in rest if p.scene == scene.id)


def test_a_very_long_sentence_is_said_in_parts_at_its_marks():
    clause = " ".join(["word"] * 21)
    text = f"{clause}, {clause}; {clause} and on, to the end."
    book = Book(parts=(Part("p", "", (Chapter("c", "", (Scene("a", "", Passage.plain(text)),)),)),))
    found = list(pieces(book))
    assert [p.text for p in found] == [f"{clause},", f"{clause};", f"{clause} and on, to the end."]
    assert [p.pause for p in found] == [0.12, 0.12, 1.5]
    assert all(text[p.start : p.end] == p.text for p in found)


@pytest.mark.parametrize(
    ("position", "words", "read"),
    [
        (0, 1, "She came in."),
        (0, 4, "She came in. “Well?” said Dorrel."),
        (0, 99, "She came in. “Well?” said Dorrel."),
        (14, 1, "“Well?” said Dorrel."),
        (len(ONE.text) - 1, 9, "No!"),
        (len(ONE.text), 9, ""),
    ],
)
def test_a_sample_is_whole_sentences_of_one_paragraph(position, words, read):
    scene = BOOK.scenes[0].id
    assert passage_at(BOOK, Place(scene, position), words) == read
