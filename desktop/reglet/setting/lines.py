"""A paragraph as lines: where each begins and ends, and how it stands on the sheet."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, SpanKind
from reglet.setting.breaking import Rank, Spacing, first_fit, optimum_fit
from reglet.setting.fount import fount
from reglet.setting.galley import Ending, Galley, Run
from reglet.setting.sheet import MANNERS, Align, Sheet


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a paragraph, as it stands on the sheet.

    It holds the code points `start` up to `end` of the paragraph's text, with the spaces or the
    line break that it ends with: lines follow one another without a gap. `left` is where its words
    begin, in points from the left edge of the measure, `width` how wide they stand, and `gap` what
    is added to each space (taken off, where negative) to justify it. `hyphenated`: a hyphen that
    is not in the text is set at its end.
    """

    start: int
    end: int
    left: float
    width: float
    gap: float
    hyphenated: bool


@lru_cache(maxsize=16_384)
def lines(paragraph: Paragraph, sheet: Sheet) -> tuple[Line, ...]:
    """The lines of `paragraph` on `sheet`: one at the least, as an empty paragraph takes a line.

    Answers are remembered, so that a book is broken anew only where it has changed. Raises
    faces.MissingFace.
    """
    manner = MANNERS[paragraph.style]
    indent = manner.indent * sheet.indent * sheet.size
    first, hang = max(0.0, indent), max(0.0, -indent)
    left = manner.left * sheet.size
    measure = sheet.measure - left - manner.right * sheet.size
    hyphenate = sheet.hyphenated and manner.align is Align.TEXT
    justify = sheet.justified and manner.align is Align.TEXT
    fit = optimum_fit if justify and sheet.optimum else first_fit
    runs = _runs(paragraph, sheet, sheet.size * manner.scale)
    spacing = Spacing.of(runs[0][1].space)

    placed: list[Line] = []
    start = 0
    for verse in paragraph.text.split(LINE_BREAK):
        inset = first if start == 0 else 0.0
        galley = Galley.of(verse, _runs_from(runs, start) if start else runs)
        ranks = fit(galley, measure - hang, inset - hang, hyphenate=hyphenate)
        begins, stops = start, start + len(verse) + 1
        for rank in ranks:
            last = rank is ranks[-1]
            ends = min(stops, len(paragraph.text)) if last else start + rank.end
            slack = measure - inset - rank.width
            gap = _gap(rank, slack, spacing, justify and not last)
            shift = slack / 2 if manner.align is Align.CENTRE else 0.0
            placed.append(
                Line(
                    begins,
                    ends,
                    left + inset + shift,
                    rank.width + gap * rank.spaces,
                    gap,
                    rank.ending is Ending.SET_HYPHEN,
                )
            )
            begins, inset = ends, hang
        start = stops
    return tuple(placed)


def _gap(rank: Rank, slack: float, spacing: Spacing, justify: bool) -> float:
    if not rank.spaces or (slack > 0 and not justify):
        return 0.0
    return max(slack / rank.spaces, -spacing.shrink)


def _runs(paragraph: Paragraph, sheet: Sheet, size: float) -> list[Run]:
    edges = sorted({0, *(edge for span in paragraph.spans for edge in (span.start, span.end))})
    runs: list[Run] = []
    for edge in edges:
        here = {span.kind: span.value for span in paragraph.spans if span.start <= edge < span.end}
        set_in = fount(
            sheet.family,
            size,
            sheet.optical(size),
            here.get(SpanKind.LANGUAGE, sheet.language),
            bold=SpanKind.STRONG in here,
            italic=SpanKind.EMPHASIS in here,
            small_capitals=SpanKind.SMALL_CAPITALS in here,
        )
        if not runs or runs[-1][1] is not set_in:
            runs.append((edge, set_in))
    return runs


def _runs_from(runs: Sequence[Run], start: int) -> list[Run]:
    begins = [run[0] for run in runs]
    current = bisect_right(begins, start) - 1
    return [(0, runs[current][1]), *((at - start, set_in) for at, set_in in runs[current + 1 :])]
