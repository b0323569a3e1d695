"""How well words left out and wrong words are found in novels that the model was not trained on.

    PYTHONPATH=packaging python -m tests.benchmarks.outs_truth judged CORPUS [--results FILE]
    PYTHONPATH=packaging python -m tests.benchmarks.outs_truth pairs CORPUS [--most N]

CORPUS is a folder of novels, a paragraph a line (`.txt.xz`). The table of words found at each rate
of false alarms, for int8 and, with `--network float32.onnx`, for the network as it was trained, is
printed by `python -m outs_model.measure` in `packaging`; FILE is what its `--out` wrote, and gives
the scores at which one mark in so many words of the clean texts is mistaken (without it the lines
of strictness are taken).

`judged`: of the 300 words left out in `tests/data/judged_outs.tsv`, how many are found among those
that leave a broken sentence, as most of three readings have it, and among the rest.

`pairs`: wrong words by the model, by the weights of `language.confusions`, and by both, on the
first N novels.
"""

from __future__ import annotations

import argparse
import json
import random
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from outs_model.measure import Model, Result, choose_damage, line_for, reading
from outs_model.prepare import FUNCTION_WORDS, read_paragraphs, texts
from reglet import resources
from reglet.language.confusions import misfits
from reglet.language.neighbours import pieces
from reglet.outs import at_hand
from reglet.outs.levelling import words
from reglet.outs.network import WRONG
from reglet.outs.reader import spot
from reglet.outs.surroundings import LEAST, Place, Surroundings
from reglet.outs.suspicion import Kind, Step

JUDGED = Path(__file__).parents[1] / "data/judged_outs.tsv"
PER_WORDS = (1_000, 2_000, 5_000, 10_000)


@dataclass(frozen=True)
class Judged:
    """A word left out, and whether most readings found the sentence broken."""

    novel: str
    paragraph: int
    word: int
    how: str
    broken: bool

    def in_text(self, text: str) -> tuple[str, str, int]:
        """The paragraph without the word, and the head and place where the mark belongs."""
        found = words(text)
        word = found[self.word]
        if self.how == "after":
            before = found[self.word - 1]
            return text[: before.end] + text[word.end :], "gap_after", self.word - 1
        rest = text[found[self.word + 1].start :]
        if self.how == "raised":
            rest = rest[:1].upper() + rest[1:]
        return text[: word.start] + rest, "gap_before", self.word


def judged() -> list[Judged]:
    """What is in `JUDGED`."""
    rows = [
        line.split("\t")
        for line in JUDGED.read_text("utf-8").splitlines()
        if not line.startswith("#")
    ]
    return [Judged(r[0], int(r[1]), int(r[2]), r[3], r[4].count("b") > 1) for r in rows]


