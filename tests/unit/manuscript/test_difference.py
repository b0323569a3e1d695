"""A difference leads from the old state to the new one exactly, spans and styles included."""

from hypothesis import given
from reglet.manuscript.difference import Kind, difference
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.token import passage_of, tokens

from tests.strategies import passages


@given(passages())
def test_tokens_put_together_are_the_passage(passage):
    assert passage_of(tokens(passage)) == passage


@given(passages(), passages())
def test_a_difference_holds_both_states(old, new):
    found = difference(old, new)
    assert (found.old(), found.new()) == (old, new)
    assert found.empty == (old == new)
    text = old.text
    for place in reversed(found.changed):
        added = new.text[place.new_start : place.new_end]
        text = text[: place.old_start] + added + text[place.old_end :]
    assert text == new.text


@given(passages(), passages())
def test_taking_back_place_after_place_leads_to_the_old_state(old, new):
    now = new
    while changed := difference(old, now).changed:
        before, now = now, difference(old, now).taken_back(len(changed) - 1)
        assert now != before
    assert now == old


def test_words_are_counted_once_each():
    found = difference(
        Passage.plain("It was a very dark night.\nHe slept."),
        Passage.plain("It was a night.\nHe woke up."),
    )
    assert (found.words_cut, found.words_added) == (3, 2)


def test_a_change_of_emphasis_or_style_alone_is_a_difference():
    plain = Paragraph("the tide")
    emphasised = Paragraph("the tide", Style.BODY, (Span(4, 8, SpanKind.EMPHASIS),))
    verse = Paragraph("the tide", Style.VERSE)
    for other in (emphasised, verse):
        kinds = {piece.kind for piece in difference(Passage((plain,)), Passage((other,))).pieces}
        assert {Kind.CUT, Kind.ADDED} <= kinds
