"""What of a scene has been listened to: kept by the words themselves, so that a paragraph whose
words change is unheard again without anybody having to say so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import blake2b


@dataclass(frozen=True, slots=True)
class Heard:
    """How often a paragraph has been heard to its end; `paragraph` is its `paragraph_key`."""

    paragraph: str
    times: int


def paragraph_key(text: str) -> str:
    """What a paragraph of this text is known by: 12 hexadecimal digits of its BLAKE2b."""
    return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=6).hexdigest()


def most_heard(*known: Iterable[Heard]) -> tuple[Heard, ...]:
    """For each paragraph the greatest number of hearings that any of these tells."""
    times: dict[str, int] = {}
    for each in known:
        for heard in each:
            times[heard.paragraph] = max(heard.times, times.get(heard.paragraph, 0))
    return tuple(Heard(key, count) for key, count in times.items())
