"""Outs and wrong words: what is asked, what taking it makes of the text, what sets off nothing."""

import re

import pytest
from reglet.language.speech import Marks
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.outs import at_hand
from reglet.outs.suspicion import Kind, Suspicion
from reglet.overlays.answer import stet, take
from reglet.overlays.examine import Examiner
from reglet.overlays.house import House, Strictness, house_of
from reglet.overlays.overlay import Finding
from reglet.overlays.proof import out, wrong_word
from reglet.overlays.reading import read_scene

BOTH = ["out", "wrong_word"]


def a_book(*paragraphs, language="en-GB"):
    made = tuple(p if isinstance(p, Paragraph) else Paragraph(p) for p in paragraphs)
    scene = Scene("s", passage=Passage(made))
    parts = (Part("p", chapters=(Chapter("c", scenes=(scene,)),)),)
    return Book(parts=parts, style_sheet=StyleSheet(language))


def asked(book, overlays=BOTH, strictness=Strictness.STRICT):
    house = house_of(book).with_strictness(dict.fromkeys(BOTH, strictness))
    return list(Examiner().examine(book, Stage.PROOF, overlays=overlays, house=house))


TAKEN = [
    # text, language, what it reads after the first query is taken
    ("Nobody in kitchen moved.", "en-GB", "Nobody in the kitchen moved."),
    ("“She is in kitchen,” he said.", "en-GB", "“She is in the kitchen,” he said."),
    ("He put the letter back its envelope.", "en-GB", "He put the letter back in its envelope."),
    ("It was quiet dark by then.", "en-GB", "It was quite dark by then."),
    ("“I not want to go,” she said.", "en-GB", "“I do not want to go,” she said."),
    ("He did not know what to.", "en-GB", "He did not know what to do."),
    (
        "The rain had stopped. Sun was on the wall, and the hens came out.",
        "en-GB",
        "The rain had stopped. The sun was on the wall, and the hens came out.",
    ),
    ("He sat down. Was very tired by then.", "en-GB", "He sat down. He was very tired by then."),
]


@pytest.mark.parametrize(("text", "language", "after"), TAKEN)
def test_taking_it_puts_the_word_in_with_its_space_and_capital(text, language, after):
    book = a_book(text, language=language)
    assert take(book, asked(book)[0]).scene("s").passage.text == after


ALIKE = [
    ("“Nobody in kitchen moved,” she said. “It’s to late.”", "curly"),
    ('"Nobody in kitchen moved," she said. "It\'s to late."', "straight"),
    ("‘Nobody in kitchen moved,’ she said. ‘It’s to late.’", "single"),
    ("'Nobody in kitchen moved,' she said. 'It's to late.'", "straight and single"),
]


def test_quotation_marks_of_every_kind_give_the_same_marks():
    found = [[(q.overlay, q.text, q.proposal) for q in asked(a_book(text))] for text, _ in ALIKE]
    assert found[0]
    assert all(each == found[0] for each in found)


@pytest.mark.parametrize(
    ("british", "american"),
    [
        (
            "The grey harbour lay in colour of old pewter, and he realised it was to late.",
            "The gray harbor lay in color of old pewter, and he realized it was to late.",
        ),
        (
            "My neighbour travelled to the theatre, and nobody in parlour moved.",
            "My neighbor traveled to the theater, and nobody in parlor moved.",
        ),
    ],
)
def test_both_varieties_of_english_give_the_same_marks(british, american):
    one = asked(a_book(british, language="en-GB"))
    other = asked(a_book(american, language="en-US"))
    starts = [(q.overlay, len(q.text.split()), q.proposal.split()[-2:-1]) for q in one]
    assert starts
    assert starts == [(q.overlay, len(q.text.split()), q.proposal.split()[-2:-1]) for q in other]


def test_emphasis_changes_nothing():
    text = "He put the letter back its envelope."
    plain = asked(a_book(text))
    assert plain == asked(a_book(Paragraph(text, spans=(Span(0, 20, SpanKind.EMPHASIS),))))


QUIET = {
    "verse": [
        Paragraph(
            "The river runs beneath the bridge,\u2028And under it the stones lie still;\u2028"
            "A heron stands along the ridge\u2028Of weed and water by the mill.",
            Style.VERSE,
        ),
        Paragraph(
            "O lantern, lantern, burn for me,\u2028Till every boat is home from sea.", Style.VERSE
        ),
    ],
    "a letter": [
        Paragraph("14 Quay Street, Tuesday", Style.LETTER),
        Paragraph("Dear Nan,", Style.LETTER),
        Paragraph(
            "Rain again. No news of the boat, nor of Peter. Will write Friday if the post goes. "
            "Kettle mended. Three eggs yesterday, five today.",
            Style.LETTER,
        ),
        Paragraph("Yours ever,\u2028Tom", Style.LETTER),
    ],
    "a telegram and a notice": [
        "ARRIVING NOON TRAIN STOP MEET AT NORTH GATE STOP BRING KEYS STOP TOM",
        "LOST: one grey mare, white blaze. Reward. Apply Mill Lane.",
        "BANK MANAGER HELD IN HARBOUR ROBBERY",
    ],
    "French": [
        "“Mais non, monsieur, je ne sais pas où il est allé,” she said.",
        "Il pleuvait depuis trois jours, et la rivière montait toujours.",
        "He shrugged. “C’est la vie.”",
    ],
    "German": ["„Ich weiß nicht, was ich ihm sagen soll“, sagte der Alte, und er ging nach Hause."],
    "Spanish": ["—No tengo miedo —dijo la mujer—. La casa está vacía, y mañana vendrá mi hermano."],
    "Latin": ["The stone said: Hic iacet Thomas filius Willelmi, qui obiit anno trecentesimo."],
    "dialect": [
        "“Tha’s not goin’ out i’ that, lad,” said the old man. “’Tis blowin’ fit to tek th’ roof.”",
        "“I dunno nuthin’ about no horses, mister,” said Bill, “an’ I ain’t seen ’em neither.”",
    ],
    "fragments": [
        "Dark. Rain on the roof. No one.",
        "She listened. Nothing. Only the clock, and under the clock the sea.",
        "Left at the chapel, down the hill, over the bridge. Then home.",
    ],
}


