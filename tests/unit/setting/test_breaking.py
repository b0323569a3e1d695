"""Both breakers keep to the measure, and the optimum is one: nothing that was tried costs less."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from reglet.setting import faces
from reglet.setting.breaking import (
    Rank,
    Spacing,
    first_fit,
    least_demerits,
    optimum_fit,
    total_demerits,
)
from reglet.setting.fount import fount
from reglet.setting.galley import Ending, Galley

FOUNT = fount(faces.LITERATA, 10.0, 10.0, "en-GB")
ITALIC = fount(faces.LITERATA, 10.0, 10.0, "en-GB", italic=True)
SPACING = Spacing.of(FOUNT.space)
WORDS = (
    "a I of the tide said Ánna e\u0301t\u00e9 🐚 wood-stove o’clock “No,” — … . ( 3,120 "
    "remembering extraordinarily window—sill thunderstorm-lantern"
).split()

texts = st.lists(st.sampled_from(WORDS), min_size=1, max_size=30).map(" ".join)
measures = st.floats(20, 250)
indents = st.floats(-15, 15)


@st.composite
def galleys(draw, words=texts):
    text = draw(words)
    edges = sorted({0, *draw(st.lists(st.integers(1, len(text)), max_size=3))})
    return Galley.of(text, [(edge, (FOUNT, ITALIC)[n % 2]) for n, edge in enumerate(edges)])


@pytest.mark.parametrize("fit", [first_fit, optimum_fit])
@pytest.mark.parametrize("hyphenate", [False, True])
@given(galley=galleys(), measure=measures, indent=indents)
def test_lines_cover_the_text_and_keep_to_the_measure(fit, hyphenate, galley, measure, indent):
    ranks = fit(galley, measure, indent, hyphenate=hyphenate)
    ends = [rank.end for rank in ranks]
    assert ends == sorted(set(ends))
    assert ends[-1] == len(galley.text)
    full = galley.with_hyphens() if hyphenate else galley
    for number, (start, rank) in enumerate(zip([0, *ends], ranks, strict=False)):
        room = measure - (indent if number == 0 else 0)
        shrink = rank.spaces * SPACING.shrink if fit is optimum_fit else 0
        if rank.width - shrink > room + 0.001:
            inside = [at for at in full.offsets if start < at < rank.end]
            assert not inside or _first_piece_is_too_wide(full, start, inside[0], room)


def _first_piece_is_too_wide(galley, start, end, room):
    # A hyphen can make the shortest start of a word wider than the room, though the rest is not.
    start_number, number = galley.offsets.index(start), galley.offsets.index(end)
    return galley.reach[number] - galley.resume[start_number] > room


@pytest.mark.parametrize("hyphenate", [False, True])
@given(galley=galleys(), measure=measures, indent=indents)
def test_first_fit_leaves_no_room_for_the_next_piece(hyphenate, galley, measure, indent):
    ranks = first_fit(galley, measure, indent, hyphenate=hyphenate)
    full = galley.with_hyphens() if hyphenate else galley
    begins = -indent
    for rank in ranks[:-1]:
        number = full.offsets.index(rank.end)
        fitting = [
            n for n in range(number + 1, len(full.reach)) if full.reach[n] <= begins + measure
        ]
        assert not fitting
        begins = full.resume[number]


@given(galley=galleys(), measure=measures, indent=indents)
def test_the_optimum_costs_no_more_than_first_fit(galley, measure, indent):
    greedy = first_fit(galley, measure, indent, hyphenate=False)
    best = _ranks(galley, least_demerits(galley, measure, indent, SPACING))
    assert total_demerits(best, measure, indent, SPACING) <= _about(
        total_demerits(greedy, measure, indent, SPACING)
    )


@given(
    galley=galleys(st.lists(st.sampled_from(WORDS), min_size=1, max_size=9).map(" ".join)),
    measure=measures,
    indent=indents,
)
def test_the_optimum_is_the_least_of_all_ways(galley, measure, indent):
    galley = galley.with_hyphens()
    last = len(galley.offsets) - 1
    assume(last <= 11)
    costs = [
        total_demerits(_ranks(galley, way), measure, indent, SPACING)
        for count in range(last)
        for chosen in combinations(range(1, last), count)
        if _keeps_to_the_measure(galley, way := [*chosen, last], measure, indent)
    ]
    best = _ranks(galley, least_demerits(galley, measure, indent, SPACING))
    assert total_demerits(best, measure, indent, SPACING) == pytest.approx(min(costs), rel=1e-6)


def _keeps_to_the_measure(galley, way, measure, indent):
    # But for a single piece, which may be wider than any line.
    for (start, end), rank in zip(pairwise([0, *way]), _ranks(galley, way), strict=True):
        room = measure - (indent if start == 0 else 0)
        if end > start + 1 and rank.width - rank.spaces * SPACING.shrink > room + 1e-6:
            return False
    return True


def _about(value):
    return value * (1 + 1e-9) + 1e-6


def _ranks(galley, numbers):
    return [
        Rank(
            galley.offsets[end],
            galley.reach[end] - galley.resume[start],
            galley.spaces[end] - galley.resume_spaces[start],
            galley.endings[end],
        )
        for start, end in pairwise([0, *numbers])
    ]


@pytest.mark.parametrize(
    ("slack", "spaces", "ending", "demerits"),
    [
        # (1 + 100 r³ + penalty)², the demerits of Knuth and Plass 1981
        (0.0, 4, Ending.PLAIN, 1.0),
        (4 * SPACING.stretch, 4, Ending.PLAIN, 101.0**2),
        (2 * SPACING.stretch, 4, Ending.PLAIN, 13.5**2),
        (-4 * SPACING.shrink, 4, Ending.PLAIN, 101.0**2),
        (0.0, 4, Ending.SET_HYPHEN, 51.0**2),
        (0.0, 4, Ending.OWN_HYPHEN, 51.0**2),
        (5.0, 0, Ending.PLAIN, 10_001.0**2),
    ],
)
def test_what_a_line_costs(slack, spaces, ending, demerits):
    ranks = [Rank(1, 100.0 - slack, spaces, ending), Rank(2, 50.0, 3, Ending.PLAIN)]
    last_line = 1.0
    assert total_demerits(ranks, 100.0, 0.0, SPACING) == pytest.approx(demerits + last_line)


def test_two_hyphens_in_a_row_cost_more():
    hyphenated = [Rank(n, 100.0, 5, Ending.SET_HYPHEN) for n in (1, 2)]
    whole = [Rank(3, 60.0, 5, Ending.PLAIN)]
    together = total_demerits(hyphenated + whole, 100.0, 0.0, SPACING)
    assert together == pytest.approx(2 * 51.0**2 + 3000 + 1)
