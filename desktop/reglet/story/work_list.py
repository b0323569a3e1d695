"""The work list: what is left to do in the book, as one list in reading order, with what it takes.

It is made of open and answered notes, verdicts on scene sheets, planned scenes that are not written
and the queries of a stage. Nothing of it is stored but the writer's estimates and what they struck.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import NamedTuple

from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book, Estimate
from reglet.manuscript.scene import Verdict
from reglet.manuscript.stage import REVISING, Stage
from reglet.story.plan import drift


class Origin(StrEnum):
    """What an item comes from."""

    NOTE = "note"
    VERDICT = "verdict"
    QUERY = "query"
    PLAN = "plan"


class OpenQuery(NamedTuple):
    """A query of an overlay, as far as the work list needs it: overlays stand above this layer."""

    overlay: str
    scene: str
    start: int
    end: int
    message: str
    stet: bool


_NOTE_MINUTES, _QUERY_MINUTES, _PLAN_MINUTES = 10, 3, 240
"""Minutes an item is taken to need until the writer says otherwise (our own figures)."""
_OF_VERDICT = {
    Verdict.REWORK: ("Rework this scene", 90),
    Verdict.MOVE: ("Move this scene", 15),
    Verdict.MERGE: ("Merge this scene with its neighbour", 30),
    Verdict.CUT: ("Cut this scene", 10),
    Verdict.TO_WRITE: ("Write this scene", 240),
}
"""What a verdict says to do, and minutes it is taken to need; one to keep a scene says nothing."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to do. `id` stays the same as long as the thing does. `scene` is "" for a planned
    scene that is not written; `start` and `end` are code points there. `estimated` says that the
    minutes are the writer's own.
    """

    id: str
    origin: Origin
    scene: str
    start: int
    end: int
    text: str
    minutes: int
    estimated: bool
    done: bool


@dataclass(frozen=True)
class WorkList:
    """The items in reading order; those of scenes that are not written last."""

    items: tuple[Item, ...]

    @property
    def open(self) -> tuple[Item, ...]:
        """What is left to do."""
        return tuple(item for item in self.items if not item.done)

    @property
    def minutes(self) -> int:
        """What the open items take."""
        return sum(item.minutes for item in self.open)


def work_list(book: Book, queries: Iterable[OpenQuery] = ()) -> WorkList:
    """The work list of a book, with the queries of the stage that is worked in.

    A query that the writer let stand, and a verdict to keep a scene, are no work; a note that is
    answered is done.
    """
    estimates = {each.item: each for each in book.schedule.estimates}
    of_scene: dict[str, list[Item]] = {scene.id: [] for scene in book.texts}

    def add(
        item: str,
        origin: Origin,
        scene: str,
        span: tuple[int, int],
        text: str,
        minutes: int,
        done: bool = False,
    ) -> Item:
        said = estimates.get(item, Estimate(item))
        own = said.minutes is not None
        taken = said.minutes if said.minutes is not None else minutes
        return Item(item, origin, scene, *span, text, taken, own, done or said.done)

    for scene in book.texts:
        items = of_scene[scene.id]
        verdict = scene.sheet.verdict
        if verdict in _OF_VERDICT:
            said, usual = _OF_VERDICT[verdict]
            name = f"verdict:{scene.id}:{verdict}"
            items.append(add(name, Origin.VERDICT, scene.id, (0, 0), said, usual))
        for note in scene.notes:
            text = note.text or ": ".join(filter(None, (note.kind, " ".join(note.words.split()))))
            span, name = (note.start, note.end), f"note:{note.id}"
            done = note.answer is not Answer.OPEN
            items.append(add(name, Origin.NOTE, scene.id, span, text, _NOTE_MINUTES, done))
    for query in queries:
        if not query.stet and query.scene in of_scene:
            words = book.scene(query.scene).passage.text[query.start : query.end]
            name = f"query:{query.overlay}:{query.scene}:{words or query.message}"
            span, said = (query.start, query.end), query.message
            of_scene[query.scene].append(
                add(name, Origin.QUERY, query.scene, span, said, _QUERY_MINUTES)
            )
    ordered = [
        item
        for scene in book.texts
        for item in sorted(of_scene[scene.id], key=lambda each: (each.start, each.end))
    ]
    if book.plan:
        ordered += [
            add(
                f"plan:{each.id}",
                Origin.PLAN,
                "",
                (0, 0),
                f"Not written: {each.text}",
                _PLAN_MINUTES,
            )
            for each in drift(book).missing
        ]
    return WorkList(tuple(ordered))


def estimated(book: Book, item: str, minutes: int | None) -> Book:
    """The book with the writer's estimate of an item in minutes, or without it."""
    return _with(book, item, lambda each: replace(each, minutes=minutes))


