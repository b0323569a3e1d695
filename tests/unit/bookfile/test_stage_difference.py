"""Stored steps lead from the one text to the other, spans and styles included."""

import pytest
from hypothesis import given
from reglet.bookfile.encoding import Unreadable
from reglet.bookfile.stage_difference import follow, steps_between
from reglet.manuscript.passage import Passage

from tests.strategies import passages

OLD = Passage.plain("The ferry came.\nRain.")


@given(passages(), passages())
def test_steps_lead_there(old: Passage, new: Passage) -> None:
    assert follow(old, steps_between(old, new)) == new


def test_steps_say_what_happened() -> None:
    assert steps_between(OLD, Passage.plain("The barge came.\nRain.")) == (
        '[["kept",5],["cut",5],["added",[[null,"barge",[]]]],["kept",12]]'
    )


@pytest.mark.parametrize(
    "steps",
    [
        "",
        "{}",
        "[]",
        '[["kept",3]]',
        '[["kept",99]]',
        '[["kept",-1]]',
        '[["cut",22]]',
        '[["lost",22]]',
        '[["kept",22],["added",[["loud","x",[]]]]]',
        '[["kept",22],["added",[["body","x",[[0,1]]]]]]',
    ],
)
def test_steps_that_do_not_fit(steps: str) -> None:
    with pytest.raises(Unreadable, match="does not fit"):
        follow(OLD, steps)
