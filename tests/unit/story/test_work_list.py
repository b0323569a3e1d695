"""The work list: what is on it, in which order, and how it falls on days."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.anchored import Answer, Note
from reglet.manuscript.book import Book, Chapter, Part, PlannedScene
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet, Verdict
from reglet.manuscript.stage import Stage
from reglet.story.work_list import (
    Item,
    OpenQuery,
    Origin,
    day_by_day,
    due,
    estimated,
    stage_progress,
    struck,
    work_list,
)

WHEN = datetime(2026, 1, 2, tzinfo=UTC)


@pytest.fixture
def book():
    scenes = (
        Scene(
            "a",
            passage=Passage.plain("one two three"),
            sheet=SceneSheet(verdict=Verdict.REWORK),
            notes=(
                Note("n", 4, 7, "two", "dull", WHEN),
                Note("d", 0, 3, "one", "", WHEN, kind="slow", answer=Answer.DONE),
            ),
        ),
        Scene(
            "b",
            passage=Passage.plain("four"),
            sheet=SceneSheet(verdict=Verdict.KEEP),
            passed=frozenset({Stage.LINE}),
        ),
    )
    parts = (Part("p", chapters=(Chapter("c", scenes=scenes),)),)
    return Book(parts=parts, plan=(PlannedScene("p1", "The inquest."),))


def test_all_that_is_to_do_in_reading_order(book):
    queries = [
        OpenQuery("echo", "a", 8, 13, "Again?", False),
        OpenQuery("echo", "a", 0, 3, "Stands.", True),
    ]
    found = work_list(book, queries)
    assert [(item.origin, item.text, item.done) for item in found.items] == [
        (Origin.VERDICT, "Rework this scene", False),
        (Origin.NOTE, "slow: one", True),
        (Origin.NOTE, "dull", False),
        (Origin.QUERY, "Again?", False),
        (Origin.PLAN, "Not written: The inquest.", False),
    ]
    assert found.minutes == 90 + 10 + 3 + 240


def test_the_writers_estimates_and_strokes_are_kept(book):
    changed = struck(estimated(book, "note:n", 25), "verdict:a:rework")
    items = {item.id: item for item in work_list(changed).items}
    assert (items["note:n"].minutes, items["note:n"].estimated) == (25, True)
    assert items["verdict:a:rework"].done
    back = struck(estimated(changed, "note:n", None), "verdict:a:rework", done=False)
    assert back == book
    assert due(book, date(2026, 5, 1), 60).schedule.minutes_a_day == 60


def test_words_to_go(book):
    assert [(each.stage, each.words_to_go) for each in stage_progress(book)] == [
        (Stage.STRUCTURE, 4),
        (Stage.LINE, 3),
        (Stage.PROOF, 4),
    ]
    assert stage_progress(Book())[0].share == 0


def items(minutes):
    return [
        Item(str(n), Origin.NOTE, "a", 0, 0, "", each, False, done=False)
        for n, each in enumerate(minutes)
    ]


FIRST = date(2026, 3, 1)


@given(
    st.lists(st.integers(0, 300), max_size=20), st.integers(-3, 15), st.sampled_from([0, 60, 240])
)
def test_every_item_has_its_day_and_none_is_lost(minutes, days, a_day):
    todo = items(minutes)
    plan = day_by_day(todo, FIRST, FIRST + timedelta(days=days), a_day)
    assert [item for day in plan for item in day.items] == todo
    assert len(plan) == max(1, days + 1)
    assert [day.day for day in plan] == [FIRST + timedelta(days=n) for n in range(len(plan))]
    for day in plan[:-1]:
        if a_day:
            assert day.minutes <= a_day or len([i for i in day.items if i.minutes]) == 1
        elif day.items:
            most = max(item.minutes for item in day.items)
            assert day.minutes <= sum(minutes) / len(plan) + most + 1


def test_done_items_take_no_day():
    done = replace(items([10])[0], done=True)
    assert day_by_day([done], FIRST, FIRST)[0].items == ()
