"""Learn from novels in the public domain which of two look-alike words fits a place.

    python packaging/confusions_model/train.py CORPUS_FOLDER OUT.xz [--keep TABLE]

CORPUS_FOLDER holds novels (`.txt.xz`, a paragraph a line). For each pair of resources/words/
confusions.txt a logistic regression with an L1 penalty (scikit-learn 1.9) weighs the facts of
`reglet.language.neighbours`, learnt from five novels in eight. Every eighth novel is held out: from
all its places comes, for either word, how sure the table must be before it may speak, so that it
would seldom speak wrongly of clean prose (LIMITS). What is written is counts
turned into weights, no text.

The same novels and list give the same table: what is drawn by lot is drawn by names, so what a pair
learns does not depend on the pairs beside it. `--keep` takes the weights of the pairs that a table
has, learns those that are new, and asks all of them again how sure they must be.

Each pair has a line "= FIRST SECOND BIAS SURE_FIRST SURE_SECOND" (how sure to be that FIRST, or
SECOND, is wrong where it stands), then a line for each fact and its weight. All these figures are
sixteenths of the natural logarithm of the odds of FIRST.
"""

from __future__ import annotations

import argparse
import lzma
import random
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from scipy.sparse import csr_matrix
from sklearn.linear_model import LogisticRegression

sys.path.insert(0, str(Path(__file__).parents[2] / "desktop"))
from reglet.language.neighbours import learn_classes, neighbourhood, pieces

PAIRS = Path(__file__).parents[2] / "resources/words/confusions.txt"
REACH = 9
EACH, MOST = 90, 12_000  # examples of a word kept from one novel, and used in all
FEWEST = 25  # examples of the rarer word, below which a pair is not learnt
UNIT = 16
# By section: how many wrong marks in a million words a word of a pair may cause, the least evidence
# asked for, and what is asked for above the worst that is not allowed (both in units).
LIMITS = {"most": (3.0, 20, 1), "often": (0.4, 44, 4), "seldom": (0.0, 60, 10)}

Row = tuple[tuple[str, ...], int]
Tables = dict[tuple[str, str], tuple[int, dict[str, int]]]


def pairs() -> dict[tuple[str, str], str]:
    """Every two of each set, with the section ("often", "seldom") that they stand in."""
    found: dict[tuple[str, str], str] = {}
    section = ""
    for line in PAIRS.read_text("utf-8").splitlines():
        if line.startswith("["):
            section = line.strip("[]")
            continue
        words = [] if line.startswith("#") else line.split()
        for n, first in enumerate(words):
            for second in words[n + 1 :]:
                found[first, second] = section
    return found


def learnt(path: Path) -> Tables:
    """The tables of a file written before."""
    tables: Tables = {}
    table: dict[str, int] = {}
    with lzma.open(path, "rt", encoding="utf-8") as lines:
        for line in lines:
            if line.startswith("= "):
                _, first, second, bias, *_ = line.split()
                table = {}
                tables[first, second] = int(bias), table
            else:
                fact, _, weight = line.rpartition("\t")
                table[fact] = int(weight)
    return tables


def rows_of(path: Path) -> Iterator[list[str]]:
    """The paragraphs of a novel as rows of pieces."""
    with lzma.open(path, "rt", encoding="utf-8") as lines:
        for line in lines:
            if not line.startswith("#"):
                yield [piece.text for piece in pieces(line)]


def gather(paths: list[Path], words: frozenset[str]) -> dict[str, list[Row]]:
    """Examples of each word."""
    kept: dict[str, list[Row]] = defaultdict(list)
    for number, path in enumerate(paths):
        here: dict[str, list[Row]] = defaultdict(list)
        for row in rows_of(path):
            for at, piece in enumerate(row):
                if piece in words:
                    low = max(0, at - REACH)
                    here[piece].append((tuple(row[low : at + REACH + 1]), at - low))
        for word, rows in here.items():
            kept[word] += drawn(rows, EACH, f"{path.name} {word}")
        if number % 20 == 0:
            print(f"read {number} of {len(paths)}", file=sys.stderr, flush=True)
    return {word: drawn(rows, MOST, word) for word, rows in kept.items()}


def drawn(rows: Sequence[Row], number: int, name: str) -> list[Row]:
    """At most `number` of the rows, the same ones for the same name."""
    return random.Random(name).sample(rows, min(number, len(rows)))


def matrix(rows: list[Row], columns: dict[str, int]) -> csr_matrix:
    """The facts of each example that have a column."""
    starts, found = [0], []
    for row, at in rows:
        found += {columns[f] for f in neighbourhood(row, at) if f in columns}
        starts.append(len(found))
    ones = np.ones(len(found), dtype=np.float32)
    return csr_matrix((ones, found, starts), shape=(len(rows), len(columns)))


