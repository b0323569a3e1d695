"""The tagger: a bidirectional transformer encoder over words, with three heads.

It can read twice: the first layers skim every word and say where something stirs, the later ones
read closely, but only the words around those places, for most of a page is plainly right. Pre-norm
blocks, rotary positions, no biases but one. The heads say of each word that was read to the end
whether a word is missing before it, missing after it (before its comma or full stop), and whether
it is the right word. A fourth part predicts hidden and missing words from the whole list; it serves
training only.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import torch
import torch.nn.functional as F  # noqa: N812 - the name that all of torch's users know
from reglet.outs.levelling import CASES
from reglet.outs.lexicon import AFFIXES, MASK, WORD
from torch import Tensor, nn

from .rotation import LONGEST, rotation_tables

HEAD_WIDTH = 64
CLOSELY = 5 / 12  # part of the words of a window that is read closely in training
REACH = (3, 9, 17)  # widths in words around a stir; what lies in more of them is read first
HIDDEN_STIR = 1e4  # hidden words are always read closely: they are to be predicted


@dataclass(frozen=True, slots=True)
class Shape:
    """Sizes of a tagger: `skimming` layers read every word, `close` ones those around a stir.

    Without close layers every word is read to the end. `dropout` is the share of values dropped
    after each part.
    """

    words: int
    separators: int
    proposed: int
    meant: int
    width: int = 448
    skimming: int = 7
    close: int = 0
    table_width: int = 256
    dropout: float = 0.1

    @property
    def layers(self) -> int:
        """How many layers there are in all."""
        return self.skimming + self.close


@dataclass(frozen=True, slots=True)
class Reading:
    """`states` (windows, words read to the end, width) of the words at `places` in each window, and
    `stir` (windows, words, 3), what the skimming says of every word for each head, in logits.
    """

    states: Tensor
    places: Tensor
    stir: Tensor


class Block(nn.Module):
    """Attention, then two layers of a feed-forward net, each added to what came in."""

    def __init__(self, shape: Shape) -> None:
        super().__init__()
        d = shape.width
        self.heads = d // HEAD_WIDTH
        self.dropout = shape.dropout
        self.gain1 = nn.Parameter(torch.ones(d))
        self.gain2 = nn.Parameter(torch.ones(d))
        self.q, self.k, self.v, self.out = (_matrix(d, d) for _ in range(4))
        self.up = _matrix(4 * d, d)
        self.up_bias = nn.Parameter(torch.zeros(4 * d))
        self.down = _matrix(d, 4 * d)
        with torch.no_grad():
            self.out.mul_((2 * shape.layers) ** -0.5)
            self.down.mul_((2 * shape.layers) ** -0.5)

    def forward(self, x: Tensor, cosines: Tensor, sines: Tensor) -> Tensor:
        """Hidden states in and out, (batch, words, width)."""
        batch, length, d = x.shape
        h = F.layer_norm(x, (d,), self.gain1)
        q, k, v = (
            F.linear(h, m).view(batch, length, self.heads, HEAD_WIDTH).transpose(1, 2)
            for m in (self.q, self.k, self.v)
        )
        q, k = _turn(q, cosines, sines), _turn(k, cosines, sines)
        mixed = F.scaled_dot_product_attention(q, k, v)
        mixed = mixed.transpose(1, 2).reshape(batch, length, d)
        x = x + F.dropout(F.linear(mixed, self.out), self.dropout, self.training)
        h = F.layer_norm(x, (d,), self.gain2)
        h = F.gelu(F.linear(h, self.up, self.up_bias))
        return x + F.dropout(F.linear(h, self.down), self.dropout, self.training)


def _matrix(out: int, inside: int) -> nn.Parameter:
    return nn.Parameter(torch.randn(out, inside) * inside**-0.5)


def _turn(x: Tensor, cosines: Tensor, sines: Tensor) -> Tensor:
    """Rotary positions, the two halves of a head turned against each other."""
    first, second = x.chunk(2, -1)
    return torch.cat((first * cosines - second * sines, second * cosines + first * sines), -1).to(
        x.dtype
    )


def stirring(stir: Tensor, hidden: Tensor) -> Tensor:
    """The places to read closely, (windows, places): the words where most stirs and those around
    them, and all that are hidden.
    """
    most = stir.amax(-1)
    around = torch.stack([F.max_pool1d(most, reach, 1, reach // 2) for reach in REACH]).sum(0)
    count = max(1, int(stir.shape[1] * CLOSELY))
    return around.masked_fill(hidden, HIDDEN_STIR).topk(count, -1).indices


class Tagger(nn.Module):
    """Rows of numbers in (batch, words, columns); a reading out."""

    def __init__(self, shape: Shape) -> None:
        super().__init__()
        self.shape = shape
        e, d = shape.table_width, shape.width
        sizes = (shape.words, AFFIXES, AFFIXES, CASES, shape.separators, shape.separators)
        self.tables = nn.ParameterList(nn.Parameter(torch.randn(n, e) * e**-0.5) for n in sizes)
        self.embedded_gain = nn.Parameter(torch.ones(e))
        self.widen = _matrix(d, e)
        self.blocks = nn.ModuleList(Block(shape) for _ in range(shape.layers))
        self.final_gain = nn.Parameter(torch.ones(d))
        self.stir_gain = nn.Parameter(torch.ones(d))
        self.stir = nn.Linear(d, 3)
        self.gap_before, self.gap_after, self.right = (
            nn.Linear(d, n) for n in (shape.proposed + 2, shape.proposed + 2, shape.meant + 1)
        )
        self.hidden_word, self.missing_word = (_matrix(e, d) for _ in range(2))
        self.list_bias = nn.Parameter(torch.zeros(shape.words))
        for name, table in zip(
            ("cosines", "sines"), rotation_tables(HEAD_WIDTH, LONGEST), strict=True
        ):
            self.register_buffer(name, torch.from_numpy(table), persistent=False)
        for head in (self.stir, self.gap_before, self.gap_after, self.right):
            nn.init.normal_(head.weight, std=0.02)
            nn.init.zeros_(head.bias)

    def forward(self, rows: Tensor) -> Reading:
        """Read windows."""
        x = sum(F.embedding(rows[..., i], t) for i, t in enumerate(self.tables))
        x = F.layer_norm(x, (self.shape.table_width,), self.embedded_gain)
        x = F.dropout(F.linear(x, self.widen), self.shape.dropout, self.training)
        width = self.shape.width
        for block in self.blocks[: self.shape.skimming]:
            x = block(x, self.cosines[: rows.shape[1]], self.sines[: rows.shape[1]])
        stir = self.stir(F.layer_norm(x, (width,), self.stir_gain)).float()
        places = torch.arange(rows.shape[1], device=rows.device).expand(rows.shape[0], -1)
        if self.shape.close:
            places = stirring(stir.detach(), rows[..., WORD] == MASK)
            x = x.gather(1, places[..., None].expand(-1, -1, width))
            cosines, sines = self.cosines[places][:, None], self.sines[places][:, None]
            for block in self.blocks[self.shape.skimming :]:
                x = block(x, cosines, sines)
        return Reading(F.layer_norm(x, (width,), self.final_gain), places, stir)

    def over_list(self, states: Tensor, *, missing: bool) -> Tensor:
        """Scores over the whole word list for hidden words, or for words missing before."""
        lens = self.missing_word if missing else self.hidden_word
        return F.linear(F.linear(states, lens), self.tables[0], self.list_bias)

    def plain_weights(self) -> dict[str, npt.NDArray[np.float32]]:
        """The weights that the running graph needs, matrices as (in, out), by plain names."""
        out: dict[str, npt.NDArray[np.float32]] = {}

        def put(name: str, weight: Tensor, *, turn: bool = False) -> None:
            array = weight.detach().float().cpu().numpy()
            out[name] = np.ascontiguousarray(array.T if turn else array)

        names = ("word", "head", "tail", "case", "before", "after")
        for name, table in zip(names, self.tables, strict=True):
            put(f"table.{name}", table)
        put("embedded.gain", self.embedded_gain)
        put("widen", self.widen, turn=True)
        put("final.gain", self.final_gain)
        put("stir.gain", self.stir_gain)
        for i, block in enumerate(self.blocks):
            assert isinstance(block, Block)
            p = f"layer.{i}"
            put(f"{p}.norm1.gain", block.gain1)
            put(f"{p}.norm2.gain", block.gain2)
            put(f"{p}.qkv", torch.cat((block.q, block.k, block.v)), turn=True)
            for name in ("out", "up", "down"):
                put(f"{p}.{name}", getattr(block, name), turn=True)
            put(f"{p}.up_bias", block.up_bias)
        for name in ("stir", "gap_before", "gap_after", "right"):
            head = getattr(self, name)
            put(name, head.weight, turn=True)
            put(f"{name}.bias", head.bias)
        put("missing_word", self.missing_word, turn=True)
        put("list_bias", self.list_bias)
        return out
