"""Paragraphs as lines on a sheet."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet import setting
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.setting import Align

from tests.strategies import paragraphs

SHEETS = (
    setting.USUAL_TRIM,
    setting.USUAL_PHONE,
    setting.USUAL_EREADER,
    setting.phone(360, 24),
    setting.trim("narrow", 2.0, 5.0, 11.0, 15.0),
)
SENTENCE = "She had not thought that the tide would come in so far before anybody noticed it. "


@given(paragraph=paragraphs(), sheet=st.sampled_from(SHEETS))
def test_lines_follow_one_another_and_cover_the_text(paragraph, sheet):
    found = setting.lines(paragraph, sheet)
    assert found[0].start == 0
    assert found[-1].end == len(paragraph.text)
    assert [line.end for line in found[:-1]] == [line.start for line in found[1:]]


@given(paragraph=paragraphs(), sheet=st.sampled_from(SHEETS))
def test_no_line_with_a_space_in_it_is_wider_than_the_measure(paragraph, sheet):
    for line in setting.lines(paragraph, sheet):
        words = paragraph.text[line.start : line.end].split(" ")
        if len([word for word in words if len(word) > 1]) > 1:
            assert line.left + line.width <= sheet.measure + 0.001
            assert line.left >= -0.001


@pytest.mark.parametrize("sheet", SHEETS[:3])
@pytest.mark.parametrize("style", Style)
def test_a_long_paragraph_stands_as_its_style_says(style, sheet):
    manner = setting.MANNERS[style]
    found = setting.lines(Paragraph(SENTENCE * 12, style), sheet)
    left, right = manner.left * sheet.size, sheet.measure - manner.right * sheet.size
    indent = manner.indent * sheet.indent * sheet.size
    middle = found[1:-1]
    if manner.align is Align.CENTRE:
        assert all(line.left + line.width / 2 == pytest.approx(sheet.measure / 2) for line in found)
        return
    assert found[0].left == pytest.approx(left + max(0.0, indent))
    assert all(line.left == pytest.approx(left + max(0.0, -indent)) for line in middle)
    reaches = [line.left + line.width for line in middle]
    if manner.align is Align.TEXT and sheet.justified:
        assert reaches == pytest.approx([right] * len(reaches))
    else:
        assert all(line.gap == 0.0 for line in found)
        assert len(set(reaches)) > 1
    assert any(line.hyphenated for line in found) <= sheet.hyphenated


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("", 1),
        ("   ", 1),
        ("Word.", 1),
        (f"one{LINE_BREAK}two", 2),
        (f"one{LINE_BREAK}", 2),
        (LINE_BREAK * 3, 4),
        ("m" * 500, 1),
        ("\tTab\tand   spaces  ", 1),
    ],
)
def test_how_many_lines(text, count):
    assert len(setting.lines(Paragraph(text), setting.USUAL_TRIM)) == count


@pytest.mark.parametrize(
    ("kind", "value", "sign"),
    [
        (SpanKind.EMPHASIS, "", -1),
        (SpanKind.STRONG, "", 1),
        (SpanKind.SMALL_CAPITALS, "", 1),
        (SpanKind.UNDERLINE, "", 0),
        (SpanKind.STRIKE, "", 0),
        (SpanKind.LANGUAGE, "fr", 0),
    ],
)
def test_spans_set_in_another_cut_change_the_width(kind, value, sign):
    text = "Nobody in the house slept"
    plain = setting.lines(Paragraph(text), setting.USUAL_TRIM)[0]
    marked = setting.lines(Paragraph(text, spans=(Span(3, 19, kind, value),)), setting.USUAL_TRIM)[
        0
    ]
    difference = marked.width - plain.width
    assert (difference > 0.1) - (difference < -0.1) == sign


def test_a_language_is_hyphenated_by_its_own_rules():
    narrow = replace(setting.USUAL_EREADER, width=110.0, inner=4.0, outer=4.0)
    text = "Erinnerungen " * 6
    spans = (Span(0, len(text), SpanKind.LANGUAGE, "de"),)
    cut = [
        text[: line.end].rsplit(" ", 1)[-1]
        for line in setting.lines(Paragraph(text, Style.FIRST, spans), narrow)
        if line.hyphenated
    ]
    assert cut
    assert set(cut) <= {"Er", "Erin", "Erinne", "Erinnerun"}


def test_a_sheet_is_hyphenated_in_its_language():
    american = setting.USUAL_TRIM.in_language("en-US")
    paragraph = Paragraph("typography " * 80, Style.FIRST)
    cut = {}
    for sheet in (setting.USUAL_TRIM, american):
        found = setting.lines(paragraph, sheet)
        cut[sheet.language] = {
            paragraph.text[: line.end].rsplit(" ", 1)[-1] for line in found if line.hyphenated
        }
    assert "typog" in cut["en-US"] - cut["en-GB"]


def test_larger_type_takes_more_lines_and_a_wider_sheet_fewer():
    paragraph = Paragraph(SENTENCE * 10)
    counts = [
        len(setting.lines(paragraph, setting.PHONES[name]))
        for name in (
            "430 px, text 14 px",
            "430 px, text 16 px",
            "360 px, text 16 px",
            "360 px, text 24 px",
        )
    ]
    assert counts == sorted(set(counts))


def test_fill_is_lines_and_share_of_the_screen():
    sheet = setting.USUAL_PHONE
    paragraph = Paragraph(SENTENCE * 40)
    fill = setting.paragraph_fill(paragraph, sheet)
    assert fill.lines == len(setting.lines(paragraph, sheet))
    assert fill.share == pytest.approx(fill.lines * sheet.leading / sheet.depth)
    assert fill.share > 1
