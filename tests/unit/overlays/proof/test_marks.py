"""The overlays of marks and spaces: the book's way and the style sheet's, and what a taken proposal
leaves behind.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import take
from reglet.overlays.examine import Examiner

MARKS = (
    "quotation_marks straight_quote apostrophe stops_with_quotes tag_join speaker_turn dash "
    "ellipsis spacing sentence_space sentence_end capital agreement article double"
).split()
US_STOPS = "The “wick,” the “drip,” the “glass,” and he said “lamp.”\n"
UK_STOPS = "The “wick”, the “drip”, the “glass”, and he said “lamp”.\n"


def a_book(text, language="en-GB", **ways):
    scene = Scene("scene", passage=Passage.plain(text))
    sheet = StyleSheet(language)
    for question, way in ways.items():
        sheet = sheet.with_way(question.replace("_", " "), way)
    parts = (Part("part", chapters=(Chapter("chapter", scenes=(scene,)),)),)
    return Book(parts=parts, style_sheet=sheet)


def asked(book, *overlays):
    return list(Examiner().examine(book, Stage.PROOF, overlays=overlays or MARKS))


def settled(book, *overlays):
    """The text when every proposal has been taken, from the end, as often as there is one."""
    for _ in range(20):
        queries = [each for each in asked(book, *overlays) if each.proposal is not None]
        if not queries:
            break
        book = take(book, queries[-1])
    return book.scene("scene").passage.text


def test_quoted_words_of_another_language_are_left_to_its_ways():
    text = "He read “Marée basse”, and she “Le sel”, too."
    assert asked(a_book(text, "en-US"), "stops_with_quotes")
    span = Span(0, len(text), SpanKind.LANGUAGE, "fr")
    foreign = Passage((Paragraph(text, spans=(span,)),))
    book = editing.rewrite(a_book(text, "en-US"), "scene", foreign)
    assert not asked(book, "stops_with_quotes")


@pytest.mark.parametrize(
    ("overlay", "language", "ways", "text", "becomes"),
    [
        ("stops_with_quotes", "en-GB", {}, UK_STOPS + "A “sill,” too.", "A “sill”, too."),
        ("stops_with_quotes", "en-GB", {}, US_STOPS + "A “sill”, too.", "A “sill,” too."),
        ("stops_with_quotes", "en-US", {}, "A “sill”, too.", "A “sill,” too."),
        ("stops_with_quotes", "en-GB", {}, "A “sill”, too.", "A “sill”, too."),
        ("stops_with_quotes", "en-GB", {}, UK_STOPS + "“Go”, he said.", "“Go,” he said."),
        (
            "stops_with_quotes",
            "en-GB",
            {"stops_with_quoted_words": "comma and full stop outside the closing mark"},
            US_STOPS + "A “sill,” too.",
            "A “sill”, too.",
        ),
        ("dash", "en-GB", {}, "A–b—c—d—e", "A–b—c—d—e"),
        ("dash", "en-GB", {}, "It was – late—and dark – and so – cold", "– late – and dark"),
        ("dash", "en-GB", {"dash_inside_a_sentence": "“—”"}, "It was – late", "It was—late"),
        ("dash", "en-GB", {}, "He went on Mr. B—’s well-known 1914–18 road", "1914–18 road"),
        ("ellipsis", "en-GB", {"points_of_suspension": "“...”"}, "So… he", "So... he"),
        ("ellipsis", "en-GB", {}, "So . . . he. So . . . it. So … we.", "So . . . we."),
        ("straight_quote", "en-GB", {}, "'It's late,' he said. He’d gone.", "He'd gone."),
        ("sentence_space", "en-GB", {}, "So.  He.  She.  It. They.", "So. He. She. It. They."),
        (
            "sentence_space",
            "en-GB",
            {"spaces_between_sentences": "two spaces"},
            "So.  He. She.",
            "So.  He.  She.",
        ),
        ("quotation_marks", "en-GB", {}, "“Yes,” he said. Go home now.”", "“Go home now.”"),
        ("quotation_marks", "en-GB", {}, "Go home. It is late,” he said.", "“Go home."),
        ("quotation_marks", "en-GB", {}, "He sat. It’s late,” he said.", "He sat. “It’s late,”"),
        ("quotation_marks", "en-GB", {}, "“Do you? asked her aunt.\n“I do.”", "“Do you?” asked"),
        ("quotation_marks", "en-GB", {}, "“It says:\nO lamp,\nwhich is true.”", "“It says:\nO"),
        ("quotation_marks", "en-GB", {}, "‘Go home, he said.\n‘No.’", "‘Go home,’ he said."),
        ("quotation_marks", "en-GB", {}, "‘Yes.’\nGo home,’ he said.", "‘Go home,’ he said."),
        ("quotation_marks", "en-GB", {}, "‘Is it, then?\n‘It is. It is.’", "‘Is it, then?’"),
        ("apostrophe", "en-GB", {}, "‘Is it? ‘Tis,’ he said. ‘Is it?’", "‘Is it? ’Tis,’"),
        ("tag_join", "en-GB", {}, "“Go home.” He said.", "“Go home,” he said."),
        ("capital", "en-GB", {}, "ISaura had gone. the MPs had not.", "Isaura had gone. The MPs"),
        ("agreement", "en-GB", {}, "He went. They was two lamp.", "They were two lamps."),
        ("agreement", "en-GB", {}, "They was. " * 4, "They was. They was."),
    ],
)
def test_one_way_is_put_through(overlay, language, ways, text, becomes):
    assert becomes in settled(a_book(text, language, **ways), overlay)


WORDS = "Abel she said He they was lamp lamps The the an a two ‘em ’tis (said) 1914 Nora".split()
SIGNS = "“ ” ‘ ’ \" ' , . … ... — – -- - ! ? : ;".split()
BETWEEN = (" ", "  ", "\n", "\u2028", " said Abel", "she said", "I’ve ")
PIECES = st.sampled_from([*WORDS, *SIGNS, *BETWEEN])


@given(st.lists(PIECES, max_size=24).map("".join), st.sampled_from(["en-GB", "en-US"]))
def test_a_proposal_changes_something_and_taking_it_keeps_all_else(text, language):
    book = a_book(text, language)
    for query in asked(book):
        assert query.start < query.end
        assert query.proposal != query.text
        if query.proposal is not None:
            taken = take(book, query).scene("scene").passage.text
            expected = text[: query.start] + query.proposal + text[query.end :]
            assert taken == expected


@given(st.lists(PIECES, max_size=16).map("".join))
def test_an_edit_gives_what_a_fresh_look_gives(text):
    examiner, book = Examiner(), a_book("“Go,” he said—and – went…\nThey was.")
    list(examiner.examine(book, Stage.PROOF, overlays=MARKS))
    book = editing.edit(book, "scene", 3, 5, Passage.plain(text))
    assert list(examiner.examine(book, Stage.PROOF, overlays=MARKS)) == asked(book)
