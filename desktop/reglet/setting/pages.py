"""Paragraphs made up into pages or screens.

Common practice of book typesetting: no paragraph leaves a single line alone at the foot of a page
or sends one to the head of the next; a page rather ends a line short. A chapter begins a page, its
heading sunk. A phone's text scrolls, so there each screen simply follows where the last one ended.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reglet.manuscript.paragraph import Paragraph, Style
from reglet.setting.lines import Line, lines
from reglet.setting.sheet import MANNERS, Medium, Sheet

_TOGETHER = 2
"""Lines of a paragraph that stay together at the foot and at the head of a page."""
_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Piece:
    """Lines of one paragraph that stand on one page.

    `paragraph` counts from 0 in what was made up; `first` is the number of the first of `lines`
    within that paragraph. `top` is where they begin, in points from the top of the type area, and
    `leading` the height of each.
    """

    paragraph: int
    first: int
    lines: tuple[Line, ...]
    top: float
    leading: float


@dataclass(frozen=True, slots=True)
class Page:
    """One page or screen. `white` is the share of the type area that no line of type covers, a
    line covering its width times its leading; the margins are not counted.
    """

    pieces: tuple[Piece, ...]
    white: float


def pages(paragraphs: Iterable[Paragraph], sheet: Sheet) -> tuple[Page, ...]:
    """Make `paragraphs` up into pages of `sheet`; no pages for no paragraphs.

    Raises faces.MissingFace.
    """
    making = _MakeUp(sheet)
    for number, paragraph in enumerate(paragraphs):
        making.put(number, paragraph)
    return making.finished()


def page_at(made_up: Sequence[Page], paragraph: int, offset: int) -> int:
    """The number, from 0, of the page where code point `offset` of `paragraph` stands.

    `paragraph` counts as in `Piece`; a place beyond all text is on the last page.
    """
    return max(0, bisect_right(made_up, (paragraph, offset), key=_begins) - 1)


def _begins(page: Page) -> tuple[int, int]:
    first = page.pieces[0]
    return first.paragraph, first.lines[0].start


class _MakeUp:
    """The page that is being filled, and those that are full."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._paged = sheet.medium is not Medium.PHONE
        self._full: list[Page] = []
        self._pieces: list[Piece] = []
        self._reached = 0.0
        self._style: Style | None = None
        self._only_headings = True

    def put(self, number: int, paragraph: Paragraph) -> None:
        """Put the next paragraph where the last one ended."""
        manner = MANNERS[paragraph.style]
        leading = self._sheet.leading * manner.scale
        if self._paged and paragraph.style is Style.HEADING and not self._only_headings:
            self._turn()
        self._leave_space(paragraph.style)
        set_lines = lines(paragraph, self._sheet)
        first = 0
        while first < len(set_lines):
            room = int((self._sheet.depth - self._reached + _HAIR) / leading)
            count = self._settled(len(set_lines) - first, room)
            if count:
                here = set_lines[first : first + count]
                self._pieces.append(Piece(number, first, here, self._reached, leading))
                self._reached += count * leading
                first += count
            if first < len(set_lines):
                self._turn()
        self._style = paragraph.style
        self._only_headings = self._only_headings and paragraph.style is Style.HEADING

    def finished(self) -> tuple[Page, ...]:
        """All pages."""
        if self._pieces:
            self._turn()
        return tuple(self._full)

    def _leave_space(self, style: Style) -> None:
        if not self._pieces:
            if self._paged and style is Style.HEADING:
                self._reached = self._sheet.sink * self._sheet.leading
        elif style is not self._style and self._style is not None:
            lines_between = max(MANNERS[style].space, MANNERS[self._style].space)
            self._reached += lines_between * self._sheet.leading

    def _settled(self, count: int, room: int) -> int:
        """How many of `count` lines go on this page, where `room` would."""
        if count <= room:
            return count
        if self._paged:
            fit = min(room, count - _TOGETHER)
            fit = fit if fit >= _TOGETHER else 0
        else:
            fit = max(0, room)
        if fit or self._pieces:
            return fit
        return max(1, min(room, count))  # an empty page that is too small for any rule

    def _turn(self) -> None:
        covered = sum(line.width * piece.leading for piece in self._pieces for line in piece.lines)
        area = self._sheet.measure * self._sheet.depth
        self._full.append(Page(tuple(self._pieces), max(0.0, 1.0 - covered / area)))
        self._pieces = []
        self._reached = 0.0
        self._only_headings = True
