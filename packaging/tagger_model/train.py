"""Train the tagger's network and store it as ``reglet.language.tagger`` reads it.

    python train.py SILVER OUT [--rounds N]

SILVER is what ``label.py`` made. The last 60,000 tokens are kept apart; the share of them that is
tagged as the parser tagged them is printed after each round. Plain numpy, Adam (Kingma and Ba
2015); the rows of the embeddings are updated only where they occur.
"""

from __future__ import annotations

import argparse
import lzma
import pickle
from collections import Counter, defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from reglet.language.tagger import shape

Floats = npt.NDArray[np.float32]
Ints = npt.NDArray[np.int32]
Labelled = list[tuple[str, str, str, int]]

WORDS, ENDINGS = 18_000, 1_500
WIDTH, FIRST, SECOND = 32, 80, 56  # sizes of a token's vector and of the two layers
REACH = (2, 1)  # tokens seen to either side by each layer
BATCH, KEPT_APART = 6_000, 60_000
ROLES = ("", "subject", "expletive", "auxiliary", "passive auxiliary", "passive", "main", "clause")
HAS_DONE = frozenset("been got gone come become left had happened run gotten".split())
FINITE = frozenset("VBD VBP VBZ MD".split())
JOINED = frozenset("ccomp advcl relcl conj parataxis pcomp".split())


def plain(form: str) -> str:
    """A form as the tagger looks it up."""
    return form.lower().replace("’", "'").replace("‘", "'").replace("ʼ", "'")


@dataclass
class Silver:
    """The labelled tokens as numbers; between paragraphs stand empty places."""

    words: list[str]
    endings: list[str]
    tags: list[str]
    forms: Ints
    tails: Ints
    shapes: Ints
    tag: Ints
    role: Ints


def mended(paragraphs: list[Labelled]) -> list[Labelled]:
    """The parser's two habits put right: small words as names, ’s for "has" as a passive."""
    usual: dict[str, Counter[str]] = defaultdict(Counter)
    for paragraph in paragraphs:
        for form, tag, _, _ in paragraph:
            if form.islower() and not tag.startswith("NNP"):
                usual[plain(form)][tag] += 1
    done = []
    for paragraph in paragraphs:
        row: Labelled = []
        for form, given, relation, head in paragraph:
            tag = given
            if given.startswith("NNP") and form.islower() and len(form) > 1:
                common = usual[plain(form)].most_common(1)
                tag = common[0][0] if common else "NNS" if given == "NNPS" else "NN"
            verb = len(row) + head
            if relation == "auxpass" and plain(form) == "'s" and 0 <= verb < len(paragraph):
                after = paragraph[verb + 1][1] if verb + 1 < len(paragraph) else ""
                if plain(paragraph[verb][0]) in HAS_DONE or after in {"DT", "PRP", "PRP$", "CD"}:
                    relation = "aux"
            row.append((form, tag, relation, head))
        done.append(row)
    return done


def role_of(at: int, paragraph: Labelled, participles: set[int]) -> int:
    """The number in ROLES of what a token does in its clause."""
    _, tag, relation, _ = paragraph[at]
    if relation == "auxpass":
        return 4
    if relation == "aux":
        return 3
    if at in participles:
        return 5
    if relation in ("nsubj", "nsubjpass", "csubj"):
        return 1
    if relation == "expl":
        return 2
    if relation == "ROOT" and tag[:2] in ("VB", "MD"):
        return 6
    return 7 if relation in JOINED and tag in FINITE else 0


def numbered(paragraphs: list[Labelled]) -> Silver:
    """Choose the vocabulary and turn every token into numbers."""
    counts = Counter(plain(form) for paragraph in paragraphs for form, _, _, _ in paragraph)
    words = [word for word, count in counts.most_common(WORDS) if count >= 4]
    ending_counts: Counter[str] = Counter()
    for word, count in counts.items():
        if len(word) > 3 and word[-3:].isalpha():
            ending_counts[word[-3:]] += min(count, 20)
    endings = [ending for ending, count in ending_counts.most_common(ENDINGS) if count >= 20]
    tags = sorted({tag for paragraph in paragraphs for _, tag, _, _ in paragraph})
    word_row = {word: row + 1 for row, word in enumerate(words)}
    tail_row = {ending: row + 1 for row, ending in enumerate(endings)}
    tag_row = {tag: row for row, tag in enumerate(tags)}
    rows: list[tuple[int, int, int, int, int]] = []
    gap = [(len(words) + 1, 0, 0, -1, -1)] * (sum(REACH) + 1)
    for paragraph in paragraphs:
        participles = {
            at + head
            for at, (_, _, relation, head) in enumerate(paragraph)
            if relation == "auxpass"
        }
        for at, (form, tag, _, _) in enumerate(paragraph):
            word = plain(form)
            tail = tail_row.get(word[-3:], 0) if len(word) > 3 else 0
            role = role_of(at, paragraph, participles)
            rows.append((word_row.get(word, 0), tail, shape(form), tag_row[tag], role))
        rows += gap
    columns = np.array(rows, np.int32).T
    return Silver(words, endings, tags, *columns)


