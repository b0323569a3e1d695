"""Both states can be read off the comparison: by the strokes on it alone, without its colours."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtGui import QTextCharFormat
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.manuscript.difference import difference
from reglet.manuscript.passage import Passage
from reglet.overlays.query import ProofMark
from reglet.window.comparing import ComparisonPage
from reglet.window.theme import LIGHT

from tests.strategies import WORDS

SIGN, THIN_SPACE = "¶", "\u2009"
TEXTS = st.lists(st.lists(WORDS, max_size=6).map(" ".join), min_size=1, max_size=4).map("\n".join)


def pieces(page: ComparisonPage) -> Iterator[tuple[str, QTextCharFormat]]:
    """The runs of text on the page with their formats; the end of a paragraph is a "\\n"."""
    block = page.document().begin()
    while block.isValid():
        iterator = block.begin()
        while not iterator.atEnd():
            yield iterator.fragment().text(), iterator.fragment().charFormat()
            iterator += 1
        block = block.next()
        if block.isValid():
            yield "\n", QTextCharFormat()


def read(page: ComparisonPage) -> tuple[str, str]:
    """The old text and the new one, as the strokes on the page tell them."""
    old = new = ""
    ending = (True, True)
    for text, look in pieces(page):
        if text == THIN_SPACE:
            continue
        in_old, in_new = not look.fontUnderline(), not look.fontStrikeOut()
        if text == "\n":
            old, new = old + "\n" * ending[0], new + "\n" * ending[1]
            ending = (True, True)
        elif text.endswith(SIGN):
            ending = (in_old, in_new)
            old, new = old + text[:-1] * in_old, new + text[:-1] * in_new
        else:
            old, new = old + text * in_old, new + text * in_new
    return old, new


@given(TEXTS, TEXTS)
def test_nothing_of_either_state_is_missing(qapp: QApplication, old: str, new: str) -> None:
    page = ComparisonPage()
    page.show_difference(difference(Passage.plain(old), Passage.plain(new)), LIGHT.red)
    assert read(page) == (old, new)


@pytest.mark.parametrize(
    ("old", "new", "marks"),
    [
        ("the tide ran", "the tide ran", []),
        ("the tide ran", "the tide", [ProofMark.DELETE]),
        ("the tide", "the slack tide", [ProofMark.INSERT]),
        ("the tide ran", "the mill ran", [ProofMark.REPLACE]),
        ("a tide ran out", "the tide ran", [ProofMark.REPLACE, ProofMark.DELETE]),
        ("one\ntwo", "one\ntwo\nthree", [ProofMark.INSERT]),
        ("one\ntwo", "one two", [ProofMark.REPLACE]),
    ],
)
def test_each_place_has_its_mark(qtbot: QtBot, old: str, new: str, marks: list[ProofMark]) -> None:
    page = ComparisonPage()
    qtbot.addWidget(page)
    page.resize(600, 400)
    page.show_difference(difference(Passage.plain(old), Passage.plain(new)), LIGHT.red)
    page.show()
    assert [place.mark for _, place, _ in page._in_view()] == marks


def test_places_are_stepped_through_and_pressed(qtbot: QtBot) -> None:
    page = ComparisonPage()
    qtbot.addWidget(page)
    page.resize(600, 400)
    old, new = "a tide ran out at noon", "the tide ran in at night"
    page.show_difference(difference(Passage.plain(old), Passage.plain(new)), LIGHT.red)
    page.show()
    chosen: list[int] = []
    page.place_chosen.connect(chosen.append)
    for by in (1, 1, 1, 1, -1):
        page.step(by)
    assert chosen == [0, 1, 2, 0, 2]
    _, _, box = list(page._in_view())[1]
    qtbot.mouseClick(page.viewport(), Qt.MouseButton.LeftButton, pos=box.center().toPoint())
    assert chosen[-1] == 1
