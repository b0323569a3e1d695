"""A passage shown by Qt and read back is the same passage, and so after any edit."""

from __future__ import annotations

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QTextCursor, QTextDocument
from reglet.manuscript.change import Lean
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.window.page import conversion
from reglet.window.theme import LIGHT

from tests.strategies import TEXTS, passages

PAGE = LIGHT.page


def document_of(passage: Passage) -> QTextDocument:
    document = QTextDocument()
    document.setUndoRedoEnabled(False)
    conversion.show(document, passage, PAGE)
    return document


@given(passages())
def test_there_and_back(passage: Passage) -> None:
    assert conversion.passage_of(document_of(passage)) == passage


@given(passages(), passages())
def test_one_passage_becomes_another(old: Passage, new: Passage) -> None:
    document = document_of(old)
    conversion.show_difference(document, old, new, PAGE)
    assert conversion.passage_of(document) == new


@given(passages(max_size=4), st.data())
def test_one_passage_becomes_part_of_itself(old: Passage, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(old)))
    end = data.draw(st.integers(start, len(old)))
    new = old.replace(start, end, Passage())
    assume(all(p.text == "***" for p in new.paragraphs if p.style is Style.SCENE_BREAK))
    document = document_of(old)
    conversion.show_difference(document, old, new, PAGE)
    assert conversion.passage_of(document) == new


@given(passages(), st.data())
@settings(max_examples=150)
def test_an_edit_is_read_as_it_was_made(old: Passage, data: st.DataObject) -> None:
    """Whatever Qt does to the text, what is read of the touched blocks is what all of it says, and
    the change says where the untouched text has gone.
    """
    document = document_of(old)
    seen: list[tuple[int, int, int]] = []
    document.contentsChange.connect(lambda at, cut, new: seen.append((at, cut, new)))
    cursor = QTextCursor(document)
    last = document.characterCount() - 1
    start = data.draw(st.integers(0, last))
    cursor.setPosition(start)
    cursor.setPosition(data.draw(st.integers(start, last)), QTextCursor.MoveMode.KeepAnchor)
    cursor.insertText(data.draw(TEXTS | st.just("\n") | st.just("a\nb\nc")))
    if not seen:
        return
    at, _, added = seen[-1]
    new, change = conversion.after_edit(document, old, at, added)
    assert new == conversion.passage_of(document)
    for position in range(len(old) + 1):
        carried = change.carry(position, Lean.FORWARD)
        assert 0 <= carried <= len(new)
        if position < len(old) and not change.touches(position, position + 1):
            assert new.text[carried] == old.text[position]


@given(passages(), st.data())
def test_positions_go_both_ways(passage: Passage, data: st.DataObject) -> None:
    document = document_of(passage)
    position = data.draw(st.integers(0, len(passage)))
    there = conversion.position_in(document, passage, position)
    assert conversion.code_point_at(document, passage, there) == position


@given(passages(min_size=1, max_size=1), passages(max_size=3), st.data())
def test_what_is_set_in_keeps_its_words_and_spans(
    page: Passage, pasted: Passage, data: st.DataObject
) -> None:
    document = document_of(page)
    position = data.draw(st.integers(0, len(page)))
    cursor = QTextCursor(document)
    cursor.setPosition(conversion.position_in(document, page, position))
    conversion.insert(cursor, pasted, PAGE)
    shown = conversion.passage_of(document)
    assert shown.text == page.text[:position] + pasted.text + page.text[position:]


def test_a_scene_break_written_in_is_no_scene_break() -> None:
    passage = Passage((Paragraph("***", Style.SCENE_BREAK),))
    document = document_of(passage)
    QTextCursor(document).insertText("a")
    assert conversion.passage_of(document).paragraphs[0] == Paragraph("a***", Style.BODY)


def test_every_kind_of_span_shows() -> None:
    for kind in SpanKind:
        value = "fr" if kind is SpanKind.LANGUAGE else ""
        passage = Passage((Paragraph("a 🐚 shell", spans=(Span(2, 3, kind, value),)),))
        assert conversion.passage_of(document_of(passage)) == passage