class Network:
    """The weights, and one step of learning."""

    def __init__(self, silver: Silver, chance: np.random.Generator) -> None:
        """Begin with small random weights."""

        def random(rows: int, columns: int, size: float) -> Floats:
            return (chance.standard_normal((rows, columns)) * size).astype(np.float32)

        def layer(rows: int, columns: int) -> Floats:
            return random(rows, columns, float(np.sqrt(2 / rows)))

        outputs = len(silver.tags) + len(ROLES)
        first, second = (2 * REACH[0] + 1) * WIDTH, (2 * REACH[1] + 1) * FIRST
        self.tag_count = len(silver.tags)
        self.values = {
            "forms": random(len(silver.words) + 2, WIDTH, 0.1),
            "tails": random(len(silver.endings) + 1, WIDTH, 0.1),
            "shapes": random(8, WIDTH, 0.1),
            "weights1": layer(first, FIRST),
            "bias1": np.zeros(FIRST, np.float32),
            "weights2": layer(second, SECOND),
            "bias2": np.zeros(SECOND, np.float32),
            "weights3": layer(SECOND, outputs),
            "bias3": np.zeros(outputs, np.float32),
        }
        self.mean = {name: np.zeros_like(value) for name, value in self.values.items()}
        self.square = {name: np.zeros_like(value) for name, value in self.values.items()}
        self.steps = 0

    def forward(self, forms: Ints, tails: Ints, shapes: Ints) -> list[Floats]:
        """Each stage's values, the scores last."""
        w = self.values
        seen = _window(w["forms"][forms] + w["tails"][tails] + w["shapes"][shapes], REACH[0])
        first = np.maximum(seen @ w["weights1"] + w["bias1"], 0)
        around = _window(first, REACH[1])
        second = np.maximum(around @ w["weights2"] + w["bias2"], 0)
        return [seen, first, around, second, second @ w["weights3"] + w["bias3"]]

    def learn(
        self, forms: Ints, tails: Ints, shapes: Ints, tag: Ints, role: Ints, rate: float
    ) -> None:
        """One step down the slope of the error in tags and roles."""
        w = self.values
        seen, first, around, second, scores = self.forward(forms, tails, shapes)
        real = (tag >= 0).astype(np.float32)[:, None]
        slope = np.concatenate(
            [
                _slope(scores[:, : self.tag_count], tag),
                _slope(scores[:, self.tag_count :], role),
            ],
            axis=1,
        )
        slope *= real / real.sum()
        slopes: dict[str, Floats] = {"weights3": second.T @ slope, "bias3": slope.sum(0)}
        back = (slope @ w["weights3"].T) * (second > 0)
        slopes |= {"weights2": around.T @ back, "bias2": back.sum(0)}
        back = _unwindow(back @ w["weights2"].T, REACH[1], len(first)) * (first > 0)
        slopes |= {"weights1": seen.T @ back, "bias1": back.sum(0)}
        inputs = _unwindow(back @ w["weights1"].T, REACH[0], len(forms))
        self.steps += 1
        even, even_square = 1 - 0.9**self.steps, 1 - 0.999**self.steps
        for name, value in slopes.items():
            self._adam(name, slice(None), value, rate, even, even_square)
        for name, rows in (("forms", forms), ("tails", tails), ("shapes", shapes)):
            order = np.argsort(rows, kind="stable")
            sorted_rows = rows[order]
            begins = np.flatnonzero(np.r_[True, sorted_rows[1:] != sorted_rows[:-1]])
            summed = np.add.reduceat(inputs[order], begins, axis=0)
            self._adam(name, sorted_rows[begins], summed, rate, even, even_square)

    def _adam(
        self,
        name: str,
        at: Ints | slice,
        slope: Floats,
        rate: float,
        even: float,
        even_square: float,
    ) -> None:
        mean, square = self.mean[name], self.square[name]
        mean[at] = 0.9 * mean[at] + 0.1 * slope
        square[at] = 0.999 * square[at] + 0.001 * slope * slope
        self.values[name][at] -= (
            rate * (mean[at] / even) / (np.sqrt(square[at] / even_square) + 1e-8)
        )


