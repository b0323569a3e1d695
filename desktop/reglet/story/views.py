"""The whole-book views as plain data: what is drawn, from facts, and nothing of how.

Each view has one entry for each scene of the book's chapters, in telling order, in
`scenes`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from statistics import median

from reglet.manuscript.book import Book
from reglet.story.contradictions import Contradiction
from reglet.story.eyes import Eyes
from reglet.story.facts import StoryFacts
from reglet.story.hops import Hop, hops
from reglet.story.names import title_of


@dataclass(frozen=True, slots=True)
class ScenePlace:
    """A scene in a view: its id and title, and its chapter's id and title. `opens_chapter` says
    that it is the first of its chapter.
    """

    scene: str
    title: str
    chapter: str
    chapter_title: str
    opens_chapter: bool


def scene_places(book: Book) -> tuple[ScenePlace, ...]:
    """The scenes of the chapters in telling order."""
    return tuple(
        ScenePlace(scene.id, scene.title, chapter.id, chapter.title, index == 0)
        for chapter in book.chapters
        for index, scene in enumerate(chapter.scenes)
    )


@dataclass(frozen=True)
class Lengths:
    """Scene lengths in words. `middle` is the median of the scenes that have text; `long` and
    `short` are the places of those more than 2.2 times as long, or less than 1/2.2 (the same
    measure as the overlay `scene_length` has by default).
    """

    scenes: tuple[ScenePlace, ...]
    words: tuple[int, ...]
    middle: float
    long: frozenset[int]
    short: frozenset[int]


FAR, FEWEST_SCENES = 2.2, 5
"""How many times the median is far, and from how many scenes on that is told (our own figures)."""


def lengths(facts: StoryFacts) -> Lengths:
    """Scene lengths in order, outliers marked from five scenes on."""
    words = tuple(each.words for each in facts.scenes)
    written = [count for count in words if count]
    middle = median(written) if written else 0.0
    told = len(written) >= FEWEST_SCENES
    return Lengths(
        scene_places(facts.book),
        words,
        middle,
        frozenset(i for i, count in enumerate(words) if told and count > FAR * middle),
        frozenset(i for i, count in enumerate(words) if told and 0 < count < middle / FAR),
    )


@dataclass(frozen=True)
class Row:
    """A person or a thread across the scenes: how often each scene has it.

    `gaps` are pairs of places, the last before a long absence and the first after it.
    `left_open` says that a thread is raised and never touched again, `proposed` that the program
    found it and the writer has not confirmed it.
    """

    name: str
    counts: tuple[int, ...]
    gaps: tuple[tuple[int, int], ...]
    left_open: bool = False
    proposed: bool = False

    @property
    def first(self) -> int:
        """The place of the first scene that has it."""
        return next(i for i, count in enumerate(self.counts) if count)

    @property
    def last(self) -> int:
        """The place of the last scene that has it."""
        return len(self.counts) - 1 - next(i for i, c in enumerate(self.counts[::-1]) if c)


@dataclass(frozen=True)
class Across:
    """Threads and people across scenes, those of the book's own lists first."""

    scenes: tuple[ScenePlace, ...]
    threads: tuple[Row, ...]
    people: tuple[Row, ...]


def across(facts: StoryFacts, people: int = 24) -> Across:
    """Threads, and the people named most (`people` of them at most, and all that the writer put in
    the cast), across scenes. What a scene's sheet says of who is in it counts as being named once.
    """
    total = len(facts.scenes)
    threads = []
    for found in (*facts.trails, *facts.proposed_trails):
        counts = [0] * total
        for touch in found.touches:
            counts[touch.index] = touch.count
        if found.touches:
            gaps = tuple((a.index, b.index) for a, b in found.gaps)
            threads.append(
                Row(
                    found.thread.name,
                    tuple(counts),
                    gaps,
                    found.left_open or found.proposed,
                    found.proposed,
                )
            )
    rows: list[Row] = []
    for member in facts.cast:
        if not member.confirmed and len(rows) >= people:
            continue
        counts = [0] * total
        for scene_id, count in member.scenes.items():
            counts[facts.places[scene_id]] = count
        for index, each in enumerate(facts.scenes):
            if not counts[index] and set(each.scene.sheet.who) & set(member.forms):
                counts[index] = 1
        if any(counts):
            row = Row(member.name, tuple(counts), absences(counts), proposed=not member.confirmed)
            rows.append(row)
    return Across(scene_places(facts.book), tuple(threads), tuple(rows))


