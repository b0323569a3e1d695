"""Positions ride on edits. Each case draws the text with the marked span in brackets."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.change import Change, Lean

# before, replaced stretch, new text, after: [ ] is the span before and after the edit.
CASES = [
    ("the [tide] turned", (0, 3), "a", "a [tide] turned"),
    ("the [tide] turned", (9, 15), "ran", "the [tide] ran"),
    ("the [tide] turned", (4, 8), "sea", "the [sea] turned"),
    ("the [tide] turned", (4, 4), "low ", "the low [tide] turned"),
    ("the [tide] turned", (8, 8), "s", "the [tide]s turned"),
    ("the [tide] turned", (6, 6), "--", "the [ti--de] turned"),
    ("the [tide] turned", (4, 9), "", "the []turned"),
    ("the [tide] turned", (2, 6), "", "th[de] turned"),
    ("the [low tide] turned", (8, 12), "water", "the [low water] turned"),
    ("the [tide] turned", (0, 15), "", "[]"),
]


@pytest.mark.parametrize(("before", "replaced", "new", "after"), CASES)
def test_a_span_rides_on_an_edit(before, replaced, new, after):
    start, end = before.index("["), before.index("]") - 1
    old = before.replace("[", "").replace("]", "")
    text = old[: replaced[0]] + new + old[replaced[1] :]
    carried = Change.at(*replaced, len(new)).carry_span(start, end)
    drawn = text[: carried[0]] + "[" + text[carried[0] : carried[1]] + "]" + text[carried[1] :]
    assert drawn == after


@given(st.text("ab", max_size=12), st.text("ab", max_size=12))
def test_between_turns_the_old_into_the_new(old, new):
    change = Change.between(old, new)
    if old == new:
        assert change == Change()
    else:
        (only,) = change.replacements
        assert (
            old[: only.start] + new[only.start : only.start + only.length] + old[only.end :] == new
        )


@st.composite
def changes(draw):
    """A change of a text of 20, with its new length."""
    cuts = sorted(draw(st.lists(st.integers(0, 20), max_size=6)))
    pairs = list(zip(cuts[::2], cuts[1::2], strict=False))
    lengths = [draw(st.integers(0, 4)) for _ in pairs]
    from reglet.manuscript.change import Replacement

    change = Change(tuple(Replacement(a, b, n) for (a, b), n in zip(pairs, lengths, strict=True)))
    return change, 20 + sum(n - (b - a) for (a, b), n in zip(pairs, lengths, strict=True))


@given(changes(), st.integers(0, 20), st.integers(0, 20))
def test_carrying_keeps_order_and_stays_inside(case, one, other):
    change, length = case
    for lean in Lean:
        low, high = sorted((change.carry(one, lean), change.carry(other, lean)))
        assert 0 <= low <= high <= length
        if one <= other:
            assert change.carry(one, lean) <= change.carry(other, lean)
    assert change.carry(one, Lean.BACK) <= change.carry(one, Lean.FORWARD)
