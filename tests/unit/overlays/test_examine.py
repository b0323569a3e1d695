"""Queries stand where their words stand, and the writer's answers hold."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import CannotArrange, UnknownThing
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import REVISING, Stage
from reglet.overlays.answer import Reach, stet, take
from reglet.overlays.examine import Examiner
from reglet.overlays.house import Strictness, house_of

from tests.strategies import books

SLIPS = "He went to the the door.\nThe the clerk said teh word."


def a_book(*texts):
    scenes = tuple(Scene(f"s{i}", passage=Passage.plain(text)) for i, text in enumerate(texts))
    parts = (Part("part", chapters=(Chapter("chapter", scenes=scenes),)),)
    return Book(parts=parts, style_sheet=StyleSheet("en-GB"))


def proof(book, **narrowed):
    return list(Examiner().examine(book, Stage.PROOF, **narrowed))


@given(books(), st.sampled_from(REVISING))
def test_a_query_quotes_the_text_it_stands_on(book, stage):
    for query in Examiner().examine(book, stage):
        assert book.scene(query.scene).passage.text[query.start : query.end] == query.text
        assert query.stage is stage


def test_results_are_the_same_from_memory():
    book, examiner = a_book(SLIPS, "A quiet scene."), Examiner()
    once = list(examiner.examine(book, Stage.PROOF))
    assert once == list(examiner.examine(book, Stage.PROOF))
    moved = editing.edit(book, "s0", 0, 0, Passage.plain("New.\n"))
    shifted = [replace(query, start=query.start + 5, end=query.end + 5) for query in once]
    assert list(examiner.examine(moved, Stage.PROOF)) == shifted


def test_it_can_be_narrowed_to_scenes_and_overlays():
    book = a_book(SLIPS, SLIPS)
    assert {query.scene for query in proof(book, scene_ids=["s1"])} == {"s1"}
    assert {query.overlay for query in proof(book, overlays=["double"])} == {"double"}
    with pytest.raises(UnknownThing, match="There are: "):
        proof(book, overlays=["none"])


def test_a_stet_here_holds_here_and_goes_with_its_words():
    book = a_book(SLIPS)
    first, second, _ = proof(book)
    book = stet(book, first)
    assert [query.stet for query in proof(book)] == [True, False, False]
    book = editing.edit(book, "s0", 0, 0, Passage.plain("And so: "))
    assert [query.stet for query in proof(book)] == [True, False, False]
    book = editing.edit(book, "s0", 22, 26, Passage.plain("that"))
    assert not any(query.stet for query in proof(book))
    assert second.text == "The the"


@pytest.mark.parametrize(("reach", "let_stand"), [(Reach.SCENE, 1), (Reach.BOOK, 2)])
def test_a_stet_can_reach_further(reach, let_stand):
    book = a_book("It was the the end.", "It was the the end.")
    book = stet(book, proof(book)[0], reach)
    assert sum(query.stet for query in proof(book)) == let_stand


def test_a_spelling_let_stand_in_the_book_is_a_word_of_its_style_sheet():
    book = a_book("They ate skirlie.", "More skirlie came.\nSkirlie? No, skirlie.")
    book = stet(book, proof(book)[0], Reach.BOOK)
    assert book.style_sheet.words == {"skirlie"}
    assert proof(book) == []


def test_a_name_that_recurs_is_proposed_and_not_flagged():
    book = a_book("Isaura rose. Then Isaura spoke, and Isaura’s lamp went out. Isaurra sat.")
    assert Examiner().names(book) == {"Isaura": 3}
    (slip,) = proof(book)
    assert (slip.text, slip.proposal) == ("Isaurra", "Isaura")


def test_taking_a_proposal_changes_its_words_alone_and_keeps_their_spans():
    emphasised = Paragraph("Say teh word.", spans=(Span(4, 7, SpanKind.EMPHASIS),))
    book = a_book("x")
    book = editing.rewrite(book, "s0", Passage((emphasised,)))
    (query,) = [each for each in proof(book) if each.overlay == "spelling"]
    taken = take(book, query).scene("s0").passage.paragraphs[0]
    assert taken.text == "Say the word."
    assert taken.spans == (Span(4, 7, SpanKind.EMPHASIS),)


def test_a_proposal_is_not_taken_over_text_that_has_changed():
    book = a_book(SLIPS)
    query = proof(book)[0]
    with pytest.raises(CannotArrange, match="Nothing was replaced"):
        take(editing.edit(book, "s0", 0, 2, Passage.plain("She")), query)


def test_structure_compares_a_scene_with_the_book():
    book = a_book(*["word " * 100] * 6, "word " * 900)
    examiner = Examiner()
    found = list(examiner.examine(book, Stage.STRUCTURE, overlays=["scene_length"]))
    assert [query.scene for query in found] == ["s6"]
    assert "900 words, 9.0 times the middle length of 100" in found[0].message
    lenient = house_of(book).with_strictness({"scene_length": Strictness.LENIENT})
    book = stet(book, found[0])
    (again,) = examiner.examine(book, Stage.STRUCTURE, None, ["scene_length"], lenient)
    assert again.stet and again.about_the_scene
