"""What a book does in more than one way, added up scene by scene and kept.

An overlay that weighs one place against the whole book says for each paragraph which questions are
answered there and how (its uses): "grey or gray" is answered "grey". A `Tally` adds them up. The
next one is made from the one before, and only scenes whose text has changed are read again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

RARE = 0.34
"""The share of all places up to which a way is the rarer one; beyond it the book has no way of its
own (our own figure)."""


@dataclass(frozen=True, slots=True)
class Use:
    """One place where the book chose: the question, the way it went, and what stands there.

    `start` and `end` are code points of the text it was found in: the paragraph for the overlay
    that finds it, the scene in a tally.
    """

    question: str
    way: str
    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class _Counted:
    """A scene's uses, and the text that has them."""

    passage: Passage
    uses: tuple[Use, ...]


class Tally:
    """How often a book goes which way, and where. A value: an edit makes another."""

    def __init__(self) -> None:
        """A tally of nothing; `recounted` makes all others."""
        self._scenes: Mapping[str, _Counted] = {}
        self._ways: Mapping[str, Mapping[str, int]] = {}

    def recounted(self, scenes: Iterable[Scene], uses: Callable[[Scene], Iterable[Use]]) -> Tally:
        """The tally of these scenes, in this order. `uses` gives those of one scene, and is asked
        only for scenes whose text is not the one that this tally has.
        """
        counted: dict[str, _Counted] = {}
        for scene in scenes:
            kept = self._scenes.get(scene.id)
            if kept is None or kept.passage is not scene.passage:
                kept = _Counted(scene.passage, tuple(uses(scene)))
            counted[scene.id] = kept
        if list(counted.items()) == list(self._scenes.items()):
            return self
        made = Tally()
        made._scenes = counted
        made._ways = _added(self._ways, self._scenes, counted)
        return made

    def ways(self, question: str) -> Mapping[str, int]:
        """How often each way was gone that answers a question; empty for one never asked."""
        return self._ways.get(question, {})

    @property
    def questions(self) -> Mapping[str, Mapping[str, int]]:
        """Every question with its ways."""
        return self._ways

    def first(self, question: str) -> Use | None:
        """Where a question is answered first, in the order of the scenes."""
        return next(self.places(question), None)

    def places(self, question: str) -> Iterator[Use]:
        """Where a question is answered, in order."""
        if question in self._ways:
            for counted in self._scenes.values():
                for use in counted.uses:
                    if use.question == question:
                        yield use

    def in_scene(self, scene_id: str) -> tuple[Use, ...]:
        """The uses of a scene, with positions in its text."""
        counted = self._scenes.get(scene_id)
        return counted.uses if counted else ()


def _added(
    before: Mapping[str, Mapping[str, int]],
    old: Mapping[str, _Counted],
    new: Mapping[str, _Counted],
) -> dict[str, Mapping[str, int]]:
    """`before`, which adds up `old`, brought to what `new` adds up to."""
    change: Counter[tuple[str, str]] = Counter()
    for scenes, others, sign in ((old, new, -1), (new, old, 1)):
        for scene_id, counted in scenes.items():
            if others.get(scene_id) is not counted:
                for use in counted.uses:
                    change[use.question, use.way] += sign
    ways: dict[str, Mapping[str, int]] = dict(before)
    changed: dict[str, dict[str, int]] = {}
    for (question, way), by in change.items():
        if by:
            counts = changed.setdefault(question, dict(ways.get(question, {})))
            counts[way] = counts.get(way, 0) + by
    for question, counts in changed.items():
        left = {way: count for way, count in counts.items() if count}
        if left:
            ways[question] = left
        else:
            del ways[question]
    return ways


def moved(use: Use, by: int) -> Use:
    """The use, so many code points further on."""
    # Written out, as `dataclasses.replace` takes five times as long, for every use of a scene.
    return Use(use.question, use.way, use.start + by, use.end + by, use.text) if by else use


def commoner(use: Use, tally: Tally, most: float = RARE) -> str | None:
    """The way that the book goes where this place goes a rarer one; None where it goes the common
    way itself, or the rarer ways make up more than the share `most`.
    """
    common = commoner_of(tally.ways(use.question), most)
    return None if use.way == common else common


def commoner_of(ways: Mapping[str, int], most: float = RARE) -> str | None:
    """The way gone most often of two or more, if the others make up no more than the share `most`;
    else None.
    """
    if len(ways) < 2:
        return None
    common = max(ways, key=lambda way: (ways[way], way))
    whole = sum(ways.values())
    return common if whole - ways[common] <= most * whole else None
