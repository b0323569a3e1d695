"""Both libraries of the difference lead from the one string to the other."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.myers import steps, steps_in_python

Steps = Callable[[str, str], list[tuple[str, int]]]

letters = st.text(st.sampled_from("aab \N{LATIN SMALL LETTER E WITH ACUTE}\U0001f4d6"), max_size=40)


@pytest.mark.parametrize("way", [steps, steps_in_python])
@given(old=letters, new=letters)
def test_the_steps_lead_from_old_to_new(way: Steps, old: str, new: str) -> None:
    there, made, used = 0, "", 0
    for sign, count in way(old, new):
        assert count > 0
        if sign == "=":
            assert old[there : there + count] == new[used : used + count]
        if sign != "-":
            made += new[used : used + count]
            used += count
        if sign != "+":
            there += count
    assert (there, made) == (len(old), new)


@pytest.mark.parametrize("way", [steps, steps_in_python])
@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("", "", []),
        ("abc", "abc", [("=", 3)]),
        ("abc", "", [("-", 3)]),
        ("", "abc", [("+", 3)]),
        ("abxc", "abyc", [("=", 2), ("-", 1), ("+", 1), ("=", 1)]),
    ],
)
def test_plain_cases(way: Steps, old: str, new: str, expected: list[tuple[str, int]]) -> None:
    assert way(old, new) == expected
