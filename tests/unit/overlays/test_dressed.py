"""What is taken or settled may change how words are set, and never a word beside them."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import SCENE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import take
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Choice
from reglet.overlays.settle import settle

ITALIC = Paragraph("I am late, she thought.", spans=(Span(0, 9, SpanKind.EMPHASIS),))
QUOTED = Paragraph("“I am late,” she thought.")
PLAIN = Paragraph("I am late, she thought.")


def a_book(*paragraphs):
    scene = Scene("s", passage=Passage(paragraphs))
    return Book(
        parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),),
        style_sheet=StyleSheet("en-GB"),
    )


def paragraphs(book):
    return book.scene("s").passage.paragraphs


def asked(book, overlay):
    return list(Examiner().examine(book, Stage.PROOF, overlays=[overlay]))


def test_a_thought_goes_as_most_do():
    book = a_book(ITALIC, ITALIC, ITALIC, ITALIC, PLAIN)
    (query,) = asked(book, "thought")
    after = paragraphs(take(book, query))[-1]
    assert after.text == PLAIN.text
    (span,) = after.spans
    assert span.kind is SpanKind.EMPHASIS and after.text[span.start : span.end] == "I am late"


@given(st.lists(st.sampled_from([ITALIC, QUOTED, PLAIN]), min_size=1, max_size=6))
def test_thoughts_settled_in_italics_are_in_italics(drawn):
    done = settle(a_book(*drawn), "thought", [Choice("thoughts", "thoughts in italics")])
    for paragraph in paragraphs(done.book):
        assert "“" not in paragraph.text and "I am late" in paragraph.text
        assert [span.kind for span in paragraph.spans] == [SpanKind.EMPHASIS]
    assert not asked(done.book, "thought")


def test_a_typed_break_becomes_one():
    book = a_book(Paragraph("He went."), Paragraph("* * *"), Paragraph("She came."))
    (query,) = asked(book, "scene_break")
    broken = paragraphs(take(book, query))
    assert [each.text for each in broken] == ["He went.", SCENE_BREAK, "She came."]
    assert [each.style for each in broken] == [Style.BODY, Style.SCENE_BREAK, Style.BODY]


def test_titles_author_and_cast_are_known_to_spelling():
    text = "They went to Skarrholm on the Vindrel."
    book = a_book(Paragraph(f"{text} Skarholm lay ahead."))
    known = replace(book, title="The Road to Skarrholm", author="A. Vindrel")
    assert [each.proposal for each in asked(known, "spelling")] == ["Skarrholm"]
