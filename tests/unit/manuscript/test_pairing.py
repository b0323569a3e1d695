"""Paragraphs beside what they came from. In the tables "/" parts paragraphs."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from reglet.manuscript.difference import difference
from reglet.manuscript.pairing import Pair, changed_pairs, pair_at
from reglet.manuscript.passage import Passage

from tests.strategies import passages


def passage(text: str) -> Passage:
    return Passage.plain(text.replace("/", "\n"))


@pytest.mark.parametrize(
    ("old", "new", "paragraph", "before", "after", "changed"),
    [
        ("One two./Three four.", "One two./Three four.", 1, "Three four.", "Three four.", False),
        ("One two./Three four.", "One./Three four.", 0, "One two.", "One.", True),
        ("One two./Three four.", "One./Three four.", 1, "Three four.", "Three four.", False),
        ("One two. Three four.", "One two./Three four.", 1, None, None, True),
        ("One./Gone now./Three.", "One./Three.", 1, None, None, None),
        ("One./Three four./Five.", "One./New it is./Three four./Five.", 3, "Five.", "Five.", False),
    ],
)
def test_a_paragraph_and_what_it_came_from(
    old: str, new: str, paragraph: int, before: str | None, after: str | None, changed: bool | None
) -> None:
    then, now = passage(old), passage(new)
    pair = pair_at(changed_pairs(difference(then, now), then, now), paragraph)
    if before is not None:
        assert [then.paragraphs[at].text for at in pair.old] == [before]
        assert [now.paragraphs[at].text for at in pair.new] == [after]
    if changed is not None:
        assert pair.changed is changed
    assert paragraph in pair.new


@given(passages(), passages())
def test_what_lies_outside_all_pairs_is_the_same(old: Passage, new: Passage) -> None:
    pairs = changed_pairs(difference(old, new), old, new)
    for one, next_one in pairwise(pairs):
        assert one.old.stop <= next_one.old.start and one.new.stop <= next_one.new.start
    for number in range(len(new.paragraphs)):
        pair = pair_at(pairs, number)
        assert number in pair.new
        if not pair.changed:
            assert pair == Pair(pair.old, range(number, number + 1), changed=False)
            assert old.paragraphs[pair.old.start].text == new.paragraphs[number].text
