"""What is chosen for the work on a book, and how it is remembered."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QSettings
from reglet.manuscript.book import Book
from reglet.overlays.house import Strictness
from reglet.setting import EREADERS, PHONES, TRIMS, USUAL_TRIM
from reglet.window.choices import AIMS, Choices, from_json, to_json
from reglet.window.memory import Memory

CHOICES = st.builds(
    Choices,
    phone=st.sampled_from(sorted(PHONES)),
    page=st.sampled_from(sorted([*TRIMS, *EREADERS])),
    aim=st.sampled_from(AIMS),
    rhythm=st.booleans(),
    strictness=st.dictionaries(
        st.sampled_from(["echo", "block"]), st.sampled_from([0, 2]), max_size=2
    ).map(lambda steps: tuple(sorted(steps.items()))),
    off=st.lists(st.sampled_from(["echo", "block"]), unique=True).map(tuple),
)


@given(CHOICES)
def test_choices_come_back_as_they_were(choices: Choices) -> None:
    assert from_json(to_json(choices)) == choices


@pytest.mark.parametrize(
    "kept", ["", "null", "[]", '{"aim": "x"}', '{"strictness": [["echo", 9]]}']
)
def test_what_cannot_be_read_is_as_usual(kept: str) -> None:
    assert from_json(kept) == Choices()


@given(CHOICES)
def test_the_house_asks_as_was_chosen(choices: Choices) -> None:
    house = choices.house(Book())
    assert house.strictness_of("echo") is choices.strictness_of("echo")
    assert house.phone.name == choices.phone
    assert house.trim.name == (choices.page if choices.page in TRIMS else USUAL_TRIM.name)


def test_usual_strictness_is_not_kept() -> None:
    strict = Choices().with_strictness("echo", Strictness.STRICT)
    assert strict.strictness == (("echo", 2),)
    assert strict.with_strictness("echo", Strictness.USUAL) == Choices()


def test_each_book_has_its_own(tmp_path: Path) -> None:
    memory = Memory(QSettings(str(tmp_path / "s.ini"), QSettings.Format.IniFormat))
    memory.chose(Path("/one"), Choices(aim=15))
    memory.stopped_at(Path("/one"), {"lamp": 7})
    assert memory.choices(Path("/one")).aim == 15
    assert memory.choices(Path("/two")) == Choices()
    assert memory.spots(Path("/one")) == {"lamp": 7}
    assert memory.spots(Path("/two")) == {}
