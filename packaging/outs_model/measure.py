"""Measure a finished model on whole texts, through the same code that reads beside the writer.

Three readings of each text: as it is, for false alarms; with one word in about 400 left out; with
one word in about 400 exchanged for one of its confusions. A place counts as found only if the mark
stands exactly there. Three of four words left out are common ones (`FUNCTION_WORDS`), as in
training; the shares of common and other words are given apart as well, since in running text a
little more than half of the words are common.

    python -m outs_model.measure MODEL TEXTS --out result.json
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import random
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
from reglet.outs.levelling import LOWER, POSSESSIVE, TITLE, Word, words
from reglet.outs.lexicon import Lexicon
from reglet.outs.network import GAP_AFTER, GAP_BEFORE, WRONG, Network, Rows
from reglet.outs.reader import spot
from reglet.outs.surroundings import LEAST, Place, Surroundings
from reglet.outs.windows import windows

from .prepare import FUNCTION_WORDS, read_paragraphs, texts

ONE_IN = 400
PER_WORDS = (1_000, 2_000, 5_000, 10_000)
KINDS = ("out", "wrong")
FUNCTION_SHARE = 0.75
LOWEST = 0.002  # scores under this are not kept: no threshold comes near it


@dataclass(frozen=True, slots=True)
class Damage:
    """One word left out or exchanged, and where the mark for it belongs."""

    paragraph: int
    text: str  # the paragraph after the damage
    head: str
    place: int  # number of the word in the damaged paragraph
    answer: str
    common: bool


@dataclass(frozen=True, slots=True)
class Hit:
    """What the model said of one damaged place; `near` is the best score within one word."""

    score: float
    near: float
    named: bool
    common: bool
    line: str


@dataclass
class Result:
    """Scores of the clean places, and hits of the two kinds of damage, for one text."""

    name: str
    words: int
    out: list[float]
    wrong: list[float]
    out_hits: list[Hit]
    wrong_hits: list[Hit]


def leave_out(text: str, found: Sequence[Word], i: int, chance: random.Random) -> Damage | None:
    """The paragraph without its word `i`; None where its loss would show in the punctuation."""
    word = found[i]
    marked_before, marked_after = word.before != " ", word.after != " "
    if (marked_before and marked_after) or "-" in (word.before, word.after) or len(found) < 2:
        return None
    common = word.form in FUNCTION_WORDS
    if marked_after:
        cut = text[: found[i - 1].end] + text[word.end :]
        return Damage(-1, cut, GAP_AFTER, i - 1, word.form, common)
    following = found[i + 1]
    rest = text[following.start :]
    if word.case == TITLE and marked_before and following.case == LOWER and chance.random() < 0.75:
        rest = rest[:1].upper() + rest[1:]
    return Damage(-1, text[: word.start] + rest, GAP_BEFORE, i, word.form, common)


def exchange(
    text: str, found: Sequence[Word], i: int, lexicon: Lexicon, chance: random.Random
) -> Damage | None:
    """The paragraph with word `i` exchanged for one of its confusions."""
    word = found[i]
    form = lexicon.respelled.get(word.form, word.form)
    others = lexicon.confusable.get(form)
    if not others or word.case >= POSSESSIVE:
        return None
    other = chance.choice(others)
    if word.case == TITLE:
        other = other[:1].upper() + other[1:]
    changed = text[: word.start] + other + text[word.end :]
    return Damage(-1, changed, WRONG, i, form, form in FUNCTION_WORDS)


@dataclass(frozen=True, slots=True)
class Model:
    """A network with its word lists."""

    network: Network
    lexicon: Lexicon

    @classmethod
    def load(cls, folder: Path, file: str = "network.onnx") -> Model:
        """Read both from a model's folder."""
        return cls(Network(folder, file), Lexicon.load(folder / "lexicon.json"))


def reading(
    model: Model, paragraphs: Sequence[str], rows: Sequence[Rows], wanted: set[int] | None
) -> Iterator[tuple[int, int, str, float, int]]:
    """Paragraph, word, head, score and first answer of all that stirs; `wanted` limits the
    paragraphs.
    """
    for window in windows(paragraphs, [len(r) for r in rows]):
        if wanted is not None and not any(p.paragraph in wanted for p in window):
            continue
        signs = model.network.signs(
            np.concatenate([rows[p.paragraph][p.first : p.last] for p in window]), LOWEST
        )
        at = 0
        for piece in window:
            first = at - piece.first
            for s in signs:
                if piece.begin <= s.place - first < piece.end:
                    yield piece.paragraph, s.place - first, s.head, s.score, int(s.choices[0])
            at += piece.last - piece.first


