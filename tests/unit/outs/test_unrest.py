"""A gap means less where much else stirs around it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.outs.unrest import LEAST, settled

gaps = st.lists(st.tuples(st.integers(0, 80), st.floats(LEAST, 1)), max_size=4)


@pytest.mark.parametrize(
    ("others", "lowered"),
    [
        ([[], [(10, 0.9)], []], False),  # the gap itself
        ([[], [(10, 0.9), (12, 0.4)], []], False),  # the same gap, told at two places
        ([[], [(10, 0.9), (30, 0.4)], []], True),  # another in the paragraph
        ([[(3, 0.5)], [(10, 0.9)], []], True),  # another in the paragraph before
        ([[(3, 1.0)], [(10, 0.9)], []], False),  # a word that is surely left out there, too
    ],
)
def test_others_around_it_lower_a_score(others, lowered):
    assert (settled(others, 1, 10, 0.9) < 0.9) is lowered


@given(st.lists(gaps, min_size=1, max_size=9), st.floats(LEAST, 1), st.data())
def test_a_score_is_never_raised_and_stays_a_share(found, score, data):
    number = data.draw(st.integers(0, len(found) - 1))
    assert 0 <= settled(found, number, 10, score) <= score
