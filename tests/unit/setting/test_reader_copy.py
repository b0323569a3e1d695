"""What a reader sees of a place: lines that stand on a phone and a page, pages as shapes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.setting import USUAL_EREADER, USUAL_PHONE, USUAL_TRIM, Sheet, lines
from reglet.setting.reader_copy import SetLine, copy_of, on_page, on_phone, page_count, shapes

from tests.strategies import passages

SENTENCE = "The ledger had been kept by three hands, and the third was the worst of them. "


def many(count: int) -> Passage:
    return Passage.plain("\n".join(f"{at} {SENTENCE * (1 + at % 4)}" for at in range(count)))


def said(line: SetLine) -> str:
    return "".join(run.text for run in line.runs)


def test_a_chapter_is_printed_with_its_heading_and_breaks() -> None:
    copy = copy_of("One", [("a", Passage.plain("x\ny")), ("b", Passage.plain("z"))])
    assert [(s.scene, s.index, s.paragraph.text, s.paragraph.style) for s in copy] == [
        ("", 0, "One", Style.HEADING),
        ("a", 0, "x", Style.FIRST),
        ("a", 1, "y", Style.BODY),
        ("", 0, "***", Style.SCENE_BREAK),
        ("b", 0, "z", Style.FIRST),
    ]


@pytest.mark.parametrize("sheet", [USUAL_PHONE, USUAL_TRIM, USUAL_EREADER])
@pytest.mark.parametrize("at", [0, 1, 17, 40])
def test_the_paragraph_written_in_is_in_view_and_nothing_hangs_over(sheet: Sheet, at: int) -> None:
    copy = copy_of("One", [("a", many(41))])
    show = on_phone if sheet is USUAL_PHONE else on_page
    around = show(copy, at + 1, 0, sheet)
    own = [line for line in around.lines if (line.scene, line.index) == ("a", at)]
    assert own and own[0].start == 0
    assert said(own[0]).startswith(f"{at} The ledger")
    assert all(line.top > -0.1 for line in around.lines)
    assert all(line.top + line.leading < sheet.depth + 0.1 for line in around.lines)
    assert around.fill.lines == len(lines(copy[at + 1].paragraph, sheet))


def test_a_phone_follows_the_cursor_through_a_paragraph_longer_than_its_screen() -> None:
    copy = copy_of("", [("a", Passage.plain(SENTENCE * 60))])
    length = len(copy[0].paragraph.text)
    for offset in (0, length // 2, length):
        around = on_phone(copy, 0, offset, USUAL_PHONE)
        last = around.lines[-1]
        assert around.lines[0].start <= offset <= last.start + len(said(last)) + 1
    assert around.fill.share > 2


@given(passages(max_size=8))
@settings(max_examples=30)
def test_the_lines_of_a_page_say_what_the_text_says(passage: Passage) -> None:
    copy = copy_of("", [("a", passage)])
    around = on_page(copy, 0, 0, USUAL_TRIM)
    shown = "".join(said(line) for line in around.lines if line.index == 0)
    kept = "".join(passage.paragraphs[0].text.split())
    assert "".join(shown.replace("-", "").split()) == kept.replace("-", "")


def test_emphasis_is_set_in_its_own_cut() -> None:
    paragraph = Paragraph("one two three", spans=(Span(4, 7, SpanKind.EMPHASIS),))
    (line,) = on_page(copy_of("", [("a", Passage((paragraph,)))]), 0, 0, USUAL_TRIM).lines
    assert [(run.text, run.italic) for run in line.runs] == [
        ("one ", False),
        ("two", True),
        (" three", False),
    ]


@pytest.mark.parametrize("sheet", [USUAL_PHONE, USUAL_TRIM, USUAL_EREADER])
def test_pages_are_counted_as_they_are_shown(sheet: Sheet) -> None:
    copy = copy_of("One", [("a", many(41)), ("b", many(9))])
    assert page_count(copy, sheet) == len(shapes(copy, sheet)) > 1


def test_pages_hold_every_paragraph_and_know_their_white() -> None:
    copy = copy_of("One", [("a", many(60))])
    made = shapes(copy, USUAL_TRIM)
    there = {piece.index for page in made for piece in page.pieces if piece.scene}
    assert there == set(range(60))
    assert all(0 <= page.white <= 1 for page in made)
    assert made[0].white > made[1].white  # the heading is sunk
