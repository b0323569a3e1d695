"""What single lines read as, in tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.exchange.headings import Heading, Label, heading, is_mark, reads_as_title, value

C, P, N, O = Label.CHAPTER, Label.PART, Label.NUMBER, Label.OPENING  # noqa: E741


@pytest.mark.parametrize(
    ("line", "label", "number", "whole"),
    [
        ("Chapter Seven", C, 7, True),
        ("CHAPTER VII.", C, 7, True),
        ("chapter 7", C, 7, True),
        ("Chapter  Twenty-One", C, 21, True),
        ("CHAPTER THIRTY TWO", C, 32, True),
        ("Chapter the First", C, 1, True),
        ("Chapter One Hundred and Three", C, 103, True),
        ("Ch. 4", C, 4, True),
        ("Chap. IV", C, 4, True),
        ("Chapter 3: The Long Road", C, 3, False),
        ("Chapter 3 – The Long Road", C, 3, False),
        ("Chapter 3. What the tide left", C, 3, False),
        ("Chapter Three The Long Road", C, 3, False),
        ("The First Chapter", C, 1, True),
        ("VOLUME II", P, 2, True),
        ("VOLUME THE FIRST", P, 1, True),
        ("Part One", P, 1, True),
        ("PART III: WINTER", P, 3, False),
        ("Book Two", P, 2, True),
        ("The Second Part", P, 2, True),
        ("8.", N, 8, True),
        ("8", N, 8, True),
        ("— 8 —", N, 8, True),
        ("(viii)", N, 8, True),
        ("XII", N, 12, True),
        ("Eleven", N, 11, True),
        ("12. The Gate", N, 12, False),
        ("XII: The Gate", N, 12, False),
        ("Prologue", O, None, True),
        ("EPILOGUE.", O, None, True),
        ("Interlude: The Fair", O, None, False),
        ("Acknowledgements", Label.EITHER, None, True),
        ("Author’s Note", Label.EITHER, None, True),
        ("Dedication", Label.FRONT, None, True),
        ("About the Author", Label.BACK, None, True),
    ],
)
def test_headings(line: str, label: Label, number: int | None, whole: bool) -> None:
    assert heading(line) == Heading(label, number, whole)


@pytest.mark.parametrize(
    "line",
    [
        "Chapter Seven was the worst thing she had written.",
        "Chapter seven was the worst",
        "Part of me wanted to go",
        "Part one of the plan was over before it began",
        "Book me a room",
        "Chapter",
        "Chapter and verse",
        "Eleven years passed",
        "I know",
        "I’m",
        "Mix",
        "Civil",
        "mild",
        "3. He went home and wept.",
        "1984 was a bad year",
        "The prologue was too long.",
        "Notes lay about the desk",
        "Seventeen!",
        "“Eight,” she said.",
        "12:30",
        "",
    ],
)
def test_no_headings(line: str) -> None:
    assert heading(line) is None


@pytest.mark.parametrize(
    "line",
    "*** | * * * | * | # | ### | # # # | ⁂ | --- | - - - | —— | • | • • • | ~ | ~~~ | *** *** | § |"
    " ❦ | ___ | === | -o0o- | oOo | ⸻ | [scene break]".split("|"),
)
def test_marks(line: str) -> None:
    assert is_mark(line)


@pytest.mark.parametrize(
    "line", ["—", "-", "…", "...", "?", "!", "”", "a", "o", "x", "*note", "# one", "", "–", "__"]
)
def test_no_marks(line: str) -> None:
    assert not is_mark(line)


@pytest.mark.parametrize(
    ("line", "is_title"),
    [
        ("The Weir", True),
        ("THE LONG WAY DOWN", True),
        ("What the Tide Left Behind", True),
        ("What the tide left behind", False),
        ("She went home.", False),
        ("“Go Home”", False),
        ("And then,", False),
        ("", False),
    ],
)
def test_titles(line: str, is_title: bool) -> None:
    assert reads_as_title(line) is is_title


ROMAN = [("C", 100), ("XC", 90), ("L", 50), ("XL", 40), ("X", 10), ("IX", 9), ("V", 5), ("IV", 4)]


@given(st.integers(1, 199))
def test_roman_numerals_are_read_as_they_are_made(number: int) -> None:
    left, numeral = number, ""
    for sign, worth in [*ROMAN, ("I", 1)]:
        numeral += sign * (left // worth)
        left %= worth
    assert value(numeral) == value(numeral.lower()) == value(str(number)) == number
