"""Reading with the model: paragraphs in, places to look at with proposals out."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from reglet.outs.levelling import Word, words
from reglet.outs.lexicon import Lexicon
from reglet.outs.network import GAP_AFTER, GAP_BEFORE, WRONG, Network, Rows, Sign
from reglet.outs.surroundings import LEAST, Place, Surroundings
from reglet.outs.suspicion import Kind, Step, Suspicion
from reglet.outs.windows import Piece, windows

_KEPT = 2048
"""Windows whose answers are kept: some half a million words."""
_IN_HAND = 512
"""Paragraphs whose words are kept, from counting them until their window is read."""


@dataclass(frozen=True, slots=True)
class _Heard:
    """What is said of one word: where, and what the writer would hear if it were settled at the
    widest step; None where it is too weak for that, and only tells of its surroundings.
    """

    kind: Kind
    place: Place
    suspicion: Suspicion | None


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
        self._levelled = lru_cache(maxsize=_IN_HAND)(self._level)
        self._common = [lexicon.numbers[word] for word in lexicon.proposed]

    @classmethod
    def load(cls, folder: Path, threads: int = 1) -> Reader:
        """Read a model's folder. Raises ImportError without onnxruntime, OSError or ValueError
        where a file is missing or bad.
        """
        stored = json.loads((folder / "strictness.json").read_text("utf-8"))
        lines = {
            Step(step): {Kind(kind): float(line) for kind, line in row.items()}
            for step, row in stored.items()
        }
        return cls(Network(folder), Lexicon.load(folder / "lexicon.json"), lines, threads)

    def suspicions(
        self, paragraphs: Sequence[str], step: Step = Step.EVEN
    ) -> list[tuple[Suspicion, ...]]:
        """For each paragraph of a scene what is suspected at a step, by place."""
        lengths = [len(self._levelled(text)[0]) for text in paragraphs]
        parts = list(windows(paragraphs, lengths))
        keys = [
            tuple((paragraphs[p.paragraph], p.first, p.last, p.begin, p.end) for p in part)
            for part in parts
        ]
        heard: list[list[_Heard]] = [[] for _ in paragraphs]
        for part, said in zip(parts, self._all(keys), strict=True):
            for piece, of_piece in zip(part, said, strict=True):
                heard[piece.paragraph] += of_piece
        around = {
            kind: Surroundings(
                paragraphs,
                [[each.place for each in found if each.kind is kind] for found in heard],
                unrest=kind is Kind.OUT,
            )
            for kind in Kind
        }
        lines = self.lines[step]

        def settled(number: int) -> Iterator[Suspicion]:
            for each in heard[number]:
                score = around[each.kind].settled(number, each.place)
                if each.suspicion is not None and score >= lines[each.kind]:
                    yield replace(each.suspicion, score=score)

        return [tuple(settled(number)) for number in range(len(paragraphs))]

    def _all(self, keys: Sequence[_Key]) -> Sequence[_Answer]:
        if self._threads == 1 or len(keys) < 2:
            return [self._of_window(key) for key in keys]
        with ThreadPoolExecutor(self._threads) as pool:
            return list(pool.map(self._of_window, keys))

    def _level(self, text: str) -> tuple[Sequence[Word], Rows]:
        found = words(text)
        return found, self.lexicon.rows(found)

    def _read_window(self, key: _Key) -> _Answer:
        """What is said of each piece, before it is settled."""
        pieces = [
            (*self._levelled(text), Piece(0, first, last, begin, end))
            for text, first, last, begin, end in key
        ]
        signs = self.network.signs(
            np.concatenate([rows[p.first : p.last] for _, rows, p in pieces]), LEAST
        )
        said, at = [], 0
        for found, _, piece in pieces:
            first = at - piece.first  # where the paragraph would begin in the window
            inside = (s for s in signs if piece.begin <= s.place - first < piece.end)
            heard = (self._heard(sign.place - first, found, sign) for sign in inside)
            said.append(tuple(each for each in heard if each is not None))
            at += piece.last - piece.first
        return tuple(said)

    def _heard(self, number: int, found: Sequence[Word], sign: Sign) -> _Heard | None:
        """What a sign at a word of a paragraph says; None where it names no word it may."""
        word, kind = found[number], Kind.OUT
        at = end = spot(word, sign.head)
        proposals: tuple[tuple[str, float], ...] = ()
        if sign.head == WRONG:
            kind, end = Kind.WRONG_WORD, word.end
            proposals = self._meant(word.form, sign)
            if not proposals:
                return None
        place = Place(number, at, sign.score)
        if sign.score < self.lines[Step.WIDE][kind]:
            return _Heard(kind, place, None)
        if kind is Kind.OUT:
            proposals = self._missing(sign)
        return _Heard(kind, place, Suspicion(kind, at, end, sign.score, proposals))

    def _meant(self, form: str, sign: Sign) -> tuple[tuple[str, float], ...]:
        form = self.lexicon.respelled.get(form, form)
        allowed = self.lexicon.confusable.get(form, ())
        named = zip(sign.choices, sign.shares, strict=True)
        meant = ((self.lexicon.meant[n], float(share)) for n, share in named)
        return tuple((word, share) for word, share in meant if word in allowed)

    def _missing(self, sign: Sign) -> tuple[tuple[str, float], ...]:
        """The words named by the head; for "another word", the likeliest of the list."""
        proposed = self.lexicon.proposed
        out: list[tuple[str, float]] = []
        for n, share in zip(sign.choices, sign.shares, strict=True):
            if n < len(proposed):
                out.append((proposed[n], float(share)))
            elif sign.head == GAP_BEFORE:
                other = self.network.likeliest(sign.missing, self._common)
                out.append((self.lexicon.listed[other], float(share)))
        return tuple(out)


def spot(word: Word, head: str) -> int:
    """Where a mark of a head at a word begins in its paragraph, in code points."""
    return word.end if head == GAP_AFTER else word.start


_Key = tuple[tuple[str, int, int, int, int], ...]
_Answer = tuple[tuple[_Heard, ...], ...]
