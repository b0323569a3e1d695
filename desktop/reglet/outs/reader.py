"""Reading with the model: paragraphs in, places to look at with proposals out."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from reglet.outs import unrest
from reglet.outs.levelling import Word, words
from reglet.outs.lexicon import Lexicon
from reglet.outs.network import GAP_AFTER, GAP_BEFORE, WRONG, Network, Rows, Scores, usable
from reglet.outs.suspicion import Kind, Step, Suspicion
from reglet.outs.unrest import Gap
from reglet.outs.windows import Piece, windows

_KEPT = 4096
"""Windows whose answers are kept: some half a million words."""


@dataclass(frozen=True, slots=True)
class _Heard:
    """What is said of a piece: suspicions and gaps, each with the number of its word."""

    suspicions: tuple[tuple[int, Suspicion], ...]
    gaps: tuple[Gap, ...]


class Reader:
    """Reads paragraphs, and keeps what it said of each window.

    `lines` are the scores from which a suspicion is one, for each step and kind.
    """

    def __init__(
        self,
        network: Network,
        lexicon: Lexicon,
        lines: Mapping[Step, Mapping[Kind, float]],
        threads: int = 1,
    ) -> None:
        self.network = network
        self.lexicon = lexicon
        self.lines = lines
        self._threads = threads
        self._of_window = lru_cache(maxsize=_KEPT)(self._read_window)
        self._common = [lexicon.numbers[word] for word in lexicon.proposed]

    @classmethod
    def load(cls, folder: Path, threads: int = 1) -> Reader:
        """Read a model's folder. Raises ImportError without onnxruntime, OSError or ValueError
        where a file is missing or bad.
        """
        stored = json.loads((folder / "strictness.json").read_text("utf-8"))
        lines = {Step(step): {Kind(k): v for k, v in row.items()} for step, row in stored.items()}
        return cls(
            Network(folder),
            Lexicon.load(folder / "lexicon.json"),
            {
                Step(step): {Kind(k): float(v) for k, v in row.items()}
                for step, row in lines.items()
            },
            threads,
        )

    def suspicions(
        self, paragraphs: Sequence[str], step: Step = Step.EVEN
    ) -> list[tuple[Suspicion, ...]]:
        """For each paragraph of a scene what is suspected at a step, by place."""
        read = [words(text) for text in paragraphs]
        parts = list(windows(paragraphs, [len(found) for found in read]))
        keys = [
            tuple((paragraphs[p.paragraph], p.first, p.last, p.begin, p.end) for p in part)
            for part in parts
        ]
        found: list[list[tuple[int, Suspicion]]] = [[] for _ in paragraphs]
        gaps: list[list[Gap]] = [[] for _ in paragraphs]
        for part, said in zip(parts, self._all(keys), strict=True):
            for piece, heard in zip(part, said, strict=True):
                found[piece.paragraph] += heard.suspicions
                gaps[piece.paragraph] += heard.gaps
        lines = self.lines[step]

        def settled(number: int) -> Iterator[Suspicion]:
            for word, each in found[number]:
                if each.kind is Kind.OUT:
                    score = unrest.settled(gaps, number, word, each.score)
                    each = replace(each, score=score)
                if each.score >= lines[each.kind]:
                    yield each

        return [tuple(settled(number)) for number in range(len(paragraphs))]

    def _all(self, keys: Sequence[_Key]) -> Sequence[_Answer]:
        if self._threads == 1 or len(keys) < 2:
            return [self._of_window(key) for key in keys]
        with ThreadPoolExecutor(self._threads) as pool:
            return list(pool.map(self._of_window, keys))

    def _read_window(self, key: _Key) -> _Answer:
        """What is suspected in each piece at the widest step, before it is settled."""
        pieces = []
        for text, first, last, begin, end in key:
            found = words(text)
            pieces.append((found, Piece(0, first, last, begin, end), self.lexicon.rows(found)))
        scores = self.network.scores(np.concatenate([r[p.first : p.last] for _, p, r in pieces]))
        said, at = [], 0
        for found, piece, rows in pieces:
            suspicions, gaps = [], []
            for i in range(piece.begin, piece.end):
                place = at + i - piece.first
                suspicions += [(i, s) for s in self._suspected(found[i], rows[i], scores, place)]
                gaps += [(i, score) for score in stirring(scores, rows[i], place)]
            said.append(_Heard(tuple(suspicions), tuple(gaps)))
            at += piece.last - piece.first
        return tuple(said)

    def _suspected(self, word: Word, row: Rows, scores: Scores, place: int) -> Iterator[Suspicion]:
        lines = self.lines[Step.WIDE]
        for head in (GAP_BEFORE, WRONG, GAP_AFTER):
            kind = Kind.WRONG_WORD if head == WRONG else Kind.OUT
            score = 1 - float(scores.nothing[head][place])
            if score < lines[kind] or not usable(head, row):
                continue
            if kind is Kind.WRONG_WORD:
                meant = self._meant(word.form, scores, place)
                if meant:
                    yield Suspicion(kind, word.start, word.end, score, meant)
            else:
                spot = word.start if head == GAP_BEFORE else word.end
                yield Suspicion(kind, spot, spot, score, self._missing(head, scores, place))

    def _meant(self, form: str, scores: Scores, place: int) -> tuple[tuple[str, float], ...]:
        form = self.lexicon.respelled.get(form, form)
        allowed = self.lexicon.confusable.get(form, ())
        named = zip(scores.choices[WRONG][place], scores.shares[WRONG][place], strict=True)
        meant = ((self.lexicon.meant[n], float(share)) for n, share in named)
        return tuple((word, share) for word, share in meant if word in allowed)

    def _missing(self, head: str, scores: Scores, place: int) -> tuple[tuple[str, float], ...]:
        """The words named by the head; for "another word", the likeliest of the list."""
        proposed = self.lexicon.proposed
        out: list[tuple[str, float]] = []
        for n, share in zip(scores.choices[head][place], scores.shares[head][place], strict=True):
            if n < len(proposed):
                out.append((proposed[n], float(share)))
            elif head == GAP_BEFORE:
                other = self.network.likeliest(scores.missing[place], self._common)
                out.append((self.lexicon.listed[other], float(share)))
        return tuple(out)


def stirring(scores: Scores, row: Rows, place: int) -> Iterator[float]:
    """The scores of the gaps at a place of a window from `unrest.LEAST` up."""
    for head in (GAP_BEFORE, GAP_AFTER):
        score = 1 - float(scores.nothing[head][place])
        if score >= unrest.LEAST and usable(head, row):
            yield score


_Key = tuple[tuple[str, int, int, int, int], ...]
_Answer = tuple[_Heard, ...]
