"""How often each training text is read: those nearest to the held-out novels most.

The held-out novels are of the kind that a writer of today stands nearest to; of the training texts
many are a century older, and some are rough scans.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from reglet.outs.lexicon import LISTED_FROM

from .prepare import Packed

COMMON = 3_000  # the commonest words tell the manner of a time; rarer ones tell the subject
MOST, LEAST = 2.0, 0.5  # weights of the nearest and the farthest word


def weights(texts: Packed, held_out: Packed, size: int) -> npt.NDArray[np.float64]:
    """One weight for each text, from LEAST to MOST by its rank in words.

    The measure is how much likelier the held-out novels make the text's common words than all
    texts together do (log likelihood ratio of unigrams, a word).
    """
    ends = np.append(texts.texts, len(texts.kind))
    counts = np.stack(
        [_common(texts, int(a), int(b), size) for a, b in zip(ends, ends[1:], strict=False)]
    )
    near = _common(held_out, 0, len(held_out.kind), size) + 1.0
    whole = counts.sum(0) + 1.0
    ratio = np.log(near / near.sum()) - np.log(whole / whole.sum())
    lengths = np.diff(ends)
    order = np.argsort(counts @ ratio / np.maximum(1, counts.sum(1)))
    rank = np.empty(len(order))
    rank[order] = (np.cumsum(lengths[order]) - lengths[order] / 2) / lengths.sum()
    return LEAST + (MOST - LEAST) * rank


def _common(texts: Packed, begin: int, end: int, size: int) -> npt.NDArray[np.float64]:
    of_kind = np.bincount(texts.kind[begin:end], minlength=len(texts.kinds))
    of_word = np.bincount(texts.kinds[:, 0], of_kind, minlength=size)
    return of_word[LISTED_FROM : LISTED_FROM + COMMON]
