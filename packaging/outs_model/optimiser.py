"""The optimisers: orthogonalised momentum for the large matrices, AdamW for the rest.

Orthogonalised momentum ("Muon"): Jordan and others, 2024; the step is scaled to that of AdamW as
in Liu and others, "Muon is Scalable for LLM Training", 2025. Both are published methods.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

import torch
from torch import Tensor, nn


def _orthogonal(matrices: Tensor) -> Tensor:
    """The nearest half-orthogonal matrices, by five Newton-Schulz steps; (n, rows <= columns)."""
    x = matrices.bfloat16() if matrices.is_cuda else matrices
    x = x / (x.norm(dim=(1, 2), keepdim=True) + 1e-7)
    for _ in range(5):
        square = x @ x.mT
        x = 3.4445 * x + (-4.7750 * square + 2.0315 * square @ square) @ x
    return x


class Orthogonalised:
    """Momentum whose step is made orthogonal; matrices of one shape are worked together."""

    def __init__(self, matrices: Iterable[nn.Parameter], decay: float) -> None:
        groups: dict[torch.Size, list[nn.Parameter]] = defaultdict(list)
        for matrix in matrices:
            groups[matrix.shape].append(matrix)
        self.groups = list(groups.values())
        self.momenta = [torch.zeros_like(torch.stack(list(g))) for g in self.groups]
        self.decay = decay

    @torch.no_grad()
    def step(self, rate: float, momentum: float = 0.95) -> None:
        """One step at learning rate `rate`."""
        for group, held in zip(self.groups, self.momenta, strict=True):
            gradients = torch.stack([p.grad for p in group if p.grad is not None])
            held.lerp_(gradients, 1 - momentum)
            ahead = gradients.lerp(held, momentum)
            tall = ahead.shape[1] > ahead.shape[2]
            change = _orthogonal(ahead.mT if tall else ahead)
            change = (change.mT if tall else change).float()
            change *= 0.2 * max(ahead.shape[1:]) ** 0.5
            parameters: list[Tensor] = list(group)
            torch._foreach_mul_(parameters, 1 - rate * self.decay)
            torch._foreach_add_(parameters, list(change.unbind()), alpha=-rate)


class Optimiser:
    """Both optimisers over one model, under one learning rate."""

    def __init__(self, model: nn.Module, *, decay: float, orthogonal: bool = True) -> None:
        matrices, others = [], []
        for name, parameter in model.named_parameters():
            inner = ".blocks." in f".{name}" and parameter.ndim == 2
            (matrices if orthogonal and inner else others).append(parameter)
        self.matrices = Orthogonalised(matrices, decay) if matrices else None
        fused = others[0].is_cuda
        wide = [p for p in others if p.ndim == 2]
        thin = [p for p in others if p.ndim != 2]
        groups = [
            {"params": wide, "weight_decay": decay if not orthogonal else 0.01},
            {"params": thin, "weight_decay": 0.0},
        ]
        self.adam = torch.optim.AdamW(groups, lr=1e-3, betas=(0.9, 0.98), fused=fused)

    def step(self, rate: float) -> None:
        """One step, then forget the gradients."""
        for group in self.adam.param_groups:
            group["lr"] = rate
        self.adam.step()
        if self.matrices is not None:
            self.matrices.step(rate)
        for group in self.adam.param_groups:
            for p in group["params"]:
                p.grad = None
        if self.matrices is not None:
            for matrices in self.matrices.groups:
                for p in matrices:
                    p.grad = None
