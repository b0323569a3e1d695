"""How often the place proposed for breaking a long paragraph is where its writer had broken it.

    python -m tests.benchmarks.line_breaks CORPUS          measure, beside breaking at the middle
    python -m tests.benchmarks.line_breaks CORPUS --fit    print weights fitted on these novels

CORPUS is a folder of novels as `line_precision` reads them. Two paragraphs that follow one another
are joined, which makes a block whose breaking place is known; it is not the only good one, so the
figures are of use for comparing and not as they stand.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
from reglet.language.prose import Prose, read_ahead
from reglet.language.speech import Marks, detect_marks
from reglet.overlays.line import breaking_place

from tests.benchmarks.line_precision import novels

FEWEST, SHORTEST_BLOCK, LONGEST_BLOCK = 30, 140, 350
STEPS, RATE, SHRINK = 400, 0.5, 1e-3


def joined(folder: Path, number: int) -> Iterator[tuple[Prose, int]]:
    """Joined pairs of narrated paragraphs, with the place where they were apart."""
    for book in novels(folder):
        marks = detect_marks(scene.passage.text for scene in book.scenes)
        pairs = [
            pair
            for scene in book.scenes
            for pair in pairwise(each.text for each in scene.passage.paragraphs)
            if _is_block([len(text.split()) for text in pair]) and pair[1][0].isalpha()
        ]
        random.Random(1).shuffle(pairs)
        proses = [(_prose(pair, marks), len(pair[0]) + 1) for pair in pairs[:number]]
        read_ahead(prose for prose, _ in proses)
        yield from proses


def _is_block(words: list[int]) -> bool:
    return min(words) >= FEWEST and SHORTEST_BLOCK <= sum(words) <= LONGEST_BLOCK


def _prose(pair: tuple[str, str], marks: Marks) -> Prose:
    return Prose(" ".join(pair), marks)


def fit(cases: list[tuple[np.ndarray, int]]) -> np.ndarray:
    """Weights under which the true place is likeliest among the places of its paragraph."""
    weights = np.zeros(len(breaking_place.FEATURES))
    for _ in range(STEPS):
        slope = -SHRINK * weights
        for features, true in cases:
            chance = np.exp(features @ weights - (features @ weights).max())
            slope += (features[true] - chance / chance.sum() @ features) / len(cases)
        weights += RATE * slope
    return weights


def main() -> None:
    """Print the table, or the weights."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("corpus", type=Path)
    parser.add_argument("--fit", action="store_true")
    parser.add_argument("--number", type=int, default=60, help="pairs of each novel")
    asked = parser.parse_args()
    cases = []
    right = middle = by_chance = near = 0.0
    for prose, true in joined(asked.corpus, asked.number):
        found = list(breaking_place.places(prose))
        at = [place.at for place in found]
        if true not in at or len(at) < 3:
            continue
        cases.append((np.array([place.features for place in found]), at.index(true)))
        best = at.index(max(found, key=lambda place: place.weight).at)
        right += best == at.index(true)
        near += abs(best - at.index(true)) <= 1
        middle += min(at, key=lambda place: abs(place - len(prose.text) / 2)) == true
        by_chance += 1 / len(at)
    if asked.fit:
        for name, weight in zip(breaking_place.FEATURES, fit(cases), strict=True):
            print(f"    {weight:.2f},  # {name}")
        return
    number = len(cases)
    print(f"{number} joined paragraphs; the place proposed is the writer's own")
    print(f"{right / number:>8.1%}  proposed ({near / number:.1%} within one sentence)")
    print(f"{middle / number:>8.1%}  at the sentence nearest the middle")
    print(f"{by_chance / number:>8.1%}  by chance")


if __name__ == "__main__":
    main()