def measure_text(model: Model, path: Path) -> Result:
    """All three readings of one text."""
    paragraphs = list(read_paragraphs(path))
    read = [words(p) for p in paragraphs]
    lexicon = model.lexicon
    rows = [lexicon.rows(r) for r in read]
    result = Result(path.name, sum(map(len, read)), [], [], [], [])
    places: dict[str, list[list[Place]]] = {k: [[] for _ in paragraphs] for k in KINDS}
    for paragraph, i, head, score, answer in reading(model, paragraphs, rows, None):
        word = read[paragraph][i]
        if head != WRONG or _allowed(lexicon, word.form, answer):
            places[_kind(head)][paragraph].append(Place(i, spot(word, head), score))
    for kind, clean in (("out", result.out), ("wrong", result.wrong)):
        around = _surroundings(kind, paragraphs, places[kind])
        for number, found in enumerate(places[kind]):
            clean += [round(around.settled(number, each), 6) for each in found]
    counts = Counter(w.form for r in read for w in r)
    common = sum(n for form, n in counts.items() if form in FUNCTION_WORDS) / result.words
    chance = random.Random(zlib.crc32(path.name.encode()))
    for kind, hits in (("out", result.out_hits), ("wrong", result.wrong_hits)):
        damages = choose_damage(kind, paragraphs, read, lexicon, counts, common, chance)
        hits.extend(_judge(model, kind, paragraphs, rows, damages, places[kind]))
    return result


def choose_damage(
    kind: str,
    paragraphs: Sequence[str],
    read: Sequence[Sequence[Word]],
    lexicon: Lexicon,
    counts: Counter[str],
    common: float,
    chance: random.Random,
) -> list[Damage]:
    """About one damage in ONE_IN words, at most one a paragraph."""
    total = sum(counts.values())
    pull = {
        f: (1e6 * n / total + 26) ** -0.5
        for f, n in counts.items()
        if lexicon.respelled.get(f, f) in lexicon.confusable
    }
    mean = sum(pull[f] * counts[f] for f in pull) / total
    out: list[Damage] = []
    for number, (text, found) in enumerate(zip(paragraphs, read, strict=True)):
        for i, word in enumerate(found):
            if kind == "out":
                is_common = word.form in FUNCTION_WORDS
                lean = FUNCTION_SHARE / common if is_common else (1 - FUNCTION_SHARE) / (1 - common)
            else:
                lean = pull.get(word.form, 0.0) / mean
            if chance.random() >= lean / ONE_IN:
                continue
            damage = (
                leave_out(text, found, i, chance)
                if kind == "out"
                else exchange(text, found, i, lexicon, chance)
            )
            if damage is not None:
                out.append(
                    Damage(
                        number, damage.text, damage.head, damage.place, damage.answer, damage.common
                    )
                )
                break
    return out


def _kind(head: str) -> str:
    return "wrong" if head == WRONG else "out"


def _surroundings(
    kind: str, paragraphs: Sequence[str], places: Sequence[Sequence[Place]]
) -> Surroundings:
    telling = [[each for each in found if each.score >= LEAST] for found in places]
    return Surroundings(paragraphs, telling, unrest=kind == "out")


def _judge(
    model: Model,
    kind: str,
    paragraphs: Sequence[str],
    rows: Sequence[Rows],
    damages: Sequence[Damage],
    places: Sequence[Sequence[Place]],
) -> list[Hit]:
    """`places` are those of the undamaged text; the damaged paragraphs are read anew, and all the
    damage is there at once.
    """
    texts, changed, after = list(paragraphs), list(rows), list(places)
    at = {d.paragraph: d for d in damages}
    read = {d.paragraph: words(d.text) for d in damages}
    for d in damages:
        texts[d.paragraph] = d.text
        changed[d.paragraph] = model.lexicon.rows(read[d.paragraph])
        after[d.paragraph] = []
    named: dict[int, bool] = {}
    for paragraph, i, head, score, answer in reading(model, texts, changed, set(at)):
        d = at.get(paragraph)
        if d is None or _kind(head) != kind:
            continue
        word = read[paragraph][i]
        if head != WRONG or _allowed(model.lexicon, word.form, answer):
            after[paragraph] = [*after[paragraph], Place(i, spot(word, head), score)]
        if i == d.place and head == d.head:
            named[paragraph] = _name(model.lexicon, head, answer) == d.answer
    around = _surroundings(kind, texts, after)

    def score_at(d: Damage, reach: int) -> float:
        """The best score within `reach` words; with none, only of the very place."""
        spotted = spot(read[d.paragraph][d.place], d.head)
        scores = [
            around.settled(d.paragraph, each)
            for each in after[d.paragraph]
            if abs(each.word - d.place) <= reach and (reach or each.at == spotted)
        ]
        return round(max(scores, default=0.0), 6)

    return [
        Hit(
            score_at(d, 0),
            score_at(d, 1),
            named.get(p, False),
            d.common,
            f"{d.head} {d.place} [{d.answer}] {d.text}" if len(d.text) < 400 else d.answer,
        )
        for p, d in at.items()
    ]