def struck(book: Book, item: str, done: bool = True) -> Book:
    """The book with an item struck as done, or not."""
    return _with(book, item, lambda each: replace(each, done=done))


def _with(book: Book, item: str, revise: Callable[[Estimate], Estimate]) -> Book:
    old = next((e for e in book.schedule.estimates if e.item == item), Estimate(item))
    new = revise(old)
    rest = tuple(each for each in book.schedule.estimates if each.item != item)
    if new != Estimate(item):
        rest = (*rest, new)
    return replace(book, schedule=replace(book.schedule, estimates=rest))


def due(book: Book, day: date | None, minutes_a_day: int = 0) -> Book:
    """The book with the day its work is to be done by, and how long the writer works a day (0: as
    long as it takes).
    """
    return replace(book, schedule=replace(book.schedule, due=day, minutes_a_day=minutes_a_day))


@dataclass(frozen=True, slots=True)
class Day:
    """What to do on one day of the plan."""

    day: date
    items: tuple[Item, ...]

    @property
    def minutes(self) -> int:
        """What its items take."""
        return sum(item.minutes for item in self.items)


def day_by_day(
    items: Sequence[Item], first: date, last: date, minutes_a_day: int = 0
) -> tuple[Day, ...]:
    """The open items over the days from `first` to `last`, in order, each day about as full as the
    others, or, with `minutes_a_day`, filled up to that; what does not fit then falls to the last
    day. A day that gets nothing is in the plan too. Where `last` lies before `first`, all is for
    `first`.
    """
    days = max(1, (last - first).days + 1)
    waiting = [item for item in items if not item.done]
    whole = sum(item.minutes for item in waiting)
    plan: list[list[Item]] = [[] for _ in range(days)]
    spent = day = in_day = 0
    for item in waiting:
        if minutes_a_day:
            if in_day and in_day + item.minutes > minutes_a_day and day < days - 1:
                day, in_day = day + 1, 0
            in_day += item.minutes
        elif whole:
            # The day in which the middle of the item falls, of a whole spread evenly.
            day = min(days - 1, math.floor((spent + item.minutes / 2) / whole * days))
            spent += item.minutes
        plan[day].append(item)
    return tuple(Day(first + timedelta(days=n), tuple(each)) for n, each in enumerate(plan))


@dataclass(frozen=True, slots=True)
class StageProgress:
    """How far the book has come in a stage, in words of its scenes."""

    stage: Stage
    words_passed: int
    words: int

    @property
    def share(self) -> float:
        """From 0 to 1."""
        return self.words_passed / self.words if self.words else 0.0

    @property
    def words_to_go(self) -> int:
        """Words of the scenes not yet passed."""
        return self.words - self.words_passed


def stage_progress(book: Book) -> tuple[StageProgress, ...]:
    """How far the book has come in each of the stages that revise."""
    counts = [(scene, scene.passage.word_count) for scene in book.scenes]
    whole = sum(count for _, count in counts)
    return tuple(
        StageProgress(stage, sum(count for scene, count in counts if stage in scene.passed), whole)
        for stage in REVISING
    )
