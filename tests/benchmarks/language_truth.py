"""How right the language core is, measured on texts with answers.

    python tests/benchmarks/language_truth.py PATH [--errors N] [--speed NOVEL [--against PIPELINE]]

PATH is a folder that holds, as far as they are to be measured,
``golden_rules_en.json`` (the Golden Rules of sentence splitting),
``en_gum-ud-dev.conllu`` and ``en_ewt-ud-dev.conllu`` (Universal Dependencies) and ``litbank/``
(LitBank's quotations). ``--errors N`` prints N errors of each kind, to learn from. ``--speed``
names a text of one paragraph a line (``.xz`` too) on which words a second are measured;
``--against`` names a spaCy pipeline (installed, or a folder), if spaCy is there, to tag the same
text in the same run, with what tagging does not need left out.
"""

import argparse
import json
import lzma
import re
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from reglet.language.passives import passives
from reglet.language.prose import Prose, read_ahead
from reglet.language.sentences import sentences
from reglet.language.speech import detect_marks, quotations
from reglet.language.tagger import read
from reglet.language.words import Token

# Rules about lists whose items have no end mark: a novel's paragraph is not such a list.
LIST_RULES = (
    "1.) The first item 2.)",
    "1) The first item 2)",
    "1. The first item 2.",
    "• 9.",
    "⁃9.",
    "a. The first item b.",
)


@dataclass
class Score:
    """Hits, false alarms and misses, with examples of the last two."""

    hits: int = 0
    false: int = 0
    missed: int = 0
    examples: list[str] = field(default_factory=list)

    @property
    def precision(self) -> float:
        return self.hits / max(1, self.hits + self.false)

    @property
    def recall(self) -> float:
        return self.hits / max(1, self.hits + self.missed)

    @property
    def f1(self) -> float:
        return 2 * self.hits / max(1, 2 * self.hits + self.false + self.missed)

    def line(self, name: str) -> str:
        return (
            f"{name:<44} P {self.precision:.3f}  R {self.recall:.3f}  F1 {self.f1:.3f}"
            f"  (hits {self.hits}, false {self.false}, missed {self.missed})"
        )


def golden_rules(path: Path) -> tuple[int, int, list[str]]:
    """Rules kept, rules that apply to prose, and those broken."""
    rules = json.loads(path.read_text(encoding="utf-8"))
    asked = [rule for rule in rules if not rule["text"].startswith(LIST_RULES)]
    broken = [
        rule["text"]
        for rule in asked
        if [rule["text"][s.start : s.end] for s in sentences(rule["text"])] != rule["sentences"]
    ]
    return len(asked) - len(broken), len(asked), broken


@dataclass
class TreebankSentence:
    """One sentence: its rows (form, tag, relation) and whether a paragraph begins with it."""

    document: str
    begins: bool
    text: str
    rows: list[tuple[str, str, str]]


def treebank(path: Path) -> Iterator[TreebankSentence]:
    document, begins, text = "", True, ""
    rows: list[tuple[str, str, str]] = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("# newdoc"):
            document, begins = line.partition("=")[2].strip(), True
        elif line.startswith("# newpar"):
            begins = True
        elif line.startswith("# text ="):
            text = line.partition("=")[2].strip()
        elif not line:
            if rows:
                yield TreebankSentence(document, begins, text, rows)
            rows, begins = [], False
        elif not line.startswith("#"):
            columns = line.split("\t")
            if columns[0].isdigit():
                rows.append((columns[1], columns[4], columns[7]))


def sentence_ends(found: list[TreebankSentence], only: str = "") -> tuple[Score, Score]:
    """Ends of sentences; all of them, and only those inside a paragraph."""
    every, inner = Score(), Score()
    paragraphs: list[list[str]] = []
    for sentence in found:
        if only and only not in sentence.document:
            continue
        if sentence.begins or not paragraphs:
            paragraphs.append([])
        paragraphs[-1].append(sentence.text)
    for parts in paragraphs:
        text = " ".join(parts)
        wanted: set[int] = set()
        at = 0
        for part in parts:
            at += len(part)
            wanted.add(at)
            at += 1
        got = {s.end for s in sentences(text)}
        for score, a, b in ((every, wanted, got), (inner, wanted - {len(text)}, got - {len(text)})):
            score.hits += len(a & b)
            score.false += len(b - a)
            score.missed += len(a - b)
        for end in sorted(wanted ^ got):
            kind = "missed" if end in wanted else "false"
            every.examples.append(
                f"{kind}: {text[max(0, end - 50) : end]} | {text[end : end + 40]}"
            )
    return every, inner


