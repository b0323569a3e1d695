"""Reading with the trained model: paragraphs in, marks with proposals out.

Needs numpy and onnxruntime only. A model is one folder: `lexicon.json`, `tables.npz` (the word
tables, int8 with one scale a row), `network.onnx` and `strictness.json` (thresholds).

    reader = Reader.load(Path("resources/outs"))
    for mark in reader.marks(["He went the shop.", "It was to late."]):
        print(mark.paragraph, mark.start, mark.end, mark.kind, mark.score, mark.proposals)

Paragraphs are read in windows of whole paragraphs; what a window gives depends on its own words
alone, so a caller may keep the answer of `Reader.scores` by the text of the window.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import onnxruntime

from .featurise import COLUMNS, HASHED_FROM, HYPHEN, LISTED_FROM, PLAIN, Lexicon, Word, words

WINDOW = 160  # words in a window at most; a longer paragraph is cut
OVERLAP = 24  # words on either side of a cut that serve as context only
TABLES = ("word", "head", "tail", "case", "before", "after")
GAP_BEFORE, GAP_AFTER, WRONG = "gap_before", "gap_after", "right"
OUT, WRONG_WORD = "out", "wrong_word"
FloatArray = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Piece:
    """Words `first` to `last` of a paragraph, of which those from `begin` to `end` are judged."""

    paragraph: int
    first: int
    last: int
    begin: int
    end: int


@dataclass(frozen=True, slots=True)
class Scores:
    """What the network says of each word of a window.

    For each head the share of "nothing is wrong" (words,), the shares of the best answers and their
    numbers from 0 (words, 3); `missing` is the table vector of a word missing before.
    """

    nothing: Mapping[str, FloatArray]
    shares: Mapping[str, FloatArray]
    choices: Mapping[str, npt.NDArray[np.int64]]
    missing: FloatArray


@dataclass(frozen=True, slots=True)
class Mark:
    """One place to look at.

    `kind` is OUT (a word left out between `start` and `end`, which are equal) or WRONG_WORD (the
    word from `start` to `end`). Positions are code points in the paragraph. `score` runs from 0 to
    1. `proposals` are words with their shares, best first; a proposal is lower case unless it is
    always a capital, and may be empty.
    """

    paragraph: int
    kind: str
    start: int
    end: int
    score: float
    proposals: tuple[tuple[str, float], ...]


def windows(lengths: Sequence[int]) -> Iterator[list[Piece]]:
    """Whole paragraphs together up to WINDOW words; a longer paragraph in overlapping pieces."""
    held: list[Piece] = []
    size = 0
    for paragraph, length in enumerate(lengths):
        if length == 0:
            continue
        if held and size + length > WINDOW:
            yield held
            held, size = [], 0
        if length <= WINDOW:
            held.append(Piece(paragraph, 0, length, 0, length))
            size += length
            continue
        begin = 0
        while begin < length:
            first = max(0, begin - OVERLAP)
            last = min(length, first + WINDOW)
            end = last if last == length else last - OVERLAP
            yield [Piece(paragraph, first, last, begin, end)]
            begin = end
    if held:
        yield held


class Reader:
    """A model in memory. One reader may serve several threads: it changes nothing."""

    def __init__(
        self,
        lexicon: Lexicon,
        tables: Sequence[tuple[npt.NDArray[np.int8], FloatArray]],
        list_bias: FloatArray,
        network: bytes,
        strictness: Mapping[str, Mapping[str, float]],
        threads: int = 1,
    ) -> None:
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = threads
        options.inter_op_num_threads = 1
        self._session = onnxruntime.InferenceSession(
            network, options, providers=["CPUExecutionProvider"]
        )
        self._outputs = [o.name for o in self._session.get_outputs()]
        self.lexicon = lexicon
        self._tables = tables
        self._list_bias = list_bias
        self.strictness = strictness

    @classmethod
    def load(cls, folder: Path, threads: int = 1, network: str = "network.onnx") -> Reader:
        """Read a model folder. Raises OSError or ValueError if a file is not there or bad."""
        stored = np.load(folder / "tables.npz")
        tables = [(stored[name], stored[f"{name}_scale"]) for name in TABLES]
        chosen = folder / "strictness.json"
        strictness = json.loads(chosen.read_text("utf-8")) if chosen.exists() else {}
        return cls(
            Lexicon.load(folder / "lexicon.json"),
            tables,
            stored["list_bias"],
            (folder / network).read_bytes(),
            strictness,
            threads,
        )

    def embedded(self, rows: npt.NDArray[np.int32]) -> FloatArray:
        """The summed table rows of each word."""
        out = np.zeros((len(rows), self._tables[0][0].shape[1]), np.float32)
        for column in range(COLUMNS):
            table, scale = self._tables[column]
            chosen = rows[:, column]
            out += table[chosen] * scale[chosen]
        return out

    def scores(self, rows: npt.NDArray[np.int32]) -> Scores:
        """Run the network over one window."""
        found = dict(
            zip(
                self._outputs,
                self._session.run(None, {"embedded_words": self.embedded(rows)}),
                strict=True,
            )
        )
        heads = (GAP_BEFORE, GAP_AFTER, WRONG)
        return Scores(
            {h: found[f"{h}_nothing"] for h in heads},
            {h: found[f"{h}_shares"] for h in heads},
            {h: found[f"{h}_choices"] for h in heads},
            found["missing"],
        )

    def marks(self, paragraphs: Sequence[str], step: str = "even") -> list[Mark]:
        """All marks of a scene at one step of strictness, in the order of the text."""
        lines = self.strictness[step]
        read = [words(text) for text in paragraphs]
        rows = [self.lexicon.rows(found) for found in read]
        out: list[Mark] = []
        for window in windows([len(r) for r in rows]):
            scores = self.scores(np.concatenate([rows[p.paragraph][p.first : p.last]
                                                 for p in window]))
            at = 0
            for piece in window:
                for i in range(piece.begin, piece.end):
                    place = at + i - piece.first
                    out.extend(self._marks_of(read[piece.paragraph], rows[piece.paragraph], i,
                                              piece.paragraph, scores, place, lines))
                at += piece.last - piece.first
        return out

    def _marks_of(
        self,
        found: Sequence[Word],
        rows: npt.NDArray[np.int32],
        i: int,
        paragraph: int,
        scores: Scores,
        place: int,
        lines: Mapping[str, float],
    ) -> Iterator[Mark]:
        word, row = found[i], rows[i]
        for head in (GAP_BEFORE, WRONG, GAP_AFTER):
            score = 1 - float(scores.nothing[head][place])
            if score < lines[WRONG_WORD if head == WRONG else OUT] or not usable(head, row):
                continue
            if head == WRONG:
                proposals = self._meant(word.form, scores, place)
                if proposals:
                    yield Mark(paragraph, WRONG_WORD, word.start, word.end, score, proposals)
            else:
                spot = word.start if head == GAP_BEFORE else word.end
                proposals = self._missing(head, scores, place)
                yield Mark(paragraph, OUT, spot, spot, score, proposals)

    def _meant(self, form: str, scores: Scores, place: int) -> tuple[tuple[str, float], ...]:
        form = self.lexicon.respelled.get(form, form)
        allowed = self.lexicon.confusable.get(form, ())
        named = (
            (self.lexicon.meant[n], float(s))
            for n, s in zip(scores.choices[WRONG][place], scores.shares[WRONG][place], strict=True)
        )
        return tuple((w, s) for w, s in named if w in allowed)

    def _missing(self, head: str, scores: Scores, place: int) -> tuple[tuple[str, float], ...]:
        """The words named by the head; for "another word", the likeliest of the list."""
        proposed = self.lexicon.proposed
        out: list[tuple[str, float]] = []
        for n, share in zip(scores.choices[head][place], scores.shares[head][place], strict=True):
            if n < len(proposed):
                out.append((proposed[n], float(share)))
            elif head == GAP_BEFORE:
                out.append((self._of_list(scores.missing[place]), float(share)))
        return tuple(out)

    def _of_list(self, vector: FloatArray) -> str:
        """The likeliest missing word that is none of the common ones."""
        table, scale = self._tables[0]
        fit = (table @ vector.astype(np.float32)) * scale[:, 0] + self._list_bias
        fit[:LISTED_FROM] = -np.inf
        numbers = self.lexicon.numbers
        fit[[numbers[w] for w in self.lexicon.proposed]] = -np.inf
        return self.lexicon.listed[int(fit.argmax()) - LISTED_FROM]


def usable(head: str, row: npt.NDArray[np.int32]) -> bool:
    """Whether a head may set a mark at a word: no gap at a hyphen, none after a plain space."""
    if head == GAP_BEFORE:
        return int(row[4]) != HYPHEN
    if head == GAP_AFTER:
        return int(row[5]) not in (PLAIN, HYPHEN)
    return int(row[0]) >= HASHED_FROM
