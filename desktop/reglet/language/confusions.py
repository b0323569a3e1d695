"""Which of two words that are easily taken for one another fits a place, judged by its neighbours.

The table ``resources/words/confusions.table.xz`` holds weights learnt from novels in the public
domain (``packaging/confusions_model``). For each pair it also says how sure it must be before it
may speak, which was set on novels held out from the learning.
"""

from __future__ import annotations

import lzma
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache

from reglet import resources
from reglet.language.neighbours import neighbourhood

_UNIT = 16
"""The table's figures are this many to a natural logarithm of the odds."""


@dataclass(frozen=True, slots=True)
class _Pair:
    first: str
    second: str
    bias: int
    sure: tuple[int, int]
    weights: dict[str, int] = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class Misfit:
    """A word that fits its place worse than `better` does. `beyond` says how far the evidence goes
    beyond what is asked for (natural logarithm of the odds; below zero: not sure enough).
    """

    at: int
    better: str
    beyond: float


def misfits(row: Sequence[str], least: float) -> Iterator[Misfit]:
    """The places of a row of pieces (`neighbours.pieces`) where another word of a pair fits better,
    by evidence of at least `least` beyond what the table asks for.
    """
    pairs = _pairs_of()
    for at, piece in enumerate(row):
        if piece not in pairs:
            continue
        facts = neighbourhood(row, at)
        best: Misfit | None = None
        for pair in pairs[piece]:
            get = pair.weights.get
            odds = pair.bias + sum([get(fact, 0) for fact in facts])
            if piece == pair.first:
                better, beyond = pair.second, (-odds - pair.sure[0]) / _UNIT
            else:
                better, beyond = pair.first, (odds - pair.sure[1]) / _UNIT
            if beyond >= least and (best is None or beyond > best.beyond):
                best = Misfit(at, better, beyond)
        if best is not None:
            yield best


@cache
def _pairs_of() -> dict[str, list[_Pair]]:
    """The pairs that each word belongs to."""
    found: dict[str, list[_Pair]] = {}
    weights: dict[str, int] = {}
    path = resources.path("words", "confusions.table.xz")
    with lzma.open(path, "rt", encoding="utf-8") as lines:
        for line in lines:
            if line.startswith("= "):
                _, first, second, bias, sure_first, sure_second = line.split()
                pair = _Pair(first, second, int(bias), (int(sure_first), int(sure_second)))
                weights = pair.weights
                found.setdefault(first, []).append(pair)
                found.setdefault(second, []).append(pair)
            else:
                fact, _, weight = line.rpartition("\t")
                weights[fact] = int(weight)
    return found
