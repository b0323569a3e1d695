"""The plan the writer began from, and how what is written has drifted from it."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from statistics import mean, pstdev
from typing import NamedTuple

from reglet.language.frequency import zipf
from reglet.language.lemmas import lemma
from reglet.language.words import words
from reglet.manuscript.book import Book, PlannedScene, fresh_id
from reglet.manuscript.comparison import longest_rising
from reglet.manuscript.scene import Scene

_HEADING = re.compile(r"#+\s+(.*)")
_ITEM = re.compile(r"(?:\d+[.)]|[-*+•])\s+")
_TOO_COMMON = 5.6
"""Zipf value from which a word says nothing of a scene (our own figure)."""
_LIKE_ENOUGH = 0.05
"""Likeness below which a written scene is not the planned one (set on the demo book)."""
_STANDS_OUT = 2.0
"""How many standard deviations above a planned scene's likeness to all written ones its match must
stand: a plan's words are met with everywhere in its own book (set on the demo book)."""
_ORDER = 0.5
"""How much standing at the same place of the book adds to likeness, as a share of it."""


def read_plan(text: str) -> tuple[PlannedScene, ...]:
    """The planned scenes of an outline in plain text or Markdown, in order.

    Each numbered or bulleted line, with the lines that continue it, is a scene; where there is
    none, each paragraph is. Lines that begin with "#" name the chapter.
    """
    listed: list[PlannedScene] = []
    unlisted: list[PlannedScene] = []
    chapter = ""
    for block in re.split(r"\n\s*\n", text.replace("\r\n", "\n")):
        current: list[PlannedScene] | None = None
        for line in filter(None, map(str.strip, block.split("\n"))):
            heading, item = _HEADING.fullmatch(line), _ITEM.match(line)
            if heading:
                chapter, current = heading[1], None
            elif current is None or item:
                current = listed if item else unlisted
                said = line[item.end() :] if item else line
                current.append(PlannedScene(fresh_id("plan"), said, chapter))
            else:
                last = current[-1]
                current[-1] = replace(last, text=f"{last.text} {line}")
    return tuple(listed or unlisted)


@dataclass(frozen=True, slots=True)
class Match:
    """A planned scene and the written one that it has become, by their ids.

    `likeness` is from 0 to 1; `out_of_order` says that it stands elsewhere than planned.
    """

    planned: str
    scene: str
    likeness: float
    out_of_order: bool = False


@dataclass(frozen=True)
class Drift:
    """How what is written differs from the plan."""

    plan: tuple[PlannedScene, ...]
    scenes: tuple[Scene, ...]
    matches: tuple[Match, ...]

    @cached_property
    def missing(self) -> tuple[PlannedScene, ...]:
        """Planned and not written."""
        written = {match.planned for match in self.matches}
        return tuple(each for each in self.plan if each.id not in written)

    @cached_property
    def unplanned(self) -> tuple[Scene, ...]:
        """Written and not planned."""
        planned = {match.scene for match in self.matches}
        return tuple(each for each in self.scenes if each.id not in planned)

    @cached_property
    def out_of_order(self) -> tuple[Match, ...]:
        """Written elsewhere than planned."""
        return tuple(match for match in self.matches if match.out_of_order)


def drift(book: Book) -> Drift:
    """How the book's scenes differ from its plan.

    Planned and written scenes are matched by the words and names they share, each the rarer the
    weightier, and by their place. What the writer has decided (`PlannedScene.decided`) is kept.
    """
    plan, scenes = book.plan, book.scenes
    pairs = _best_pairs(plan, scenes)
    still = set(longest_rising([pair[1] for pair in pairs]))
    matches = tuple(
        Match(plan[i].id, scenes[j].id, likeness, out_of_order=index not in still)
        for index, (i, j, likeness) in enumerate(pairs)
    )
    return Drift(plan, scenes, matches)


