"""Code points and UTF-16 units, against Qt's own count."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QTextDocument
from reglet.window.page.positions import to_code_points, to_units, units

CASES = [
    ("plain", [0, 1, 2, 3, 4, 5]),
    ("é", [0, 1]),
    ("e\u0301x", [0, 1, 2, 3]),
    ("🐚", [0, 2]),
    ("a🐚b", [0, 1, 3, 4]),
    ("👩‍👧", [0, 2, 3, 5]),
    ("", [0]),
]


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_each_code_point_has_its_unit(text: str, expected: list[int]) -> None:
    assert [to_units(text, position) for position in range(len(text) + 1)] == expected
    assert [to_code_points(text, unit) for unit in expected] == list(range(len(text) + 1))


def test_between_the_halves_of_a_pair_is_before_the_character() -> None:
    assert to_code_points("a🐚b", 2) == 1


@given(st.text(st.characters(exclude_categories=["Cs", "Cc", "Zp"])))
def test_qt_counts_the_same(text: str) -> None:
    text = text.translate(dict.fromkeys((0xFDD0, 0xFDD1)))
    document = QTextDocument()
    document.setPlainText(text)
    assert document.characterCount() - 1 == units(text)
    assert all(to_code_points(text, to_units(text, at)) == at for at in range(len(text) + 1))
