"""An outline is read as its writer meant it, and what is written is matched to it."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part, PlannedScene
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.story.plan import confirm_match, drift, read_plan

OUTLINES = {
    "1. The ferry lands.\n2. Nobody meets it.": [
        ("The ferry lands.", ""),
        ("Nobody meets it.", ""),
    ],
    "# Plan\n\nA preface.\n\n## One\n\n- The ferry\n  lands.\n- Supper.\n\n## Two\n\n* The quay.": [
        ("The ferry lands.", "One"),
        ("Supper.", "One"),
        ("The quay.", "Two"),
    ],
    "The ferry lands.\n\nNobody meets it,\nand it rains.": [
        ("The ferry lands.", ""),
        ("Nobody meets it, and it rains.", ""),
    ],
    "": [],
}


@pytest.mark.parametrize(("outline", "expected"), OUTLINES.items())
def test_an_outline_is_read(outline, expected):
    assert [(each.text, each.chapter) for each in read_plan(outline)] == expected


SCENES = {
    "ferry": "The ferry came in with its lantern swinging, and nobody stood on the landing.",
    "supper": "Supper was herrings. Her aunt poured the tea by ear and said nothing of the letter.",
    "mill": "The mill wheel turned in the dark, and the miller wrote figures in the flour.",
    "gale": "The gale took the roof of the shed and the brothers shouted from boat to boat.",
    "goose": "The widow’s goose had got into the chapel again, and bit the verger.",
}


def a_book(order, *plan):
    scenes = tuple(Scene(name, name.title(), Passage.plain(SCENES[name])) for name in order)
    planned = tuple(PlannedScene(f"p{i}", text) for i, text in enumerate(plan))
    return Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),), plan=planned)


PLAN = (
    "The ferry comes in; nobody on the landing.",
    "Supper with the aunt. Herrings and tea.",
    "The inquest. The coroner reads the verdict.",
    "By night at the mill: the miller and his figures.",
    "The gale, the brothers, the boat.",
)


def pairs(found):
    return {match.planned: match.scene for match in found.matches}


def test_what_is_missing_unplanned_and_out_of_order_stands_out():
    found = drift(a_book(["mill", "ferry", "supper", "goose", "gale"], *PLAN))
    assert pairs(found) == {"p0": "ferry", "p1": "supper", "p3": "mill", "p4": "gale"}
    assert [each.id for each in found.missing] == ["p2"]
    assert [scene.id for scene in found.unplanned] == ["goose"]
    assert [match.scene for match in found.out_of_order] == ["mill"]


def test_what_the_writer_has_decided_is_kept():
    book = confirm_match(a_book(["ferry", "supper", "goose"], *PLAN), "p2", "goose")
    found = drift(confirm_match(book, "p0", None))
    assert pairs(found)["p2"] == "goose"
    assert "p0" not in pairs(found)


@given(st.permutations(list(SCENES)), st.lists(st.sampled_from(PLAN), max_size=4))
def test_no_scene_and_no_plan_is_matched_twice(order, plan):
    found = drift(a_book(order, *plan))
    assert len({match.scene for match in found.matches}) == len(found.matches)
    assert len(found.matches) + len(found.missing) == len(plan)
    assert len(found.matches) + len(found.unplanned) == len(order)


def test_a_book_without_plan_or_scenes_has_no_drift():
    assert drift(replace(a_book([], *PLAN), plan=())).matches == ()
    assert len(drift(a_book([], *PLAN)).missing) == len(PLAN)