def confirm_match(book: Book, planned: str, scene: str | None) -> Book:
    """The book with the writer's word that a planned scene is this written one, or (None) that it
    is not written. A written scene can be one planned scene only: it is taken from any other.

    Raises UnknownThing for a scene that is not in the book.
    """
    if scene is not None:
        book.scene(scene)

    def revised(each: PlannedScene) -> PlannedScene:
        if each.id == planned:
            return replace(each, scene=scene or "", decided=True)
        if scene and each.scene == scene:
            return replace(each, scene="", decided=False)
        return each

    return replace(book, plan=tuple(map(revised, book.plan)))


def undecide_match(book: Book, planned: str) -> Book:
    """The book with what became of a planned scene left to be proposed again."""
    return replace(
        book,
        plan=tuple(
            replace(each, scene="", decided=False) if each.id == planned else each
            for each in book.plan
        ),
    )


def _best_pairs(
    plan: Sequence[PlannedScene], scenes: Sequence[Scene]
) -> list[tuple[int, int, float]]:
    """Pairs of a planned and a written scene, by place in the plan; the likest first taken."""
    if not plan:
        return []
    said = [_sayings(each.text) for each in plan]
    told = [_sayings(f"{each.title} {each.passage.text}") for each in scenes]
    weights = _weights(told)
    places = {scene.id: place for place, scene in enumerate(scenes)}
    taken: dict[int, tuple[int, float]] = {}
    for i, each in enumerate(plan):
        if each.decided and each.scene in places:
            taken[i] = (places[each.scene], 1.0)
    free = [i for i, each in enumerate(plan) if not each.decided]
    used = {j for j, _ in taken.values()}
    ranked: list[tuple[float, int, int]] = []
    for i in free:
        row = [
            _likeness(said[i], scene, weights) * _nearness(i, j, len(plan), len(scenes))
            for j, scene in enumerate(told)
        ]
        least = max(_LIKE_ENOUGH, _outstanding(row))
        ranked += [(likeness, i, j) for j, likeness in enumerate(row) if likeness >= least]
    for likeness, i, j in sorted(ranked, reverse=True):
        if i not in taken and j not in used:
            taken[i] = (j, likeness)
            used.add(j)
    return [(i, *taken[i]) for i in sorted(taken)]


class _Sayings(NamedTuple):
    """How often a text has each word that says something, and how many such words there are."""

    counts: Mapping[str, int]
    total: int


@lru_cache(maxsize=4096)
def _sayings(text: str) -> _Sayings:
    """Kept: a book is compared with its plan anew after each change, and most of its scenes are as
    they were.
    """
    counts = Counter(
        form
        for form in (lemma(word.text) for word in words(text))
        if len(form) > 2 and zipf(form) < _TOO_COMMON
    )
    return _Sayings(counts, counts.total())


def _weights(told: Sequence[_Sayings]) -> dict[str, float]:
    """How much each word says: the rarer among the scenes, the more (inverse document frequency,
    Spärck Jones 1972).
    """
    seen = Counter(word for scene in told for word in scene.counts)
    return {word: math.log(1 + len(told) / count) for word, count in seen.items()}


def _likeness(said: _Sayings, told: _Sayings, weights: Mapping[str, float]) -> float:
    """The share of what the plan says, by weight, that the scene tells; more where it tells it
    often.
    """
    whole = sum(weights.get(word, 0.0) for word in said.counts)
    if not whole:
        return 0.0
    length = 1 + math.log(max(1, told.total))
    counts = told.counts
    return (
        sum(
            weights[word] * (1 + math.log(counts[word])) / length
            for word in said.counts
            if word in counts
        )
        / whole
    )


def _outstanding(row: Sequence[float]) -> float:
    """The likeness from which one of these stands out; among few, less is asked of it, since the
    largest of n numbers cannot be more than (n - 1) / √n standard deviations above their mean.
    """
    if len(row) < 2:
        return 0.0
    most = (len(row) - 1) / math.sqrt(len(row))
    return mean(row) + min(_STANDS_OUT, 0.8 * most) * pstdev(row)


def _nearness(i: int, j: int, planned: int, written: int) -> float:
    apart = abs((i + 0.5) / planned - (j + 0.5) / written)
    return 1 + _ORDER * math.exp(-((apart * 8) ** 2))