def absences(counts: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Where somebody is away for long: for more than a quarter of the scenes, and for ten."""
    here = [index for index, count in enumerate(counts) if count]
    least = max(10, len(counts) / 4)
    return tuple((a, b) for a, b in pairwise(here) if b - a - 1 >= least)


@dataclass(frozen=True)
class EyesInOrder:
    """Whose eyes each scene is seen through ("" where the text does not show it), with the places
    where another mind is looked into.
    """

    scenes: tuple[ScenePlace, ...]
    eyes: tuple[Eyes, ...]
    hops: tuple[tuple[Hop, ...], ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Those whose eyes they are, in the order they first open."""
        return tuple(dict.fromkeys(each.name for each in self.eyes if each.name))

    @cached_property
    def letters(self) -> Mapping[str, str]:
        """For each of `names` as few of its first letters, titles aside, as tell it from those
        before it.
        """
        found: dict[str, str] = {}
        for name in self.names:
            bare = name.removeprefix(f"{title_of(name)} ")
            lengths = (size for size in range(1, len(bare)) if bare[:size] not in found.values())
            found[name] = bare[: next(lengths, len(bare))]
        return found


def eyes_in_order(facts: StoryFacts) -> EyesInOrder:
    """Whose eyes, in order."""
    return EyesInOrder(scene_places(facts.book), facts.eyes, tuple(map(hops, facts.eyes)))


@dataclass(frozen=True)
class TimeAgainstTelling:
    """The day of the story for each scene (None: not said), and what is said of it.

    `jumps_back` are the places of scenes that happen before the last dated one told before them.
    """

    scenes: tuple[ScenePlace, ...]
    days: tuple[int | None, ...]
    labels: tuple[str, ...]
    jumps_back: frozenset[int]
    contradictions: tuple[Contradiction, ...]


def time_against_telling(facts: StoryFacts) -> TimeAgainstTelling:
    """Story time against telling order."""
    back = set()
    last: int | None = None
    for index, day in enumerate(facts.days):
        if day is None:
            continue
        if last is not None and day < last:
            back.add(index)
        last = day
    return TimeAgainstTelling(
        scene_places(facts.book),
        facts.days,
        tuple(each.label for each in facts.times),
        frozenset(back),
        facts.contradictions,
    )


@dataclass(frozen=True)
class Dialogue:
    """The share of each scene's words that are spoken, from 0 to 1, and the middle share."""

    scenes: tuple[ScenePlace, ...]
    shares: tuple[float, ...]
    middle: float


def dialogue(facts: StoryFacts) -> Dialogue:
    """Dialogue and narration, scene by scene."""
    shares = tuple(each.dialogue for each in facts.scenes)
    told = [each.dialogue for each in facts.scenes if each.words]
    return Dialogue(scene_places(facts.book), shares, median(told) if told else 0.0)


@dataclass(frozen=True)
class Pace:
    """Mean sentence length in words and scene length in words, each smoothed over neighbours: where
    both fall, the book quickens.
    """

    scenes: tuple[ScenePlace, ...]
    sentences: tuple[float, ...]
    words: tuple[float, ...]


def pace(facts: StoryFacts) -> Pace:
    """The pace, smoothed."""
    return Pace(
        scene_places(facts.book),
        smoothed([each.sentence_mean for each in facts.scenes]),
        smoothed([float(each.words) for each in facts.scenes]),
    )


_WEIGHTS = (1, 4, 6, 4, 1)


def smoothed(values: Sequence[float]) -> tuple[float, ...]:
    """Each value with its neighbours, two to either side, by binomial weights (1 4 6 4 1); at the
    ends those that are there. A value of 0 (an empty scene) is left out and stays 0.
    """
    found = []
    for index, value in enumerate(values):
        near = [
            (weight, values[index + step - 2])
            for step, weight in enumerate(_WEIGHTS)
            if 0 <= index + step - 2 < len(values) and values[index + step - 2]
        ]
        total = sum(weight for weight, _ in near)
        found.append(sum(weight * each for weight, each in near) / total if value else 0.0)
    return tuple(found)


View = Lengths | Across | EyesInOrder | TimeAgainstTelling | Dialogue | Pace


def all_views(facts: StoryFacts) -> tuple[View, ...]:
    """Every view, in the order the writer sees them."""
    return (
        lengths(facts),
        across(facts),
        eyes_in_order(facts),
        time_against_telling(facts),
        dialogue(facts),
        pace(facts),
    )
