"""Where the scenes of a book stand from left to right in a drawing of the whole book."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from reglet.story.views import ScenePlace

_CHAPTER_GAP = 12.0
_MOST_GAPS = 0.16
"""The share of the width that the gaps between chapters take at most."""
_EVEN = 0.55
"""How much of a scene's width is the same for all; the rest goes by its length."""
_LONGEST = 4.0
"""Lengths beyond this many times the mean make a column no wider."""


@dataclass(frozen=True)
class SceneColumns:
    """Columns of scenes between `left` and `right`, in pixels, wider for longer scenes, with a gap
    before each chapter.
    """

    scenes: Sequence[ScenePlace]
    words: Sequence[int]
    left: float
    right: float

    @cached_property
    def edges(self) -> tuple[tuple[float, float], ...]:
        """The left and right edge of each column."""
        count = len(self.scenes)
        if not count:
            return ()
        opens = sum(each.opens_chapter for each in self.scenes[1:])
        width = max(1.0, self.right - self.left)
        gap = min(_CHAPTER_GAP, _MOST_GAPS * width / opens) if opens else 0.0
        mean = sum(self.words) / count or 1.0
        weights = [_EVEN + (1 - _EVEN) * min(_LONGEST, words / mean) for words in self.words]
        scale = (width - gap * opens) / sum(weights)
        found, x = [], self.left
        for at, (scene, weight) in enumerate(zip(self.scenes, weights, strict=True)):
            if at and scene.opens_chapter:
                x += gap
            found.append((x, x + weight * scale))
            x += weight * scale
        return tuple(found)

    def middle(self, at: int) -> float:
        """The middle of a column."""
        left, right = self.edges[at]
        return (left + right) / 2

    def at(self, x: float) -> int:
        """The scene whose column is nearest to `x`; -1 in an empty book."""
        if not self.edges:
            return -1
        return max(0, bisect_right([left for left, _ in self.edges], x) - 1)

    def slot(self, x: float) -> int:
        """Before which scene something let go at `x` would go: 0 to the number of scenes."""
        return sum(self.middle(at) < x for at in range(len(self.scenes)))

    @property
    def step(self) -> float:
        """The width of a column, on the average."""
        return (self.right - self.left) / max(1, len(self.scenes))
