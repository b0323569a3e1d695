"""Two ways to break a galley into lines.

`first_fit` puts on each line as much as it holds, as browsers, phones and e-readers do.
`optimum_fit` chooses the breaks of a whole paragraph together, as a good typesetter does: the
total-demerits algorithm of D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines",
*Software: Practice and Experience* 11 (1981), 1119-1184.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from reglet.setting.galley import Ending, Galley

_HAIR = 1e-6
"""Points by which a line may exceed the measure: the rounding of sums, nothing that shows."""


class Rank(NamedTuple):
    """One line of type before it is spaced out: it ends before code point `end` of the galley's
    text, is `width` points wide with its `spaces` at their natural width, and ends as `ending`
    says.
    """

    end: int
    width: float
    spaces: int
    ending: Ending


@dataclass(frozen=True, slots=True)
class Spacing:
    """How far a word space may stretch and shrink, in points."""

    stretch: float
    shrink: float

    @classmethod
    def of(cls, space: float) -> Spacing:
        """The spacing for a word space of this natural width.

        In the proportion of Knuth and Plass's examples: a space of a third of an em stretches by a
        sixth and shrinks by a ninth.
        """
        return cls(space / 2, space / 3)


_HYPHEN_PENALTY = 50.0
_DOUBLE_HYPHEN_DEMERITS = 3000.0
"""Knuth and Plass's own values, from memory. Their demerits for neighbouring lines of different
tightness are left out: they change where a line breaks, hardly ever how many lines there are."""

_INFINITE_BADNESS = 10_000.0
_OVERFULL_BADNESS = 1e8

_UNHYPHENATED_RATIO = 2.0 ** (1 / 3)
_HYPHENATED_RATIO = 3.0
ANY_RATIO = inf
"""How many times its stretch a line may take in each pass. The first is TeX's own tolerance, a
badness of 200; the second lets more through, as measures of 55 to 65 characters with spaces of a
quarter em need it."""


def first_fit(galley: Galley, measure: float, indent: float, *, hyphenate: bool) -> list[Rank]:
    """Break into lines of `measure` points, the first shorter by `indent`, each as full as can be.

    A piece that is wider than the measure stands alone on its line. A negative indent makes the
    first line longer than the rest.
    """
    reach, resume, offsets = galley.reach, galley.resume, galley.offsets
    last = len(offsets) - 1
    ranks: list[Rank] = []
    at, begins, spaces_before, offset = 0, -indent, 0, 0
    while True:
        limit = begins + measure + _HAIR
        fits = bisect_right(reach, limit, at + 1) - 1
        if fits >= last:
            break
        hyphen = None
        if hyphenate:
            for place in galley.hyphens(fits + 1):
                if place[0] > offset and place[1] <= limit:
                    hyphen = place
        if hyphen is not None:
            offset, reached, resumed = hyphen
            spaces = galley.resume_spaces[fits]
            ranks.append(Rank(offset, reached - begins, spaces - spaces_before, Ending.SET_HYPHEN))
            at, begins, spaces_before = fits, resumed, spaces
            continue
        at = max(fits, at + 1)
        if at >= last:
            break
        offset = offsets[at]
        spaces = galley.spaces[at]
        ranks.append(Rank(offset, reach[at] - begins, spaces - spaces_before, galley.endings[at]))
        begins, spaces_before = resume[at], galley.resume_spaces[at]
    ranks.append(
        Rank(offsets[last], reach[last] - begins, galley.spaces[last] - spaces_before, Ending.PLAIN)
    )
    return [ranks[0]._replace(width=ranks[0].width - indent), *ranks[1:]]


def optimum_fit(galley: Galley, measure: float, indent: float, *, hyphenate: bool) -> list[Rank]:
    """Break into lines as `first_fit` does, but so that their demerits together are the least.

    As in TeX there are up to three passes, each taken where the one before has no answer: without
    hyphens and with no line much looser than its stretch; with hyphens, and looser; and as loose
    as need be.
    """
    spacing = Spacing.of(galley.space)
    numbers = least_demerits(galley, measure, indent, spacing, _UNHYPHENATED_RATIO)
    if not numbers and hyphenate:
        galley = galley.with_hyphens()
        numbers = least_demerits(galley, measure, indent, spacing, _HYPHENATED_RATIO)
    if not numbers:
        numbers = least_demerits(galley, measure, indent, spacing, ANY_RATIO)
    ranks = []
    before = 0
    for number in numbers:
        ranks.append(
            Rank(
                galley.offsets[number],
                galley.reach[number] - galley.resume[before],
                galley.spaces[number] - galley.resume_spaces[before],
                galley.endings[number],
            )
        )
        before = number
    return ranks


def total_demerits(ranks: Sequence[Rank], measure: float, indent: float, spacing: Spacing) -> float:
    """What the lines of a paragraph cost together: the measure of how well it is broken."""
    total, before = 0.0, Ending.PLAIN
    for number, rank in enumerate(ranks):
        slack = measure - (indent if number == 0 else 0.0) - rank.width
        last = number == len(ranks) - 1
        total += _demerits(slack, rank.spaces, rank.ending, before, last, spacing)
        before = rank.ending
    return total


def _demerits(
    slack: float, spaces: int, ending: Ending, before: Ending, last: bool, spacing: Spacing
) -> float:
    """What a line costs that is `slack` points too short for the measure at its natural width.

    `before` is how the line above it ends. A last line is not stretched.
    """
    if slack > _HAIR:
        ratio = 0.0 if last else slack / (spaces * spacing.stretch) if spaces else ANY_RATIO
        badness = min(100.0 * ratio**3, _INFINITE_BADNESS)
    elif slack >= -_HAIR:
        badness = 0.0
    elif -slack <= spaces * spacing.shrink + _HAIR:
        badness = 100.0 * (-slack / (spaces * spacing.shrink)) ** 3
    else:
        badness = _OVERFULL_BADNESS
    if not ending:
        return (1.0 + badness) ** 2
    cost = (1.0 + badness + _HYPHEN_PENALTY) ** 2
    return cost + _DOUBLE_HYPHEN_DEMERITS if before else cost


def least_demerits(
    galley: Galley,
    measure: float,
    indent: float,
    spacing: Spacing,
    loosest: float = ANY_RATIO,
) -> list[int]:
    """The numbers of the breaks that end lines, the paragraph's end included.

    Empty if there is no way without a line whose ratio is above `loosest`. With any ratio allowed
    there always is one: a piece wider than the measure then stands alone.
    """
    reach, resume = galley.reach, galley.resume
    spaces, resume_spaces, endings = galley.spaces, galley.resume_spaces, galley.endings
    last = len(reach) - 1
    # Whether a line from one break to another can be shrunk, or stretched, to the measure is a sum
    # of what each break alone gives, so the breaks where it can be are found by halving.
    shrink = spacing.shrink
    tight = [x - shrink * n for x, n in zip(reach, spaces, strict=True)]
    tight_resume = [x - shrink * n for x, n in zip(resume, resume_spaces, strict=True)]
    bounded = loosest < ANY_RATIO
    most = spacing.stretch * loosest if bounded else 0.0
    loose = [x + most * n for x, n in zip(reach, spaces, strict=True)]
    loose_resume = [x + most * n for x, n in zip(resume, resume_spaces, strict=True)]

    best = [inf] * (last + 1)
    came_from = [0] * (last + 1)
    best[0] = 0.0
    for start, so_far in enumerate(best):
        if so_far == inf or start == last:
            continue
        room = measure - indent if start == 0 else measure
        before, spaces_before, full = endings[start], resume_spaces[start], resume[start] + room
        stop = bisect_right(tight, tight_resume[start] + room + _HAIR, start + 1)
        if bounded:
            first = bisect_left(loose, loose_resume[start] + room - _HAIR, start + 1, stop)
        else:
            first = start + 1
            stop = max(stop, first + 1)
        if stop > last:
            first = min(first, last)  # a last line may be as short as it likes
        for end in range(first, stop):
            cost = so_far + _demerits(
                full - reach[end],
                spaces[end] - spaces_before,
                endings[end],
                before,
                end == last,
                spacing,
            )
            if cost < best[end]:
                best[end], came_from[end] = cost, start
    if best[last] == inf:
        return []
    numbers = [last]
    while came_from[numbers[-1]]:
        numbers.append(came_from[numbers[-1]])
    return numbers[::-1]
