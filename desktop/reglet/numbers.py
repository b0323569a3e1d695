"""Numbers in words: as a sentence to the writer says them, and as English headings and stories do.

Words and Roman numerals are read and made from 1 to 100; what is beyond is in figures.
"""

from __future__ import annotations

UNITS = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen"
).split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()

_ROMAN = (
    (100, "C"),
    (90, "XC"),
    (50, "L"),
    (40, "XL"),
    (10, "X"),
    (9, "IX"),
    (5, "V"),
    (4, "IV"),
    (1, "I"),
)
_ROMAN_VALUES = {letters: value for value, letters in _ROMAN if len(letters) == 1}


def counted(number: int, noun: str) -> str:
    """A number with its noun: "1 word", "1,200 words"."""
    return f"{number:,} {noun if number == 1 else noun + 's'}"


def times(count: int) -> str:
    """How often, in words: once, twice, 3 times."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def hours(minutes: float) -> str:
    """A length of time to the minute: "14 h 20 min", "2 h", "40 min"; only nothing is "0 min"."""
    whole, rest = divmod(max(round(minutes), int(minutes > 0)), 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


def in_words(value: int) -> str:
    """A number from 1 to 100 in words. Raises IndexError beyond."""
    if value == 100:
        return "a hundred"
    if value < 20:
        return UNITS[value - 1]
    ten, unit = divmod(value, 10)
    return TENS[ten - 2] + (f"-{UNITS[unit - 1]}" if unit else "")


def value_of(said: str) -> int | None:
    """The number from 1 to 99 that small letters say: 21 for "twenty-one"; None for other words."""
    if said in UNITS:
        return UNITS.index(said) + 1
    ten, hyphen, unit = said.partition("-")
    if ten not in TENS or (hyphen and unit not in UNITS[:9]):
        return None
    return (TENS.index(ten) + 2) * 10 + (UNITS.index(unit) + 1 if unit else 0)


def roman(value: int) -> str:
    """A number as a Roman numeral in capitals."""
    made = ""
    for worth, letters in _ROMAN:
        while value >= worth:
            made, value = made + letters, value - worth
    return made


def roman_value(numeral: str) -> int:
    """The value of a Roman numeral in capitals, of the letters I, V, X, L and C. Raises KeyError
    for other letters.
    """
    values = [_ROMAN_VALUES[letter] for letter in numeral]
    following = [*values[1:], 0]
    return sum(-one if one < two else one for one, two in zip(values, following, strict=False))
