"""Head-hopping: a scene seen through one pair of eyes that looks into another mind for a while."""

from __future__ import annotations

from dataclasses import dataclass

from reglet.story.eyes import FIRST_PERSON, Eyes


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


def hops(eyes: Eyes) -> tuple[Hop, ...]:
    """The others whose minds a scene looks into as into its own person's, by place.

    Only what a mind alone knows counts, and only where a name tells whose. Empty where nobody's
    eyes are known, and where an "I" tells, who may well guess at others.
    """
    if eyes.name in ("", FIRST_PERSON):
        return ()
    inner = [look for look in eyes.looks if not look.sensed and look.name != FIRST_PERSON]
    found = []
    for name in dict.fromkeys(look.name for look in inner if look.name != eyes.name):
        theirs = [look for look in inner if look.name == name]
        sure = [look for look in theirs if look.named]
        if len(theirs) >= _LOOKS and len(sure) >= 2 and len(theirs) >= _SHARE * len(inner):
            found.append(Hop(name, sure[0].start, sure[0].end, len(theirs)))
    return tuple(found)