def passive_score(found: list[TreebankSentence]) -> tuple[Score, float]:
    """Passive auxiliaries (``aux:pass``) and the share of parts of speech that agree."""
    score = Score()
    same = all_tags = 0
    sequences = [[form for form, _, _ in sentence.rows] for sentence in found]
    for sentence, forms, reading in zip(found, sequences, read(sequences), strict=True):
        got = {p.auxiliary for p in passives(_as_tokens(forms), reading)}
        wanted = {i for i, row in enumerate(sentence.rows) if row[2] == "aux:pass"}
        score.hits += len(got & wanted)
        score.false += len(got - wanted)
        score.missed += len(wanted - got)
        for at in sorted(got ^ wanted):
            kind = "missed" if at in wanted else "false"
            context = " ".join(forms[max(0, at - 4) : at + 7])
            score.examples.append(f"{kind}: [{forms[at]}] in: {context} ({sentence.rows[at][2]})")
        same += sum(
            a == b for a, b in zip(reading.tags, (r[1] for r in sentence.rows), strict=True)
        )
        all_tags += len(forms)
    return score, same / max(1, all_tags)


def _as_tokens(forms: Sequence[str]) -> list[Token]:
    tokens = []
    at = 0
    for form in forms:
        tokens.append(Token(at, at + len(form), form))
        at += len(form) + 1
    return tokens


# LitBank's texts are cut into tokens with spaces between and one sentence a line; these put them
# back as they were printed. A straight mark opens or closes by turns, but the first of a line
# opens and the last of a line closes, since a sentence keeps its own marks.
_HUGS_LEFT = re.compile(r"[.,;:!?)\]”’]+|n['’]t|['’](?:s|m|d|ll|re|ve)|--+.*", re.IGNORECASE)
_HUGS_RIGHT = re.compile(r"[(\[“‘]+|.*--")


def as_printed(lines: list[list[str]]) -> tuple[str, list[list[tuple[int, int]]]]:
    """One text of tokenised lines, and where each token stands in it."""
    text = ""
    places: list[list[tuple[int, int]]] = []
    is_open = {'"': False, "'": False}
    glued = True
    for line in lines:
        row: list[tuple[int, int]] = []
        for at, token in enumerate(line):
            hugs_left = _HUGS_LEFT.fullmatch(token) is not None
            hugs_right = _HUGS_RIGHT.fullmatch(token) is not None
            if token in is_open:
                apostrophe = token == "'" and text[-1:].isalnum() and bool(line[at + 1 : at + 2])
                opens = not is_open[token] if 0 < at < len(line) - 1 else at == 0
                if not apostrophe:
                    is_open[token] = opens
                hugs_left, hugs_right = apostrophe or not opens, opens and not apostrophe
            if text and not glued and not hugs_left:
                text += " "
            row.append((len(text), len(text) + len(token)))
            text += token
            glued = hugs_right
        places.append(row)
    return text, places


def speech_score(folder: Path) -> tuple[Score, Score]:
    """Speech in LitBank: whole spans, and tokens inside them."""
    spans, inside = Score(), Score()
    for path in sorted(folder.glob("*.quotes.txt")):
        lines = [line.split() for line in path.read_text(encoding="utf-8").splitlines()]
        text, places = as_printed(lines)
        wanted: set[tuple[int, int]] = set()
        for row in path.with_suffix(".ann").read_text(encoding="utf-8").splitlines():
            columns = row.split("\t")
            if columns[0] == "QUOTE":
                first, first_token, last, last_token = map(int, columns[2:6])
                wanted.add((places[first][first_token][0], places[last][last_token][1]))
        marks = detect_marks(text)
        got = {(q.start, q.end) for q in quotations(text, marks) if q.depth == 0 and q.spoken}
        spans.hits += len(got & wanted)
        spans.false += len(got - wanted)
        spans.missed += len(wanted - got)
        for start, end in sorted(got ^ wanted):
            kind = "missed" if (start, end) in wanted else "false"
            spans.examples.append(
                f"{kind} {path.name[:12]}: {text[max(0, start - 30) : start]}"
                f"[[{text[start : start + 60]}"
                f" … {text[max(start, end - 30) : end]}]]{text[end : end + 20]}"
            )
        a = {i for start, end in got for i in range(start, end)}
        b = {i for start, end in wanted for i in range(start, end)}
        inside.hits += len(a & b)
        inside.false += len(a - b)
        inside.missed += len(b - a)
    return spans, inside


