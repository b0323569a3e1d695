"""Parts of speech and the part each word plays in its clause, read from a window of words.

A small network of our own: each token is a sum of three learnt vectors (its form, its last three
letters, its shape), two layers look at the tokens around it, and two outputs name its part of
speech (Penn Treebank tags: Marcus, Santorini and Marcinkiewicz 1993) and its role. It sees four
tokens to either side at most, so a tag depends on near words only and a paragraph costs well under
a millisecond. How it was trained, on what, and under which licences: ``packaging/tagger_model``.
"""

import os
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from reglet import resources
from reglet.language.remembered import Remembered

Floats = npt.NDArray[np.float32]

_APOSTROPHES = str.maketrans("’‘ʼ", "'''")
_MOST_FORMS = 200_000


class Reading(NamedTuple):
    """What the tagger says of a sequence of tokens; both tuples are as long as the sequence.

    ``tags`` are Penn Treebank tags. ``roles`` are "subject", "expletive" (there is …, it was …),
    "auxiliary", "passive auxiliary", "passive" (its participle), "main" (the verb of the whole
    sentence), "clause" (the finite verb of a joined or subordinate clause) or "".
    """

    tags: tuple[str, ...]
    roles: tuple[str, ...]


def shape(form: str) -> int:
    """Its letters: 1 small, 2 one capital, 3 all capitals, 4 capitalised, 5 digits, 6 other."""
    if form.islower():
        return 1
    if form.isupper():
        return 2 if len(form) == 1 else 3
    if form[:1].isupper():
        return 4
    return 5 if any(character.isdigit() for character in form) else 6


class Tagger:
    """The network, read from its file. Made once by ``tagger()``; it may be shared by threads."""

    def __init__(self, path: Path) -> None:
        """Read the model. Raises OSError or ValueError if the file is missing or damaged."""
        with np.load(path, allow_pickle=False) as stored:
            self._tags = _lines(stored["tags"])
            self._roles = _lines(stored["roles"])
            words, endings = _lines(stored["words"]), _lines(stored["endings"])
            forms = stored["forms"].astype(np.float32) * stored["forms_scale"]
            tails = stored["tails"].astype(np.float32) * stored["tails_scale"]
            self._shapes: Floats = stored["shapes"].astype(np.float32)
            self._layers = [
                (stored[f"weights{n}"].astype(np.float32), stored[f"bias{n}"].astype(np.float32))
                for n in (1, 2, 3)
            ]
        # forms: one row for the unknown word, one a known word, one for what lies outside the text
        tail_of = {ending: row + 1 for row, ending in enumerate(endings)}
        rows = np.array([0, *(tail_of.get(_ending(w), 0) for w in words), 0])
        known = forms + tails[rows]
        self._table: Floats = np.concatenate([known, forms[0] + tails])
        self._row_of = {word: row + 1 for row, word in enumerate(words)}
        self._outside = len(words) + 1
        self._unknown_row_of = {e: len(known) + row for e, row in tail_of.items()}
        self._unknown = len(known)
        self._codes = Remembered(self._code, most=_MOST_FORMS)
        width = self._table.shape[1]
        self._reach = tuple(
            (w.shape[0] // width_in - 1) // 2
            for w, width_in in zip(
                (self._layers[0][0], self._layers[1][0]),
                (width, self._layers[0][0].shape[1]),
                strict=True,
            )
        )

    def read(self, sequences: Sequence[Sequence[str]]) -> list[Reading]:
        """Tag each sequence of token texts by itself; many at once cost less than one by one."""
        pad = sum(self._reach)
        gap = [self._outside << 3] * pad
        ids: list[int] = list(gap)
        code_of = self._codes.__getitem__
        for forms in sequences:
            ids += map(code_of, forms)
            ids += gap
        packed = np.array(ids)
        found = self._scores(packed)
        tag_count = len(self._tags)
        tags = found[:, :tag_count].argmax(axis=1).tolist()
        roles = found[:, tag_count:].argmax(axis=1).tolist()
        readings = []
        at = 0
        for forms in sequences:
            end = at + len(forms)
            readings.append(
                Reading(
                    tuple([self._tags[t] for t in tags[at:end]]),
                    tuple([self._roles[r] for r in roles[at:end]]),
                )
            )
            at = end + pad
        return readings

    def _scores(self, packed: npt.NDArray[np.int64]) -> Floats:
        values: Floats = self._table[packed >> 3] + self._shapes[packed & 7]
        (first, first_bias), (second, second_bias), (last, last_bias) = self._layers
        values = np.maximum(_product(_window(values, self._reach[0]), first) + first_bias, 0)
        values = np.maximum(_product(_window(values, self._reach[1]), second) + second_bias, 0)
        scores: Floats = _product(values, last) + last_bias
        return scores

    def _code(self, form: str) -> int:
        """The rows of a form in both tables, in one number."""
        plain = form.lower().translate(_APOSTROPHES)
        row = self._row_of.get(plain)
        if row is None:
            row = self._unknown_row_of.get(_ending(plain), self._unknown)
        return row << 3 | shape(form)


def _ending(plain: str) -> str:
    return plain[-3:] if len(plain) > 3 else ""


def _window(values: Floats, reach: int) -> Floats:
    rows = values.shape[0] - 2 * reach
    return np.concatenate([values[i : i + rows] for i in range(2 * reach + 1)], axis=1)


# OpenBLAS shares a product among threads when rows x columns x depth passes this (its
# interface/gemm.c); for products this small the threads cost far more than they give when other
# work is going on. A process that was told to have one thread needs no such care.
_ONE_THREAD = 262_144
_HAS_ONE_THREAD = os.environ.get("OPENBLAS_NUM_THREADS") == "1"


def _product(values: Floats, weights: Floats) -> Floats:
    """``values @ weights``, in slices small enough to stay on the calling thread."""
    rows, depth = values.shape
    step = max(1, _ONE_THREAD // weights.size)
    if rows <= step or _HAS_ONE_THREAD:
        product: Floats = values @ weights
        return product
    whole = rows - rows % step
    sliced = values[:whole].reshape(-1, step, depth) @ weights
    return np.concatenate([sliced.reshape(whole, -1), values[whole:] @ weights])


def _lines(stored: npt.NDArray[np.uint8]) -> list[str]:
    return stored.tobytes().decode("utf-8").split("\n")


@cache
def tagger() -> Tagger:
    """The tagger that Reglet ships."""
    return Tagger(resources.path("language", "tagger.npz"))


def read(sequences: Iterable[Sequence[str]]) -> list[Reading]:
    """Tag sequences of token texts with the tagger that Reglet ships."""
    return tagger().read(list(sequences))