def _name(lexicon: Lexicon, head: str, number: int) -> str:
    if head == WRONG:
        return lexicon.meant[number]
    return lexicon.proposed[number] if number < len(lexicon.proposed) else ""


def _allowed(lexicon: Lexicon, form: str, number: int) -> bool:
    form = lexicon.respelled.get(form, form)
    return lexicon.meant[number] in lexicon.confusable.get(form, ())


def line_for(clean: Sequence[float], total: int, per: int) -> float:
    """The score over which one clean word in `per` lies."""
    alarms = max(1, total // per)
    ordered = sorted(clean, reverse=True)
    return ordered[alarms - 1] if len(ordered) >= alarms else LOWEST


def found(hits: Sequence[Hit], line: float) -> float:
    """Percentage of the hits over a line."""
    return 100 * sum(h.score > line for h in hits) / max(1, len(hits))


def summary(results: Sequence[Result]) -> dict[str, dict[str, float]]:
    """Lines and shares found at each rate of false alarms on these very texts."""
    total = sum(r.words for r in results)
    out: dict[str, dict[str, float]] = {}
    for kind in KINDS:
        clean = [s for r in results for s in getattr(r, kind)]
        hits: list[Hit] = [h for r in results for h in getattr(r, f"{kind}_hits")]
        common = [h for h in hits if h.common]
        other = [h for h in hits if not h.common]
        for per in PER_WORDS:
            line = line_for(clean, total, per)
            over = [h for h in hits if h.score > line]
            out[f"{kind} 1/{per}"] = {
                "line": line,
                "found": round(found(hits, line), 2),
                "common": round(found(common, line), 2),
                "other": round(found(other, line), 2),
                "within one word": round(
                    100 * sum(h.near > line for h in hits) / max(1, len(hits)), 2
                ),
                "named": round(100 * sum(h.named for h in over) / max(1, len(over)), 1),
                "places": len(hits),
            }
    return out


def realised(
    results: Sequence[Result], strictness: Mapping[str, Mapping[str, float]]
) -> dict[str, dict[str, float]]:
    """At lines set elsewhere: words for each false alarm, and shares found, on these texts."""
    total = sum(r.words for r in results)
    out: dict[str, dict[str, float]] = {}
    for step, lines in strictness.items():
        for kind, line in (("out", lines["out"]), ("wrong", lines["wrong_word"])):
            alarms = sum(s > line for r in results for s in getattr(r, kind))
            hits = [h for r in results for h in getattr(r, f"{kind}_hits")]
            out[f"{kind} {step}"] = {
                "line": line,
                "words for each false alarm": round(total / max(1, alarms)),
                "found": round(found(hits, line), 2),
            }
    return out


_model: Model | None = None


def _start(model: str, network: str) -> None:
    global _model  # one model for each process of the pool
    _model = Model.load(Path(model), network)


def _one(path: Path) -> Result:
    assert _model is not None
    return measure_text(_model, path)


def measure(
    model: Path, paths: Sequence[Path], processes: int, network: str = "network.onnx"
) -> list[Result]:
    """Measure texts side by side."""
    with multiprocessing.get_context("spawn").Pool(
        processes, _start, (str(model), network)
    ) as pool:
        return pool.map(_one, paths, chunksize=1)


def main() -> None:
    """Measure one model on one folder of texts, and print the table."""
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("model", type=Path)
    p.add_argument("texts", type=Path)
    p.add_argument("--processes", type=int, default=2)
    p.add_argument("--network", default="network.onnx")
    p.add_argument("--out", type=Path)
    p.add_argument("--most-texts", type=int, default=1000)
    a = p.parse_args()
    paths = texts(a.texts)[: a.most_texts]
    results = measure(a.model, paths, a.processes, a.network)
    for name, row in summary(results).items():
        print(name, row)
    chosen = a.model / "strictness.json"
    if chosen.exists():
        for name, row in realised(results, json.loads(chosen.read_text("utf-8"))).items():
            print(name, row)
    if a.out:
        a.out.write_text(json.dumps([asdict(r) for r in results]), encoding="utf-8")


if __name__ == "__main__":
    main()
