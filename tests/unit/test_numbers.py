"""Numbers in words are read as they are made."""

import pytest
from reglet.numbers import counted, hours, in_words, roman, roman_value, times, value_of


@pytest.mark.parametrize("value", range(1, 100))
def test_words_and_numerals_are_read_as_they_are_made(value):
    assert value_of(in_words(value)) == value
    assert roman_value(roman(value)) == value


@pytest.mark.parametrize(
    ("value", "words", "numeral"),
    [
        (1, "one", "I"),
        (14, "fourteen", "XIV"),
        (49, "forty-nine", "XLIX"),
        (90, "ninety", "XC"),
        (100, "a hundred", "C"),
    ],
)
def test_a_few_numbers(value, words, numeral):
    assert (in_words(value), roman(value)) == (words, numeral)


@pytest.mark.parametrize("said", ["", "twenty-", "twenty-eleven", "ten-one", "score", "one-two"])
def test_other_words_are_no_number(said):
    assert value_of(said) is None


def test_nouns_and_times():
    assert [counted(n, "word") for n in (0, 1, 1200)] == ["0 words", "1 word", "1,200 words"]
    assert [times(n) for n in (1, 2, 3)] == ["once", "twice", "3 times"]


def test_a_length_of_time_is_told_to_the_minute():
    told = [(0, "0 min"), (0.2, "1 min"), (40.4, "40 min"), (59.6, "1 h"), (860, "14 h 20 min")]
    assert [hours(minutes) for minutes, _ in told] == [said for _, said in told]
