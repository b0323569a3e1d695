"""What an edit does to positions, so that whatever is tied to the text can ride on it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Lean(Enum):
    """Which way a position goes when text is set exactly where it stands, or around it."""

    BACK = "back"
    FORWARD = "forward"


@dataclass(frozen=True, slots=True)
class Replacement:
    """Code points `start` up to `end` of the old text gave way to `length` new ones."""

    start: int
    end: int
    length: int


@dataclass(frozen=True, slots=True)
class Change:
    """Replacements in one text, in order and apart from one another.

    It knows positions and no words. A position where text is inserted, or inside text that is
    replaced, has no single place in the new text: leaning back it stands before what was set,
    leaning forward behind it. Raises ValueError if replacements are out of order or overlap.
    """

    replacements: tuple[Replacement, ...] = ()

    def __post_init__(self) -> None:
        reached = 0
        for replacement in self.replacements:
            if not reached <= replacement.start <= replacement.end or replacement.length < 0:
                raise ValueError("replacements must be in order and must not overlap")
            reached = replacement.end

    @classmethod
    def at(cls, start: int, end: int, length: int) -> Change:
        """One replacement."""
        return cls((Replacement(start, end, length),))

    @classmethod
    def between(cls, old: str, new: str) -> Change:
        """The smallest single replacement that turns `old` into `new`: what one keystroke did."""
        if old == new:
            return cls()
        shorter = min(len(old), len(new))
        start = _common_prefix(old, new, shorter)
        rest_old, rest_new = old[start:], new[start:]
        back = _common_prefix(rest_old[::-1], rest_new[::-1], shorter - start)
        return cls.at(start, len(old) - back, len(new) - back - start)

    def carry(self, position: int, lean: Lean) -> int:
        """Where `position` of the old text stands in the new one."""
        shift = 0
        for replacement in self.replacements:
            if position < replacement.start:
                break
            insertion = replacement.start == replacement.end
            if position == replacement.start and not (insertion and lean is Lean.FORWARD):
                break
            if position < replacement.end:
                inside = replacement.start + shift
                return inside if lean is Lean.BACK else inside + replacement.length
            shift += replacement.length - (replacement.end - replacement.start)
        return position + shift

    def carry_span(self, start: int, end: int) -> tuple[int, int]:
        """Where a span stands: text set at its edges stays outside; one whose words are all gone
        is left empty at the nearest place.
        """
        new_start = self.carry(start, Lean.FORWARD)
        new_end = self.carry(end, Lean.BACK)
        if new_start <= new_end:
            return new_start, new_end
        return new_end, new_end

    def touches(self, start: int, end: int) -> bool:
        """Whether anything within the span, or set between its characters, was replaced."""
        return any(
            replacement.start < end and replacement.end > start for replacement in self.replacements
        )


def _common_prefix(one: str, other: str, limit: int) -> int:
    # Halving finds the first difference with whole-slice comparisons, far faster than a loop.
    low, high = 0, limit
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low