def learn(first: list[Row], second: list[Row]) -> tuple[int, dict[str, int]]:
    """The bias and the weights, in units, for the odds of the first word."""
    counts: Counter[str] = Counter()
    for each in (*first, *second):
        counts.update(neighbourhood(*each))
    least = 2 if len(first) + len(second) < 4000 else 3
    columns = {f: n for n, f in enumerate(sorted(f for f, c in counts.items() if c >= least))}
    facts = matrix(first + second, columns)
    target = np.repeat([1, 0], [len(first), len(second)])
    model = LogisticRegression(l1_ratio=1, C=0.7, solver="liblinear", tol=0.02, random_state=5)
    model.set_params(class_weight="balanced")
    model.fit(facts, target)
    weights = np.round(model.coef_[0] * UNIT).astype(int)
    names = list(columns)
    bias = round(float(model.intercept_[0]) * UNIT)
    return bias, {names[n]: int(weights[n]) for n in np.nonzero(weights)[0]}


def scores(paths: list[Path], tables: Tables) -> tuple[dict[tuple[str, str], list[int]], int]:
    """For each pair (there, instead), how strongly each clean place asks for the other word."""
    judged: dict[str, list[tuple[tuple[str, str], int, int, dict[str, int]]]] = defaultdict(list)
    for (first, second), (bias, table) in tables.items():
        judged[first].append(((first, second), -1, bias, table))
        judged[second].append(((second, first), 1, bias, table))
    found: dict[tuple[str, str], list[int]] = defaultdict(list)
    total = 0
    for path in paths:
        for row in rows_of(path):
            total += len(row)
            for at, piece in enumerate(row):
                if piece in judged:
                    facts = neighbourhood(row, at)
                    for pair, sign, bias, table in judged[piece]:
                        get = table.get
                        found[pair].append(sign * (bias + sum([get(f, 0) for f in facts])))
    return found, total


def learn_all(paths: list[Path], wanted: list[tuple[str, str]]) -> Tables:
    """The tables of all pairs that the novels have examples enough of."""
    kept = gather(
        [p for n, p in enumerate(paths) if n % 8 in (1, 2, 4, 5, 7)],
        frozenset(word for pair in wanted for word in pair),
    )
    learn_classes(p for rows in kept.values() for row, _ in rows for p in row)
    tables: Tables = {}
    for number, (first, second) in enumerate(wanted):
        rows = [kept.get(first, []), kept.get(second, [])]
        if min(map(len, rows)) < FEWEST:
            print(f"{first} {second}: too few, {len(rows[0])} and {len(rows[1])}", flush=True)
            continue
        tables[first, second] = learn(*rows)
        if number % 20 == 0:
            print(f"learnt {number} of {len(wanted)}", file=sys.stderr, flush=True)
    return tables


def main() -> None:
    """Read the novels, learn the pairs, write the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("corpus", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--keep", type=Path, metavar="TABLE", help="keep its weights")
    asked = parser.parse_args()
    paths = [p for p in sorted(asked.corpus.glob("*.xz")) if p.name[:3] not in ("cs_", "el_")]
    wanted = pairs()
    tables = learnt(asked.keep) if asked.keep else {}
    tables |= learn_all(paths, [pair for pair in wanted if pair not in tables])
    found, total = scores(paths[::8], {p: t for p, t in tables.items() if p in wanted})
    with lzma.open(asked.out, "wt", encoding="utf-8") as out:
        for first, second in wanted:
            if (first, second) not in tables:
                continue
            bias, table = tables[first, second]
            rate, least, above = LIMITS[wanted[first, second]]
            allowed = round(rate * total / 1_000_000)
            sure, caught = [], []
            for pair in ((first, second), (second, first)):
                worst = sorted(found[pair], reverse=True)[allowed : allowed + 1] or [0]
                sure.append(max(least, worst[0] + above))
                # The other word's clean places, had this one been written there.
                other = found[pair[::-1]]
                caught.append(sum(-s > sure[-1] for s in other) / max(1, len(other)))
            print(
                f"{first} {second}: {len(table)} facts, sure {sure[0]} {sure[1]}, found "
                f"{caught[0]:.2f} of “{first}” for “{second}”, {caught[1]:.2f} the other way",
                flush=True,
            )
            if max(caught) < 0.05:
                continue
            print("=", first, second, bias, *sure, file=out)
            for fact, weight in table.items():
                print(f"{fact}\t{weight}", file=out)


if __name__ == "__main__":
    main()
