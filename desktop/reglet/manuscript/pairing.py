"""Paragraphs of one state of a text beside those of another that they came from."""

from __future__ import annotations

from dataclasses import dataclass

from reglet.manuscript.difference import Difference
from reglet.manuscript.passage import Passage


@dataclass(frozen=True, slots=True)
class Pair:
    """Neighbouring paragraphs, by their numbers, of an old text and of the new one: the least that
    hold a change whole. `changed`: whether there is one.
    """

    old: range
    new: range
    changed: bool = True


def changed_pairs(found: Difference, old: Passage, new: Passage) -> tuple[Pair, ...]:
    """Where the difference `found` leads from `old` to `new`: in order, no paragraph in two."""
    pairs: list[Pair] = []
    for place in found.changed:
        before = range(old.locate(place.old_start)[0], old.locate(place.old_end)[0] + 1)
        after = range(new.locate(place.new_start)[0], new.locate(place.new_end)[0] + 1)
        if pairs and (before.start < pairs[-1].old.stop or after.start < pairs[-1].new.stop):
            last = pairs.pop()
            before = range(last.old.start, max(before.stop, last.old.stop))
            after = range(last.new.start, max(after.stop, last.new.stop))
        pairs.append(Pair(before, after))
    return tuple(pairs)


def pair_at(pairs: tuple[Pair, ...], paragraph: int) -> Pair:
    """The pair that holds a paragraph of the new text; where it is as it was, it and its old self.

    `pairs` are those of `changed_pairs`.
    """
    behind = 0
    for pair in pairs:
        if paragraph in pair.new:
            return pair
        if pair.new.stop <= paragraph:
            behind = pair.old.stop - pair.new.stop
    at = paragraph + behind
    return Pair(range(at, at + 1), range(paragraph, paragraph + 1), changed=False)
