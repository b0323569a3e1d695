"""What is said of story time that cannot be so, beside what is said of it elsewhere."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from reglet.story.time import DAYS, Said, SceneTime, TimeKind


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Something said of time that cannot be so beside what is said elsewhere (`evidence`)."""

    said: Said
    message: str
    evidence: tuple[Said, ...]


def contradictions(times: Sequence[SceneTime]) -> tuple[Contradiction, ...]:
    """What does not fit together in the times of scenes in telling order."""
    found = [*_days_gone_back(times), *_counts_wrong(times), *_no_such_day(times)]
    found += _spans_apart(times)
    order = {each.scene: place for place, each in enumerate(times)}
    return tuple(sorted(found, key=lambda c: (order[c.said.scene], c.said.place or (0, 0))))


_NEAR = 3
"""How many scenes apart two named days may stand to be taken for days of one week."""


def _days_gone_back(times: Sequence[SceneTime]) -> Iterator[Contradiction]:
    """A day that lies before the one named before it, while the next named goes on from that."""
    placed = [(i, each.weekday) for i, each in enumerate(times) if each.weekday]
    for (i, before), (j, here), (k, after) in zip(placed, placed[1:], placed[2:], strict=False):
        if j - i > _NEAR or k - j > _NEAR or any(t.after or t.date for t in times[i + 1 : k + 1]):
            continue
        first, second, third = (each.mention.value for each in (before, here, after))
        onward, back = (third - first) % 7, (first - second) % 7
        if 1 <= back <= 2 and 1 <= onward <= 3:
            yield Contradiction(
                here,
                f"This scene is on {DAYS[second]}, the one told before it on {DAYS[first]} and the "
                f"next one named on {DAYS[third]}. Is it meant to go back?",
                (before, after),
            )


def _counts_wrong(times: Sequence[SceneTime]) -> Iterator[Contradiction]:
    """So many days after the scene before, on a weekday that is not so many days on."""
    for before, here in pairwise(times):
        if not (before.weekday and here.weekday and here.after):
            continue
        days = here.after.mention.value
        due = (before.weekday.mention.value + days) % 7
        if (
            days < 7
            and here.after.mention.kind is TimeKind.LATER
            and due != here.weekday.mention.value
        ):
            yield Contradiction(
                here.weekday,
                f"“{here.after.text}” after {DAYS[before.weekday.mention.value]} would be "
                f"{DAYS[due]}, and this scene is on {DAYS[here.weekday.mention.value]}.",
                (before.weekday, here.after),
            )


def _no_such_day(times: Sequence[SceneTime]) -> Iterator[Contradiction]:
    """A date whose weekday is not the calendar's (Gregorian), or differs from another's."""
    for each in times:
        for said in each.all:
            mention = said.mention
            if mention.kind is not TimeKind.DATE or mention.weekday < 0 or mention.year < 1753:
                continue
            try:
                real = date(mention.year, *divmod(mention.value, 100)).weekday()
            except ValueError:
                continue
            if real != mention.weekday:
                yield Contradiction(said, f"That day was a {DAYS[real]}.", ())


_OFTEN, _SCENES, _APART, _LEAST = 6, 4, 2, 8


def _spans_apart(times: Sequence[SceneTime]) -> Iterator[Contradiction]:
    """A count of years said once, close to one that the book says again and again."""
    spans: dict[int, list[Said]] = defaultdict(list)
    for each in times:
        for said in each.all:
            if said.mention.kind is TimeKind.SPAN:
                spans[said.mention.value].append(said)
    often = Counter(
        {
            years: len(all_said)
            for years, all_said in spans.items()
            if years % 10  # a round number may be meant roughly
            and len(all_said) >= _OFTEN
            and len({each.scene for each in all_said}) >= _SCENES
        }
    )
    for years, found in spans.items():
        usual = next((y for y, _ in often.most_common() if 0 < abs(y - years) <= _APART), None)
        if usual is None or len(found) > 1 or years < _LEAST or years % 10 == 0:
            continue
        yield Contradiction(
            found[0],
            f"“{found[0].text}” stands once; elsewhere it is “{spans[usual][0].text}”, "
            f"{len(spans[usual])} times. Is it the same stretch of time?",
            tuple(spans[usual]),
        )
