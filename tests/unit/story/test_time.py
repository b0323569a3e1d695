"""What is said of time is read, and what cannot be so is found."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.prose import Prose
from reglet.story.contradictions import contradictions
from reglet.story.time import DAYS, scene_time, story_days, times_in

SAID = {
    "On Tuesday they washed.": "weekday 1 2",
    "It was late on Wednesday.": "weekday 2 2",
    "They went on Monday, all of them.": "weekday 0 1",
    "“On Tuesday,” he said.": "weekday 1 0",
    "On Tuesday he had washed.": "weekday 1 0",
    "They met on Sundays.": "",
    "Two days later it rained.": "later 2 2",
    "A fortnight later it rained.": "later 14 2",
    "The next morning it rained.": "later 1 2",
    "That evening it rained.": "same_day 0 2",
    "It was nineteen years ago.": "span 19 0",
    "For one and twenty years he waited.": "span 21 0",
    "She was nineteen years old.": "",
    "On the 4th of May, 1893, they met.": "date 504 2",
    "She may march on; august company.": "",
}


@pytest.mark.parametrize(("text", "said"), SAID.items())
def test_statements_of_time(text, said):
    found = times_in(Prose(text))
    assert " ".join(f"{each.kind} {each.value} {each.anchors}" for each in found) == said


def times(*texts, sheets=None):
    return [
        scene_time(f"s{n}", text, times_in(Prose(text)), (sheets or {}).get(n, ""))
        for n, text in enumerate(texts)
    ]


WRONG = [
    (("It was Wednesday.", "On Tuesday it rained.", "On Thursday it thawed."), ["s1"]),
    (("It was Tuesday.", "On Wednesday it rained.", "On Thursday it thawed."), []),
    (("It was Friday.", "On Monday it rained.", "On Tuesday it thawed."), []),
    (("It was Monday.", "Two days later it rained. It was Thursday."), ["s1"]),
    (("It was Monday.", "Two days later it rained. It was Wednesday."), []),
    (("It was Wednesday.", "Six days later. It was Tuesday.", "On Thursday it thawed."), []),
    (("On Tuesday, 1 January 1901, it rained.",), []),
    (("On Monday, 1 January 1901, it rained.",), ["s0"]),
    ((*["Nineteen years ago."] * 6, "For seventeen years."), ["s6"]),
    ((*["Nineteen years ago."] * 6, "For three years.", "Twenty years."), []),
    ((*["Nineteen years ago."] * 6, *["For seventeen years."] * 2), []),
]


@pytest.mark.parametrize(("texts", "scenes"), WRONG)
def test_contradictions(texts, scenes):
    found = contradictions(times(*texts))
    assert [each.said.scene for each in found] == scenes
    assert all(each.message.endswith((".", "?")) for each in found)


def test_a_sheet_goes_before_the_text():
    texts = ("It was Wednesday.", "On Tuesday it rained.", "On Thursday it thawed.")
    assert contradictions(times(*texts, sheets={1: "Wednesday night"})) == ()
    assert times(*texts, sheets={1: "Wednesday night"})[1].label == "Wednesday night"


def test_days_of_the_story():
    texts = ("It was Monday.", "Rain.", "On Thursday it rained.", "The next day it thawed.")
    assert story_days(times(*texts)) == (0, None, 3, 4)
    assert story_days(times("It was Wednesday.", "On Tuesday it rained.")) == (0, -1)
    assert story_days([]) == ()


@given(st.lists(st.integers(0, 6), max_size=8))
def test_weekdays_in_their_order_never_contradict(steps):
    day, texts = 0, []
    for step in steps:
        day += step % 4
        texts.append(f"It was {DAYS[day % 7]}.")
    found = times(*texts)
    assert contradictions(found) == ()
    assert [each % 7 for each in story_days(found)] == [
        (DAYS.index(text[7:-1]) - DAYS.index(texts[0][7:-1])) % 7 for text in texts
    ]
