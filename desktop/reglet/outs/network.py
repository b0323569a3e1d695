"""The network itself: rows of numbers for the words of one window in, scores out.

Needs numpy and onnxruntime. A model is one folder: `lexicon.json`, `tables.npz` (the word tables,
int8 with one scale a row), `network.onnx`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from reglet.outs.lexicon import (
    AFTER,
    BEFORE,
    COLUMNS,
    HASHED_FROM,
    HYPHEN,
    LISTED_FROM,
    PLAIN,
    WORD,
)

CLOSELY = 0.6
"""Part of the words of a window that is read closely; the rest is skimmed and held to be right."""
LEAST_CLOSELY = 24
"""So many words are read closely even of a short window."""

TABLES = ("word", "head", "tail", "case", "before", "after")
GAP_BEFORE, GAP_AFTER, WRONG = HEADS = ("gap_before", "gap_after", "right")
FloatArray = npt.NDArray[np.float32]
Rows = npt.NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Scores:
    """What the network says of the words of a window that it read closely.

    `places` are the numbers of these words in the window, in rising order. For each head the share
    of "nothing is wrong" (places,), the shares of the best answers and their numbers from 0
    (places, 3); `missing` is the table vector of a word missing before.
    """

    places: npt.NDArray[np.int64]
    nothing: Mapping[str, FloatArray]
    shares: Mapping[str, FloatArray]
    choices: Mapping[str, npt.NDArray[np.int64]]
    missing: FloatArray


@dataclass(frozen=True, slots=True)
class Sign:
    """Something that a head says of the word at `place` of a window: how surely, and the numbers
    and shares of its best answers. `missing` is as in `Scores`.
    """

    head: str
    place: int
    score: float
    choices: npt.NDArray[np.int64]
    shares: FloatArray
    missing: FloatArray


class Network:
    """A network in memory. One may serve several threads: it changes nothing.

    Raises ImportError without onnxruntime, OSError or ValueError where a file is missing or bad.
    """

    def __init__(self, folder: Path, file: str = "network.onnx") -> None:
        import onnxruntime  # what else there is in Reglet works without it

        stored = np.load(folder / "tables.npz")
        self._tables: Sequence[tuple[npt.NDArray[np.int8], FloatArray]] = [
            (stored[name], stored[f"{name}_scale"]) for name in TABLES
        ]
        self._list_bias: FloatArray = stored["list_bias"]
        options = onnxruntime.SessionOptions()
        # Windows side by side use two cores better than two threads at one window do.
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        self._session = onnxruntime.InferenceSession(
            (folder / file).read_bytes(), options, providers=["CPUExecutionProvider"]
        )
        self._outputs = [o.name for o in self._session.get_outputs()]

    def scores(self, rows: Rows) -> Scores:
        """Read one window."""
        closely = min(len(rows), max(LEAST_CLOSELY, math.ceil(len(rows) * CLOSELY)))
        given = self._session.run(
            None,
            {"embedded_words": self._embedded(rows), "closely": np.array([closely], np.int64)},
        )
        found = dict(zip(self._outputs, given, strict=True))
        order = found["places"].argsort()
        return Scores(
            found["places"][order],
            {h: found[f"{h}_nothing"][order] for h in HEADS},
            {h: found[f"{h}_shares"][order] for h in HEADS},
            {h: found[f"{h}_choices"][order] for h in HEADS},
            found["missing"][order],
        )

    def signs(self, rows: Rows, least: float) -> list[Sign]:
        """What stands in one window with a score from `least` up, in the order of the words: what
        is missing before a word, the word, what is missing after it.
        """
        scores = self.scores(rows)
        read = rows[scores.places]
        found = []
        for head in (GAP_BEFORE, WRONG, GAP_AFTER):
            score = 1 - scores.nothing[head]
            for i in np.flatnonzero((score >= least) & usable(head, read)):
                sign = Sign(
                    head,
                    int(scores.places[i]),
                    float(score[i]),
                    scores.choices[head][i],
                    scores.shares[head][i],
                    scores.missing[i],
                )
                found.append(sign)
        return sorted(found, key=lambda sign: sign.place)

    def likeliest(self, missing: FloatArray, without: Sequence[int]) -> int:
        """The listed word that fits the vector `missing` of `Scores` best, numbered from 0; the
        words `without` (numbers of the word column) are not meant.
        """
        table, scale = self._tables[0]
        # einsum leaves the other cores alone, which a matrix product of numpy's would not.
        product = np.einsum("ij,j->i", table, missing, dtype=np.float32, casting="unsafe")
        fit: FloatArray = product * scale[:, 0] + self._list_bias
        fit[:LISTED_FROM] = -np.inf
        fit[without] = -np.inf
        return int(fit.argmax()) - LISTED_FROM

    def _embedded(self, rows: Rows) -> FloatArray:
        """The summed table rows of each word."""
        out = np.zeros((len(rows), self._tables[0][0].shape[1]), np.float32)
        for column in range(COLUMNS):
            table, scale = self._tables[column]
            chosen = rows[:, column]
            out += table[chosen] * scale[chosen]
        return out


def usable(head: str, rows: Rows) -> npt.NDArray[np.bool_]:
    """Where a head may set a mark: no gap at a hyphen, none after a plain space."""
    allowed: npt.NDArray[np.bool_]
    if head == GAP_BEFORE:
        allowed = rows[:, BEFORE] != HYPHEN
    elif head == GAP_AFTER:
        allowed = ~np.isin(rows[:, AFTER], (PLAIN, HYPHEN))
    else:
        allowed = rows[:, WORD] >= HASHED_FROM
    return allowed
