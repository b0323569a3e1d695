"""A galley: a paragraph set as one endless line, with every place where that line may be broken.

(A galley is the tray that set type waits in before it is made up into lines of a page.) The
breakers in `breaking` see numbers only; this is where text becomes those numbers.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from itertools import pairwise

from reglet.setting.fount import Division, Fount, Word
from reglet.setting.hyphenation import LEAST_LETTERS

Run = tuple[int, Fount]
"""Where a stretch of text in one fount begins, and the fount. Runs stand in order; the first
begins at 0."""


class Ending(IntEnum):
    """What a line that ends at a break ends with."""

    PLAIN = 0
    OWN_HYPHEN = 1
    SET_HYPHEN = 2


@dataclass(slots=True)
class Galley:
    """The breaks of one paragraph, in order, as lists of one length.

    Number 0 is the paragraph's start, the last its end. `offsets` is the code point where the next
    line begins. The rest is measured from the start: `reach` is how far a line that ends at this
    break reaches, in points, and `resume` where the next line begins, the space at the break left
    out; `spaces` counts the spaces before the break, `resume_spaces` those before the next line.
    """

    text: str
    runs: Sequence[Run]
    offsets: list[int] = field(default_factory=lambda: [0])
    reach: list[float] = field(default_factory=lambda: [0.0])
    resume: list[float] = field(default_factory=lambda: [0.0])
    spaces: list[int] = field(default_factory=lambda: [0])
    resume_spaces: list[int] = field(default_factory=lambda: [0])
    endings: list[Ending] = field(default_factory=lambda: [Ending.PLAIN])

    @classmethod
    def of(cls, text: str, runs: Sequence[Run]) -> Galley:
        """Set `text`, which holds no line break.

        Spaces together count as one, a tab as a space (common practice).
        """
        galley = cls(text.replace("\t", " "), runs)
        galley._set_words()
        return galley

    @property
    def space(self) -> float:
        """The width of the paragraph's word space, in points, before any stretching."""
        return self.runs[0][1].space

    def hyphens(self, number: int) -> list[tuple[int, float, float]]:
        """The places for a hyphen between breaks `number - 1` and `number`: for each the offset,
        the reach with the hyphen, and where the next line resumes.

        None in a word that stands in two founts, or is kept together with another.
        """
        start, end = self.offsets[number - 1], self.offsets[number]
        piece = self.text[start:end].strip(" ")
        if len(piece) < LEAST_LETTERS or " " in piece:
            return []
        start = self.text.index(piece, start)
        fount = self._only_fount(start, start + len(piece))
        if fount is None:
            return []
        begins, ends = self.resume[number - 1], self.reach[number]
        return [
            (start + offset, begins + before, ends - after)
            for offset, before, after, _ in fount.hyphens[piece]
        ]

    def with_hyphens(self) -> Galley:
        """This galley with every place for a hyphen among its breaks."""
        full = Galley(self.text, self.runs, [], [], [], [], [], [])
        copied = 0
        for number, (start, end) in enumerate(pairwise(self.offsets), 1):
            if end - start < LEAST_LETTERS:
                continue
            for offset, reach, resume in self.hyphens(number):
                full._copy(self, copied, number)
                copied = number
                spaces = self.resume_spaces[number - 1]
                full._add(offset, reach, resume, spaces, spaces, Ending.SET_HYPHEN)
        full._copy(self, copied, len(self.offsets))
        return full

    def _copy(self, other: Galley, first: int, stop: int) -> None:
        self.offsets += other.offsets[first:stop]
        self.reach += other.reach[first:stop]
        self.resume += other.resume[first:stop]
        self.spaces += other.spaces[first:stop]
        self.resume_spaces += other.resume_spaces[first:stop]
        self.endings += other.endings[first:stop]

    def _add(
        self,
        offset: int,
        reach: float,
        resume: float,
        spaces: int,
        resume_spaces: int,
        ending: Ending,
    ) -> None:
        self.offsets.append(offset)
        self.reach.append(reach)
        self.resume.append(resume)
        self.spaces.append(spaces)
        self.resume_spaces.append(resume_spaces)
        self.endings.append(ending)

    def _set_words(self) -> None:
        # The one loop that sees every word of a book, so it looks words up itself.
        only = self.runs[0][1] if len(self.runs) == 1 else None
        space = self.space
        offset, x, spaces = 0, 0.0, 0
        may_break = first = True
        for text in self.text.split(" "):
            if not text:
                offset += 1
                continue
            width, divisions, clings_back, clings_on = (
                only.words[text] if only else self._word(offset, text)
            )
            if first:
                first = False
            else:
                if may_break and not clings_back:
                    self.offsets.append(offset)
                    self.reach.append(x)
                    self.resume.append(x + space)
                    self.spaces.append(spaces)
                    self.resume_spaces.append(spaces + 1)
                    self.endings.append(Ending.PLAIN)
                x += space
                spaces += 1
            if divisions:
                self._divide(divisions, offset, x, x + width, spaces)
            x += width
            offset += len(text) + 1
            may_break = not clings_on
        self._add(len(self.text), x, x, spaces, spaces, Ending.PLAIN)

    def _divide(
        self, divisions: Sequence[Division], offset: int, begins: float, ends: float, spaces: int
    ) -> None:
        for division in divisions:
            ending = Ending.OWN_HYPHEN if division.hyphen else Ending.PLAIN
            reach, resume = begins + division.before, ends - division.after
            self._add(offset + division.offset, reach, resume, spaces, spaces, ending)

    def _word(self, start: int, text: str) -> Word:
        fount = self._only_fount(start, start + len(text))
        if fount is not None:
            return fount.words[text]
        whole = self._first_fount(start).words[text]
        width = self._mixed_width(start, start + len(text))
        divisions = tuple(
            division._replace(
                before=self._mixed_width(start, start + division.offset),
                after=self._mixed_width(start + division.offset, start + len(text)),
            )
            for division in whole.divisions
        )
        return whole._replace(width=width, divisions=divisions)

    def _run_at(self, offset: int) -> int:
        return bisect_right(self.runs, offset, key=_begins) - 1

    def _first_fount(self, offset: int) -> Fount:
        return self.runs[self._run_at(offset)][1]

    def _only_fount(self, start: int, end: int) -> Fount | None:
        if len(self.runs) == 1:
            return self.runs[0][1]
        number = self._run_at(start)
        return self.runs[number][1] if number == self._run_at(end - 1) else None

    def _mixed_width(self, start: int, end: int) -> float:
        width = 0.0
        for number in range(self._run_at(start), self._run_at(end - 1) + 1):
            begins, fount = self.runs[number]
            stops = self.runs[number + 1][0] if number + 1 < len(self.runs) else end
            width += fount.width(self.text[max(start, begins) : min(end, stops)])
        return width


def _begins(run: Run) -> int:
    return run[0]
