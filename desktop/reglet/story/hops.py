"""Head-hopping: a scene seen through one pair of eyes that looks into another mind for a while."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from reglet.story.eyes import Eyes, Look
from reglet.story.glimpses import FIRST_PERSON


@dataclass(frozen=True, slots=True)
class Hop:
    """Where a scene looks into the mind of somebody whose eyes it is not seen through: the first
    place of `count`, in code points of the scene.
    """

    name: str
    start: int
    end: int
    count: int


_LOOKS, _SHARE = 3, 0.25
"""How many looks into another mind, and what share of all, make a hop (our own figures). One look
may be a guess of the person whose eyes they are ("She saw that he hoped …").
"""


def chief_of(eyes: Eyes) -> str:
    """Whose scene it is: whose eyes it is seen through or, where two minds share it so that the
    text does not show that, whose thoughts it tells most; "" where it tells nobody's three times.
    """
    if eyes.name:
        return eyes.name
    counts = Counter(look.name for look in _inner(eyes) if look.named)
    name, most = counts.most_common(1)[0] if counts else ("", 0)
    return name if most >= _LOOKS else ""


def hops(eyes: Eyes) -> tuple[Hop, ...]:
    """The others whose minds a scene looks into as into its own person's, by place.

    Only what a mind alone knows counts, and of it two looks that a name tells. Empty where it is
    nobody's scene, and where an "I" tells it, who may well guess at others.
    """
    chief = chief_of(eyes)
    if chief in ("", FIRST_PERSON):
        return ()
    inner = _inner(eyes)
    found = []
    for name in dict.fromkeys(look.name for look in inner if look.name != chief):
        theirs = [look for look in inner if look.name == name]
        sure = [look for look in theirs if look.named]
        if len(theirs) >= _LOOKS and len(sure) >= 2 and len(theirs) >= _SHARE * len(inner):
            found.append(Hop(name, sure[0].start, sure[0].end, len(theirs)))
    return tuple(found)


def _inner(eyes: Eyes) -> list[Look]:
    return [look for look in eyes.looks if not look.sensed and look.name != FIRST_PERSON]