@pytest.mark.parametrize("paragraphs", QUIET.values(), ids=QUIET)
def test_no_burst_of_marks_even_where_strict(paragraphs):
    assert len(asked(a_book(*paragraphs), strictness=Strictness.STRICT)) <= 1
    assert asked(a_book(*paragraphs), strictness=Strictness.USUAL) == []


def test_a_span_of_another_language_is_left_alone():
    text = "He put the letter back its envelope."
    span = Span(0, len(text), SpanKind.LANGUAGE, "de")
    assert asked(a_book(text)) != []
    assert asked(a_book(Paragraph(text, spans=(span,)))) == []


@pytest.mark.parametrize(
    "text",
    [
        "He went to the the door.",
        "She was to tired to eat.",
        "They walked passed the mill.",
        "He said teh word and left.",
    ],
)
def test_what_another_overlay_says_is_not_said_again(text):
    queries = asked(a_book(text), ["double", "wrong_word", "spelling", "out"])
    assert [query.overlay for query in queries] != []
    assert "out" not in [query.overlay for query in queries]


# The bars are where a word may be missing, each with the digit of how sure the reader is of it.
NEAR = {
    "She |7 went to |9 shop.": [9],
    "She |9 went to |7 shop.": [9],
    "She |8 went to |8 shop.": [8],
    "She |7 went down to the |9 shop.": [7, 9],
    "She |5 went to |6 shop by |7 the |4 old bridge.": [5, 7],
    "She |7 went. Went |9 home.": [7, 9],
    "She |7 went.\nShe |9 went.": [7, 9],
}


@pytest.mark.parametrize("drawn", NEAR)
def test_of_gaps_within_three_words_the_surer_is_asked_about(drawn, monkeypatch):
    book = a_book(*re.sub(r"\|\d ", "", drawn).split("\n"))

    def made(read, house, kind, step=None):
        for (start, paragraph), line in zip(read.prose(), drawn.split("\n"), strict=True):
            for number, bar in enumerate(re.finditer(r"\|(\d) ", line)):
                at = bar.start() - number * len(bar[0])
                yield start, paragraph, Suspicion(Kind.OUT, at, at, int(bar[1]) / 10, ())

    monkeypatch.setattr(out, "suspected", made)
    monkeypatch.setattr(out, "wrong_word", lambda read, house: ())
    found = out.out(read_scene(book.scene("s"), Marks.DOUBLE), House())
    assert [round(10 * each.score) for each in sorted(found, key=lambda f: f.start)] == NEAR[drawn]


def test_an_out_let_stand_stands_until_its_words_change():
    book = a_book("Nobody in kitchen moved.")
    book = stet(book, asked(book, strictness=Strictness.USUAL)[0])
    assert [query.stet for query in asked(book, strictness=Strictness.USUAL)] == [True]


def test_without_the_model_the_rest_of_the_stage_works(monkeypatch):
    monkeypatch.setattr(at_hand, "find_spec", lambda name: None)
    at_hand.reader.cache_clear()
    queries = asked(a_book("Nobody in kitchen moved. They walked passed the mill."))
    assert [(query.overlay, query.proposal) for query in queries] == [("wrong_word", "past")]


A_SLIP = "She put the flour in a vase by the window."


@pytest.mark.parametrize(
    ("score", "counts", "asked_still"),
    [
        (0.9, {"flour": 1}, True),
        (0.9, {"flour": 40}, False),
        (0.9, {"flour": 40, "flower": 40}, True),
        (0.9999, {"flour": 40}, True),
    ],
)
def test_a_word_that_the_book_has_again_and_again_takes_more_to_be_wrong(
    score, counts, asked_still
):
    finding = Finding(8, 13, "“flower” would fit here.", "flower", score=score)
    weighed = wrong_word.weigh(finding, "flour", counts, StyleSheet(), House())
    assert weighed == (finding if asked_still else None)


def test_a_word_of_the_style_sheet_is_left_alone():
    assert asked(editing.learn_words(a_book(A_SLIP), ["flour"])) == []
