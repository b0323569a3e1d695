"""From a trained checkpoint to the folder that Reglet ships."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import torch
from reglet.outs.lexicon import Lexicon
from reglet.outs.network import TABLES

from .graph import build
from .network import HEAD_WIDTH
from .train import load


def export(checkpoint: Path, lexicon: Lexicon, folder: Path, *, int8: bool = True) -> None:
    """Write lexicon, tables and network. Without `int8` the network file is `float32.onnx`."""
    tagger = load(checkpoint, torch.device("cpu"))
    weights = tagger.plain_weights()
    folder.mkdir(parents=True, exist_ok=True)
    lexicon.save(folder / "lexicon.json")
    stored: dict[str, np.ndarray] = {"list_bias": weights["list_bias"]}
    for name in TABLES:
        table = weights[f"table.{name}"]
        scale = np.maximum(np.abs(table).max(1, keepdims=True), 1e-8) / 127
        stored[name] = np.rint(table / scale).astype(np.int8)
        stored[f"{name}_scale"] = scale.astype(np.float32)
    np.savez_compressed(folder / "tables.npz", **stored)
    shape = tagger.shape
    model = build(weights, shape.width // HEAD_WIDTH, shape.skimming, int8=int8)
    (folder / ("network.onnx" if int8 else "float32.onnx")).write_bytes(model.SerializeToString())
