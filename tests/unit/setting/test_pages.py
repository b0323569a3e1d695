"""Paragraphs made up into pages."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet import setting
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Style, scene_break
from reglet.setting import Medium

from tests.strategies import paragraphs

TRIM = setting.trim("small page", 4.0, 4.0, 11.0, 15.0)
"""A page of twelve lines."""
PHONE = setting.phone(360, 24)


def body(lines, style=Style.BODY):
    """A paragraph of so many lines on any sheet."""
    return Paragraph(LINE_BREAK.join(["line"] * lines), style)


def shape(pages):
    """What stands on each page: the paragraph's number, and how many of its lines."""
    return [[(piece.paragraph, len(piece.lines)) for piece in page.pieces] for page in pages]


TABLE = [
    # lines of each paragraph, the pages they make on a page of twelve lines
    ([12], [[(0, 12)]]),
    ([13], [[(0, 11)], [(0, 2)]]),
    ([14], [[(0, 12)], [(0, 2)]]),
    ([30], [[(0, 12)], [(0, 12)], [(0, 6)]]),
    ([25], [[(0, 12)], [(0, 11)], [(0, 2)]]),
    ([11, 2], [[(0, 11)], [(1, 2)]]),
    ([10, 3], [[(0, 10)], [(1, 3)]]),
    ([10, 4], [[(0, 10), (1, 2)], [(1, 2)]]),
    ([11, 1, 1], [[(0, 11), (1, 1)], [(2, 1)]]),
    ([9, 5], [[(0, 9), (1, 3)], [(1, 2)]]),
    ([9, 4], [[(0, 9), (1, 2)], [(1, 2)]]),
    ([], []),
]


@pytest.mark.parametrize(("counts", "pages"), TABLE)
def test_no_line_is_left_alone(counts, pages):
    assert TRIM.line_count == 12
    assert shape(setting.pages([body(count) for count in counts], TRIM)) == pages


def test_a_phone_screen_is_simply_full():
    per_screen = PHONE.line_count
    made_up = setting.pages([body(per_screen + 1), body(3)], PHONE)
    assert shape(made_up) == [[(0, per_screen)], [(0, 1), (1, 3)]]


def test_a_chapter_begins_a_page_with_its_heading_sunk():
    texts = [
        body(1, Style.HEADING),
        body(3),
        body(1, Style.HEADING),
        body(1, Style.HEADING),
        body(1),
    ]
    sheet = setting.USUAL_TRIM
    made_up = setting.pages(texts, sheet)
    assert shape(made_up) == [[(0, 1), (1, 3)], [(2, 1), (3, 1), (4, 1)]]
    assert [page.pieces[0].top for page in made_up] == [sheet.sink * sheet.leading] * 2
    heading, text = made_up[0].pieces
    after = heading.top + heading.leading + setting.MANNERS[Style.HEADING].space * sheet.leading
    assert text.top == pytest.approx(after)
    assert len(setting.pages(texts, setting.USUAL_PHONE)) == 1


def test_space_stands_between_styles_and_not_at_the_head_of_a_page():
    made_up = setting.pages([body(11), scene_break(), body(1)], TRIM)
    assert [piece.top / 15 for page in made_up for piece in page.pieces] == [0, 0, 1.5]


@given(
    texts=st.lists(paragraphs(), max_size=25),
    sheet=st.sampled_from([TRIM, PHONE, setting.trim("tiny", 2.5, 1.7, 11.0, 15.0)]),
)
def test_every_line_stands_once_in_order_and_within_the_page(texts, sheet):
    made_up = setting.pages(texts, sheet)
    pieces = [piece for page in made_up for piece in page.pieces]
    placed = [(piece.paragraph, line) for piece in pieces for line in piece.lines]
    assert placed == [
        (number, line) for number, text in enumerate(texts) for line in setting.lines(text, sheet)
    ]
    for page in made_up:
        assert page.pieces
        assert 0.0 <= page.white <= 1.0
        last = page.pieces[-1]
        if sheet.line_count > 2 and texts[page.pieces[0].paragraph].style is not Style.HEADING:
            assert last.top + last.leading * len(last.lines) <= sheet.depth + 0.001


@given(texts=st.lists(st.integers(1, 40).map(body), min_size=1, max_size=12))
def test_widows_and_orphans(texts):
    made_up = setting.pages(texts, TRIM)
    for page in made_up:
        for piece in page.pieces:
            whole = len(setting.lines(texts[piece.paragraph], TRIM))
            assert len(piece.lines) >= min(2, whole)


@given(texts=st.lists(paragraphs(), min_size=1, max_size=25), choose=st.data())
def test_the_page_of_a_place_holds_it(texts, choose):
    made_up = setting.pages(texts, TRIM)
    paragraph = choose.draw(st.integers(0, len(texts) - 1))
    offset = choose.draw(st.integers(0, len(texts[paragraph].text)))
    page = made_up[setting.page_at(made_up, paragraph, offset)]
    assert any(
        piece.paragraph == paragraph and piece.lines[0].start <= offset <= piece.lines[-1].end
        for piece in page.pieces
    )


@pytest.mark.parametrize(
    ("text", "white"),
    [
        (LINE_BREAK.join(["m" * 200] * 12), 0.0),
        (LINE_BREAK.join([""] * 12), 1.0),
    ],
)
def test_white_is_what_no_line_covers(text, white):
    (page,) = setting.pages([Paragraph(text, Style.VERSE)], TRIM)
    assert page.white == pytest.approx(white)


def test_half_a_page_of_full_lines_is_half_white():
    long = Paragraph("word " * 400, Style.FIRST)
    full, *_ = setting.pages([long], TRIM)
    covered = TRIM.line_count * TRIM.leading / TRIM.depth
    assert full.white == pytest.approx(1 - covered, abs=1e-6)


def test_the_registers_are_named_for_what_they_hold():
    for register, medium in (
        (setting.TRIMS, Medium.PRINT),
        (setting.PHONES, Medium.PHONE),
        (setting.EREADERS, Medium.EREADER),
    ):
        assert register
        for name, sheet in register.items():
            assert (sheet.name, sheet.medium) == (name, medium)
            assert sheet.line_count > 10
