"""Packed text as a file, written small, so that it can travel to the machine that trains."""

from __future__ import annotations

import bz2
import io
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from reglet.outs.lexicon import PARAGRAPH_START, PARAGRAPH_START_QUOTE

from .prepare import Packed

PIECES = 32  # packed and unpacked side by side
KINDS = 65_535  # as many forms as two bytes can number; rarer ones take the columns of a like one


def save_packed(packed: Packed, path: Path) -> None:
    """Write one stretch of text; about 1.4 bytes a word."""
    counts = np.bincount(packed.kind, minlength=len(packed.kinds))
    order = np.argsort(-counts, kind="stable")
    rank = np.empty(len(order), np.int64)
    rank[order] = np.arange(len(order))
    kinds = packed.kinds[order]
    alike = {int(tail): i for i, tail in enumerate(kinds[:KINDS, 2]) if tail}
    for i in range(KINDS, len(kinds)):
        rank[order[i]] = alike.get(int(kinds[i, 2]), KINDS - 1)
    around, which = np.unique(
        packed.case.astype(np.int32) * 256 + packed.before, return_inverse=True
    )
    last = np.append(_opens(packed.before)[1:], True)
    columns = {
        "kind": rank[packed.kind].astype(">u2"),
        "around": around,
        "which": which.astype(np.uint16 if len(around) > 256 else np.uint8),
        "closing": packed.after[last],
        "kinds": kinds[:KINDS],
        "texts": packed.texts,
    }
    buffer = io.BytesIO()
    np.savez(buffer, **columns)
    whole = buffer.getvalue()
    size = -(-len(whole) // PIECES)
    with ThreadPoolExecutor() as pool:
        pieces = list(
            pool.map(bz2.compress, (whole[i : i + size] for i in range(0, len(whole), size)))
        )
    with path.open("wb") as out:
        out.write(np.array([len(p) for p in pieces], "<u4").tobytes().ljust(4 * PIECES, b"\0"))
        out.writelines(pieces)


def load_packed(path: Path) -> Packed:
    """Read what `save_packed` wrote."""
    stored = path.read_bytes()
    ends = 4 * PIECES + np.cumsum(np.frombuffer(stored[: 4 * PIECES], "<u4"))
    starts = [4 * PIECES, *ends[:-1].tolist()]
    pieces = [stored[a:b] for a, b in zip(starts, ends.tolist(), strict=True) if b > a]
    with ThreadPoolExecutor() as pool:
        columns = np.load(io.BytesIO(b"".join(pool.map(bz2.decompress, pieces))))
    pair = columns["around"][columns["which"]]
    before = (pair % 256).astype(np.uint8)
    after = np.empty_like(before)
    after[:-1] = before[1:]
    after[np.append(_opens(before)[1:], True)] = columns["closing"]
    return Packed(
        columns["kind"].astype(np.int32),
        (pair // 256).astype(np.uint8),
        before,
        after,
        columns["kinds"],
        columns["texts"],
    )


def _opens(before: np.ndarray) -> np.ndarray:
    return (before == PARAGRAPH_START) | (before == PARAGRAPH_START_QUOTE)
