"""A passage is addressed as one text, and giving a slice back gives the passage back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import EMPTY

from tests.strategies import passages


@st.composite
def passage_and_range(draw):
    passage = draw(passages())
    start = draw(st.integers(0, len(passage)))
    return passage, start, draw(st.integers(start, len(passage)))


@given(passage_and_range(), passages())
def test_replace_does_to_the_text_what_it_says(case, fragment):
    passage, start, end = case
    replaced = passage.replace(start, end, fragment)
    assert replaced.text == passage.text[:start] + fragment.text + passage.text[end:]


@given(passage_and_range())
def test_a_slice_holds_its_text_and_fits_back_exactly(case):
    passage, start, end = case
    taken = passage.slice(start, end)
    assert taken.text == passage.text[start:end]
    assert passage.replace(start, end, taken) == passage
    if start < end:
        assert passage.replace(start, end, EMPTY).replace(start, start, taken) == passage


@given(passages(), st.data())
def test_divide_keeps_every_paragraph_text_in_order(passage, data):
    position = data.draw(st.integers(0, len(passage)))
    before, after = passage.divide(position)
    joined = before.text + passage.text[len(before) : len(passage) - len(after)] + after.text
    assert joined == passage.text
    assert len(passage) - len(before) - len(after) in (0, 1)


def test_spans_have_one_normal_form():
    emphasis = SpanKind.EMPHASIS
    given_spans = (
        Span(3, 9, emphasis),
        Span(-2, 2, emphasis),
        Span(2, 3, emphasis),
        Span(1, 1, emphasis),
    )
    assert Paragraph("a tide", Style.BODY, given_spans).spans == (Span(0, 6, emphasis),)


def test_stretches_are_cut_at_every_edge_of_a_span():
    tide, low = Span(2, 6, SpanKind.EMPHASIS), Span(4, 10, SpanKind.STRONG)
    found = list(Paragraph("a tide low", spans=(tide, low)).stretches())
    assert found == [("a ", ()), ("ti", (tide,)), ("de", (tide, low)), (" low", (low,))]
    assert [list(Paragraph(text).stretches()) for text in ("a tide", "")] == [[("a tide", ())], []]


@pytest.mark.parametrize("line_end", ["\n", "\r", "\u2029"])
def test_a_paragraph_refuses_what_would_part_it(line_end):
    with pytest.raises(ValueError):
        Paragraph(f"one{line_end}two")
