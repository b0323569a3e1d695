"""The network itself: rows of numbers for the words of one window in, scores out.

Needs numpy and onnxruntime. A model is one folder: `lexicon.json`, `tables.npz` (the word tables,
int8 with one scale a row), `network.onnx`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from reglet.outs.lexicon import COLUMNS, HASHED_FROM, HYPHEN, LISTED_FROM, PLAIN

TABLES = ("word", "head", "tail", "case", "before", "after")
GAP_BEFORE, GAP_AFTER, WRONG = HEADS = ("gap_before", "gap_after", "right")
FloatArray = npt.NDArray[np.float32]
Rows = npt.NDArray[np.int32]


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
        given = self._session.run(None, {"embedded_words": self._embedded(rows)})
        found = dict(zip(self._outputs, given, strict=True))
        return Scores(
            {h: found[f"{h}_nothing"] for h in HEADS},
            {h: found[f"{h}_shares"] for h in HEADS},
            {h: found[f"{h}_choices"] for h in HEADS},
            found["missing"],
        )

    def likeliest(self, missing: FloatArray, without: Sequence[int]) -> int:
        """The listed word that fits the vector `missing` of `Scores` best, numbered from 0; the
        words `without` (numbers of the word column) are not meant.
        """
        table, scale = self._tables[0]
        fit = (table.astype(np.float32) @ missing) * scale[:, 0] + self._list_bias
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


def usable(head: str, row: Rows) -> bool:
    """Whether a head may set a mark at a word: no gap at a hyphen, none after a plain space."""
    if head == GAP_BEFORE:
        return int(row[4]) != HYPHEN
    if head == GAP_AFTER:
        return int(row[5]) not in (PLAIN, HYPHEN)
    return int(row[0]) >= HASHED_FROM
