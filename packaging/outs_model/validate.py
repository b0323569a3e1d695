"""How much a tagger finds on held-out novels at given rates of false alarm, during training.

The windows and the damage are the same every time. `packaging/outs_model/measure.py` measures the
finished model on whole texts instead.
"""

from __future__ import annotations

import numpy as np
import torch
from reglet.outs.lexicon import HYPHEN, PLAIN
from torch import Tensor, nn

from .corruption import Batch, Rates, Source

PER_WORDS = (1_000, 2_000, 5_000, 10_000)
ONE_IN = 400  # one word in so many is left out, or exchanged
MARGIN = 32
HEADS = ("gap_before", "gap_after", "right")


class Validation:
    """Three copies of a text: clean, with words left out, with words exchanged."""

    def __init__(self, source: Source, length: int, most_words: int) -> None:
        self.source, self.length = source, length
        starts: list[int] = []
        ends: list[int] = []
        begins = np.append(source.starts, source.length)
        at, last = 0, min(source.length, most_words) - 1
        while at < last:
            end = int(begins[np.searchsorted(begins, at + length, side="right") - 1])
            if end <= at:
                end = min(at + length - MARGIN, source.length)
            starts.append(at)
            ends.append(end)
            at = end
        self.starts = torch.tensor(starts, device=source.device)
        self.ends = torch.tensor(ends, device=source.device)
        self.words = at

    @torch.no_grad()
    def measure(self, model: nn.Module) -> dict[str, float]:
        """Shares found (percent) at each rate of false alarms, and their mean as `score`."""
        clean_gap, clean_right, _, _, _ = self._scores(model, Rates(0, 0, 0, 0))
        out: dict[str, float] = {}
        _, _, found, named, kinds = self._scores(model, Rates(1 / ONE_IN, 0, 0, 0))
        for per in PER_WORDS:
            line = _threshold(clean_gap, self.words / per)
            out[f"outs_{per}"] = round(100 * (found > line).float().mean().item(), 2)
        line = _threshold(clean_gap, self.words / 1000)
        out["outs_read"] = round(100 * (found > 0).float().mean().item(), 2)
        out["outs_named"] = round(100 * named[found > line].float().mean().item(), 1)
        out["outs_function_5000"] = round(
            100 * (found > _threshold(clean_gap, self.words / 5000))[kinds].float().mean().item(), 1
        )
        _, _, found, named, _ = self._scores(model, Rates(0, 1 / ONE_IN, 0, 0))
        for per in PER_WORDS:
            line = _threshold(clean_right, self.words / per)
            out[f"wrong_{per}"] = round(100 * (found > line).float().mean().item(), 2)
        out["wrong_read"] = round(100 * (found > 0).float().mean().item(), 2)
        out["score"] = round(
            float(np.mean([v for k, v in out.items() if k.count("_") == 1 and k[-1] == "0"])), 3
        )
        return out

    def _scores(self, model: nn.Module, rates: Rates) -> tuple[Tensor, ...]:
        """All gap scores, all word scores, then for the damaged places: score, was the first
        proposal right, is it a common word.
        """
        generator = torch.Generator(self.source.device).manual_seed(7)
        gaps, rights, founds, nameds, kinds = [], [], [], [], []
        for i in range(0, len(self.starts), 512):
            starts, ends = self.starts[i : i + 512], self.ends[i : i + 512]
            batch = self.source.batch(starts, self.length, rates, generator)
            inside = (batch.source >= starts[:, None]) & (batch.source < ends[:, None])
            device = self.source.device.type
            with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
                read = model(batch.rows)
                scores = {name: getattr(model, name)(read.states) for name in HEADS}
            for name, usable in self._usable(batch, inside):
                answer = getattr(batch, name)
                shares = scores[name].float().softmax(-1)
                # What is not read closely is held to be right.
                score = torch.zeros(answer.shape, device=answer.device)
                score.scatter_(1, read.places, 1 - shares[..., 0])
                best = torch.zeros_like(answer)
                best.scatter_(1, read.places, shares[..., 1:].argmax(-1) + 1)
                (rights if name == "right" else gaps).append(score[usable & (answer == 0)])
                hit = usable & (answer > 0)
                wanted = (name == "right") == (rates.exchanged > 0)
                if wanted:
                    founds.append(score[hit])
                    nameds.append(best[hit] == answer[hit])
                    kinds.append(answer[hit] <= 200)
        return tuple(
            torch.cat(x) if x else torch.empty(0) for x in (gaps, rights, founds, nameds, kinds)
        )

    @staticmethod
    def _usable(batch: Batch, inside: Tensor) -> list[tuple[str, Tensor]]:
        """The places where each head may set a mark."""
        before, after = batch.rows[..., 4], batch.rows[..., 5]
        return [
            ("gap_before", inside & (before != HYPHEN)),
            ("gap_after", inside & (after != PLAIN) & (after != HYPHEN)),
            ("right", inside),
        ]


def _threshold(clean: Tensor, alarms: float) -> float:
    """The score that so many clean places lie above."""
    return clean.topk(max(1, int(alarms))).values[-1].item()