def _paragraphs(path: Path) -> list[str]:
    raw = path.read_bytes()
    text = (lzma.decompress(raw) if path.suffix == ".xz" else raw).decode("utf-8")
    return [p for p in text.split("\n") if p and not p.startswith("#")]


def speed(path: Path, pipeline: str | None) -> list[str]:
    """Words a second of each part of the core over a novel, on one core."""
    paragraphs = _paragraphs(path)
    marks = detect_marks(paragraphs)
    proses = [Prose(p, marks) for p in paragraphs]

    def timed(work: Callable[[], object]) -> float:
        start = time.process_time()
        work()
        return time.process_time() - start

    figures = {
        "words": timed(lambda: [p.words for p in proses]),
        "sentences": timed(lambda: [p.sentences for p in proses]),
        "speech": timed(lambda: [p.quotations for p in proses]),
        "speech tags": timed(lambda: [p.speech_tags for p in proses]),
        "tokens": timed(lambda: [p.tokens for p in proses]),
        "parts of speech": timed(lambda: read_ahead(proses)),
        "passives": timed(lambda: [p.passives for p in proses]),
    }
    total = sum(len(p.words) for p in proses)
    lines = [f"{path.name}: {total} words"]
    for name, seconds in figures.items():
        for_novel = seconds * 120_000 / total
        lines.append(
            f"  {name:<18}{total / seconds:>12,.0f} words/s  {for_novel:.2f} s for 120,000"
        )
    lines.append(
        f"  all: {sum(figures.values()) * 120_000 / total:.2f} s for 120,000 words, one core"
    )
    if pipeline:
        tagging = figures["tokens"] + figures["parts of speech"]
        lines.append(against(pipeline, path, total / tagging))
    return lines


def against(name: str, path: Path, ours: float) -> str:
    """The speed of a spaCy pipeline on the text of ``path``; ``ours`` is in words a second."""
    import spacy

    pipeline = spacy.load(name, exclude=["ner", "lemmatizer", "senter", "parser"])
    proses = [Prose(paragraph) for paragraph in _paragraphs(path)]
    start = time.process_time()
    for _ in pipeline.pipe(prose.text for prose in proses):
        pass
    theirs = sum(len(prose.words) for prose in proses) / (time.process_time() - start)
    return (
        f"  {name.rsplit('/')[-1]}: tokens and tags at {theirs:,.0f} words/s;"
        f" ours {ours:,.0f} words/s, {ours / theirs:.0f} times as fast"
    )


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("truth", type=Path)
    parser.add_argument("--errors", type=int, default=0)
    parser.add_argument("--speed", type=Path)
    parser.add_argument("--against", metavar="PIPELINE")
    asked = parser.parse_args()
    folder: Path = asked.truth

    def show(examples: list[str]) -> None:
        for example in examples[: asked.errors]:
            print("    " + example)

    rules = folder / "golden_rules_en.json"
    if rules.exists():
        kept, applying, broken = golden_rules(rules)
        print(f"Golden Rules that apply to prose: {kept} of {applying} kept")
        show(broken)
    for name in ("gum", "ewt"):
        path = folder / f"en_{name}-ud-dev.conllu"
        if not path.exists():
            continue
        found = list(treebank(path))
        for only, label in (
            (("fiction", "GUM fiction"), ("", name.upper())) if name == "gum" else (("", "EWT"),)
        ):
            every, inner = sentence_ends(found, only)
            print(every.line(f"sentence ends, {label}"))
            print(inner.line(f"sentence ends, {label}, inside paragraphs"))
            if only or name == "ewt":
                show(every.examples)
        score, same = passive_score(found)
        print(score.line(f"passives, {name.upper()}"))
        print(f"parts of speech as in {name.upper()}: {same:.3f}")
        show(score.examples)
    if (folder / "litbank").exists():
        spans, inside = speech_score(folder / "litbank")
        print(spans.line("speech, LitBank, whole spans"))
        print(inside.line("speech, LitBank, characters"))
        show(spans.examples)
    if asked.speed:
        print("\n".join(speed(asked.speed, asked.against)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
