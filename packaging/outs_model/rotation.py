"""Rotary positions, as numbers that stand in the network."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

LONGEST = 512  # the most words the network can take at once


def rotation_tables(
    head_width: int, length: int
) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.float32]]:
    """Cosines and sines (length, head_width / 2) of rotary positions, base 1,000.

    Rotary position embedding: Su and others, RoFormer, 2021.
    """
    rates = 1000.0 ** (-np.arange(0, head_width, 2) / head_width)
    angles = np.arange(length)[:, None] * rates[None]
    return np.cos(angles).astype(np.float32), np.sin(angles).astype(np.float32)