def main() -> None:
    """Print one of the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("table", choices=("judged", "pairs"))
    parser.add_argument("corpus", type=Path)
    parser.add_argument("--results", type=Path)
    parser.add_argument("--most", type=int, default=4)
    asked = parser.parse_args()
    if asked.table == "judged":
        print_judged(asked.corpus, asked.results)
    else:
        print_pairs(texts(asked.corpus)[: asked.most])


def print_judged(corpus: Path, results: Path | None) -> None:
    model = Model.load(resources.path("outs"))
    scored = [pair for path in texts(corpus) for pair in _scored(model, path)]
    broken = [score for each, score in scored if each.broken]
    good = [score for each, score in scored if not each.broken]
    print(f"{len(broken)} leave a broken sentence, {len(good)} a good one; found of these:")
    for name, line in _lines(results):
        shares = [100 * sum(s > line for s in scores) / len(scores) for scores in (broken, good)]
        print(f"{name:<14} line {line:.3f}   {shares[0]:.1f}% of the broken, {shares[1]:.1f}%")


def _scored(model: Model, path: Path) -> Iterator[tuple[Judged, float]]:
    chosen = {j.paragraph: j for j in judged() if path.name.startswith(j.novel + ".")}
    paragraphs = list(read_paragraphs(path))
    places: dict[int, tuple[str, int]] = {}
    for number, each in chosen.items():
        paragraphs[number], head, place = each.in_text(paragraphs[number])
        places[number] = head, place
    read = [words(text) for text in paragraphs]
    rows = [model.lexicon.rows(found) for found in read]
    gaps: list[list[Place]] = [[] for _ in paragraphs]
    at: dict[int, float] = {}
    for number, i, head, score, _ in reading(model, paragraphs, rows, None):
        if head != WRONG and score >= LEAST:
            gaps[number].append(Place(i, spot(read[number][i], head), score))
        if places.get(number) == (head, i):
            at[number] = score
    around = Surroundings(paragraphs, gaps, unrest=True)
    for number, each in chosen.items():
        head, i = places[number]
        gap = Place(i, spot(read[number][i], head), at.get(number, 0.0))
        yield each, around.settled(number, gap)


def _lines(results: Path | None) -> Iterator[tuple[str, float]]:
    if results is None:
        for step, lines in at_hand.reader().lines.items():
            yield step, lines[Kind.OUT]
        return
    read = [Result(**each) for each in json.loads(results.read_text("utf-8"))]
    total = sum(each.words for each in read)
    clean = [score for each in read for score in each.out]
    for per in PER_WORDS:
        yield f"1 in {per:,}", line_for(clean, total, per)


def print_pairs(paths: list[Path]) -> None:
    model, reader = Model.load(resources.path("outs")), at_hand.reader()
    count, places = 0, 0
    false: Counter[str] = Counter()
    found: Counter[str] = Counter()
    for path in paths:
        paragraphs = list(read_paragraphs(path))
        read = [words(text) for text in paragraphs]
        counts = Counter(word.form for each in read for word in each)
        count += sum(counts.values())
        for text, suspicions in zip(paragraphs, _suspected(reader, paragraphs), strict=True):
            weighed = _weighed(text)
            for name, marked in _ways(reader, suspicions, weighed):
                false[name] += len(marked)
        common = sum(n for form, n in counts.items() if form in FUNCTION_WORDS) / count
        chance = random.Random(zlib.crc32(path.name.encode()))
        damaged = choose_damage("wrong", paragraphs, read, model.lexicon, counts, common, chance)
        changed = list(paragraphs)
        for each in damaged:
            changed[each.paragraph] = each.text
        suspected = _suspected(reader, changed)
        places += len(damaged)
        for each in damaged:
            at = words(each.text)[each.place].start
            weighed = _weighed(each.text)
            for name, marked in _ways(reader, suspected[each.paragraph], weighed):
                found[name] += at in marked
    print(f"{count:,} words, {places} words exchanged")
    for name in false:
        per = count / max(1, false[name])
        print(f"{name:<32} {100 * found[name] / places:5.1f}% found, a mistaken mark in {per:,.0f}")


def _suspected(reader, paragraphs):
    return [
        {each.start: each for each in said if each.kind is Kind.WRONG_WORD}
        for said in reader.suspicions(paragraphs, Step.WIDE)
    ]


def _weighed(text: str) -> dict[int, str]:
    found = pieces(text)
    return {
        found[misfit.at].start: misfit.better
        for misfit in misfits([piece.text for piece in found], 0.0)
    }


def _ways(reader, suspicions, weighed) -> Iterator[tuple[str, set[int]]]:
    """The places marked in each way."""
    yield "weights of the words around", set(weighed)
    for step in Step:
        line = reader.lines[step][Kind.WRONG_WORD]
        sure = {at for at, each in suspicions.items() if each.score >= line}
        yield f"model, {step}", sure
        yield f"model, {step}, borne out", sure | (set(suspicions) & set(weighed))


if __name__ == "__main__":
    main()