def _slope(scores: Floats, wanted: Ints) -> Floats:
    """The slope of the cross-entropy of softmax; rows without an answer are left to the caller."""
    grown = np.exp(scores - scores.max(1, keepdims=True))
    shares: Floats = grown / grown.sum(1, keepdims=True)
    shares[np.arange(len(wanted)), np.maximum(wanted, 0)] -= 1
    return shares


def _window(values: Floats, reach: int) -> Floats:
    rows = len(values) - 2 * reach
    return np.concatenate([values[i : i + rows] for i in range(2 * reach + 1)], axis=1)


def _unwindow(slopes: Floats, reach: int, rows: int) -> Floats:
    width = slopes.shape[1] // (2 * reach + 1)
    whole = np.zeros((rows, width), np.float32)
    for i in range(2 * reach + 1):
        whole[i : i + rows - 2 * reach] += slopes[:, i * width : (i + 1) * width]
    return whole


def train(silver: Silver, rounds: int) -> Network:
    """Learn, telling after each round how the tokens kept apart are tagged."""
    chance = np.random.default_rng(0)
    network = Network(silver, chance)
    learnt = len(silver.forms) - KEPT_APART
    pad = sum(REACH)
    starts = np.arange(0, learnt - BATCH, BATCH)
    total = rounds * len(starts)
    unknown_outside = len(silver.words) + 1
    for number in range(rounds):
        chance.shuffle(starts)
        shift = int(chance.integers(0, BATCH))
        for begin in starts.tolist():
            start = min(begin + shift, learnt - BATCH)
            here = slice(start, start + BATCH)
            inner = slice(start + pad, start + BATCH - pad)
            forms = silver.forms[here].copy()
            # Words are forgotten now and then, rare ones more often, to learn what to do without.
            forget = chance.random(BATCH) < 0.03 + 0.05 * (forms > 3000)
            forms[forget & (forms < unknown_outside)] = 0
            done = network.steps
            rate = 0.003 * min(1.0, (done + 1) / 100) * (1 - done / total) + 1e-5
            network.learn(
                forms,
                silver.tails[here],
                silver.shapes[here],
                silver.tag[inner],
                silver.role[inner],
                rate,
            )
        print(f"round {number + 1}: {_agreement(network, silver, learnt, pad):.4f}", flush=True)
    return network


def _agreement(network: Network, silver: Silver, start: int, pad: int) -> float:
    scores = network.forward(silver.forms[start:], silver.tails[start:], silver.shapes[start:])[-1]
    wanted = silver.tag[start + pad : -pad]
    same = scores[:, : network.tag_count].argmax(1) == wanted
    return float(same[wanted >= 0].mean())


def store(network: Network, silver: Silver, out: Path) -> None:
    """Embeddings as bytes with a scale for each row, the rest as half floats."""

    def lines(words: list[str]) -> npt.NDArray[np.uint8]:
        return np.frombuffer("\n".join(words).encode(), np.uint8)

    stored: dict[str, Any] = {
        "tags": lines(silver.tags),
        "roles": lines(list(ROLES)),
        "words": lines(silver.words),
        "endings": lines(silver.endings),
    }
    for name, value in network.values.items():
        if name in ("forms", "tails"):
            scale = np.maximum(np.abs(value).max(1, keepdims=True) / 127, 1e-9)
            stored[name] = np.round(value / scale).astype(np.int8)
            stored[name + "_scale"] = scale.astype(np.float16)
        else:
            stored[name] = value.astype(np.float16)
    np.savez_compressed(out, allow_pickle=False, **stored)


def main() -> None:
    """Train and store."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("silver", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--rounds", type=int, default=6)
    asked = parser.parse_args()
    with lzma.open(asked.silver, "rb") as source:
        silver = numbered(mended(pickle.load(source)))  # what label.py wrote on this machine
    store(train(silver, asked.rounds), silver, asked.out)


if __name__ == "__main__":
    main()
