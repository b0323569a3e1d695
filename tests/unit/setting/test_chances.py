"""Where a line may end inside a stretch without spaces: | stands where it may."""

from __future__ import annotations

import pytest
from reglet.setting import chances

TABLE = [
    "word",
    "word,”",
    "wait|—|what",
    "wait|—",
    "wait|—”",
    "“—|what",
    "wait…|what",
    "wait…”",
    "wait….",
    "…|and",
    "either/|or",
    "1/2",
    "flour-|mills",
    "-mills",
    "e\u0301te\u0301-|like",
    "t-”",
    "1914–|18",
    "north–|south",
    "3-4",
    "two--|three",
    "a\u00a0b",
    "wait\u00a0—",
    "don’t",
    "“No!”—|she",
    "海|の|家",
    "sea\u200b|wall",
]


@pytest.mark.parametrize("marked", TABLE)
def test_table(marked):
    text = marked.replace("|", "")
    marks, seen = [], 0
    for at, character in enumerate(marked):
        if character == "|":
            marks.append(at - seen)
            seen += 1
    assert list(chances.inside(text)) == marks


@pytest.mark.parametrize(
    ("text", "back", "on"),
    [(".", True, False), ("!”", True, False), ("word.", False, False), ("(", False, True)],
)
def test_what_clings(text, back, on):
    assert (chances.clings_back(text), chances.clings_on(text)) == (back, on)
