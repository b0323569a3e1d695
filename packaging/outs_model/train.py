"""Train a tagger on packed text; choose the checkpoint on held-out novels.

One process or several, one a GPU (torchrun). Runs on a CPU too, with small sizes. With `--teachers`
the tagger also learns from what others, trained the same way, say together of the same windows.
"""

from __future__ import annotations

import argparse
import json
import os
import time
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import torch
import torch.distributed as dist
import torch.nn.functional as F  # noqa: N812 - the name that all of torch's users know
from reglet.outs.lexicon import Lexicon
from torch import Tensor, nn

from .corruption import IGNORED, Rates, Source
from .nearness import weights
from .network import Shape, Tagger
from .optimiser import Optimiser
from .packing import load_packed
from .validate import HEADS, Validation

EMA = 0.998
WARM = 20  # steps before the clock starts: compiling is over by then
ANSWERS = ("gap_before", "gap_after", "right", "missing", "original")


@dataclass(frozen=True, slots=True)
class Plan:
    """One run of training. `minutes` bounds it: the schedule follows steps or time, whichever is
    further on, so that a slow machine still ends its schedule.
    """

    steps: int
    minutes: float
    windows: int
    length: int
    rate: float
    decay: float
    seed: int
    orthogonal: bool
    teacher_share: float
    check_seconds: float
    start: Path | None = None  # go on from this checkpoint, under the last corruption rates


def rates_at(done: float) -> Rates:
    """The corruption at a point of the run, from 0 to 1."""
    fall = max(0.0, 1 - done / 0.7)
    return Rates(
        left_out=0.012 + 0.048 * fall,
        exchanged=0.010 + 0.040 * fall,
        hidden=0.03 + 0.12 * fall,
        clean=0.40 - 0.35 * fall,
    )


def rate_at(done: float, peak: float) -> float:
    """Learning rate: a short rise, a level half, a straight fall to nearly nothing."""
    if done < 0.01:
        return peak * (0.05 + 0.95 * done / 0.01)
    return peak * min(1.0, max(0.01, (1 - done) / 0.65))


@torch.no_grad()
def taught(teachers: Sequence[Tagger], rows: Tensor) -> dict[str, Tensor]:
    """What the teachers, who read every word to the end, say on average: shares by head."""
    states = [teacher(rows).states for teacher in teachers]
    said: dict[str, Tensor] = {}
    for name in HEADS:
        shares = [
            getattr(teacher, name)(state).float().softmax(-1)
            for teacher, state in zip(teachers, states, strict=True)
        ]
        said[name] = torch.stack(shares).mean(0)
    return said


def head_loss(
    scores: Tensor, answer: Tensor, said: Tensor | None, share: float
) -> tuple[Tensor, Tensor]:
    """Loss of one head against the right answers and the teachers', and against the first alone."""
    loss = F.cross_entropy(scores, answer, ignore_index=IGNORED)
    if said is None:
        return loss, loss.detach()
    soft = -(said * scores.log_softmax(-1)).sum(-1).mean()
    return share * soft + (1 - share) * loss, loss.detach()


def stir_loss(stir: Tensor, answers: dict[str, Tensor], said: dict[str, Tensor] | None) -> Tensor:
    """Loss of what the skimming says, against what the teachers say; without any, against the
    right answers.
    """
    known = torch.stack([answers[name] != IGNORED for name in HEADS], -1).float()
    if said is None:
        wanted = torch.stack([answers[name] > 0 for name in HEADS], -1).float()
    else:
        wanted = torch.stack([1 - said[name][..., 0] for name in HEADS], -1)
    return F.binary_cross_entropy_with_logits(stir, wanted, known)


def losses(
    model: Tagger,
    rows: Tensor,
    answers: dict[str, Tensor],
    spots: int,
    weight: Tensor,
    said: dict[str, Tensor] | None,
    share: float,
) -> tuple[Tensor, Tensor]:
    """The loss, and its parts for the log (gap before, gap after, right, stir, hidden, missing).

    `spots` hidden words are predicted, with `weight` in the sum; `share` is the part of what the
    teachers have `said`.
    """
    read = model(rows)
    flat = read.states.flatten(0, 1)
    close = {name: answer.gather(1, read.places).flatten() for name, answer in answers.items()}
    parts: list[Tensor] = []
    total = flat.new_zeros((), dtype=torch.float32)
    for name in HEADS:
        scores = getattr(model, name)(flat).float()
        there = None
        if said is not None:
            places = read.places[..., None].expand(-1, -1, scores.shape[-1])
            there = said[name].gather(1, places).flatten(0, 1)
        loss, part = head_loss(scores, close[name], there, share)
        parts.append(part)
        total = total + loss
    loss = stir_loss(read.stir, answers, said)
    parts.append(loss.detach())
    total = total + loss
    for missing in (False, True):
        answer = close["missing" if missing else "original"]
        wanted = answer > 0
        pick = (
            (wanted + torch.rand_like(answer, dtype=torch.float32) * 0.5)
            .topk(spots // 4 if missing else spots)
            .indices
        )
        target = torch.where(wanted[pick], answer[pick], IGNORED)
        scores = model.over_list(flat[pick], missing=missing).float()
        loss = F.cross_entropy(scores, target, ignore_index=IGNORED, reduction="sum")
        loss = loss / (target != IGNORED).sum().clamp(min=1)
        parts.append(loss.detach())
        total = total + weight * loss * (0.5 if missing else 1.0)
    return total, torch.stack(parts)


def _share_gradients(model: nn.Module, world: int) -> None:
    """The mean of the gradients over all processes."""
    gradients = [p.grad for p in model.parameters() if p.grad is not None]
    flat = torch.cat([g.flatten() for g in gradients])
    dist.all_reduce(flat)
    flat /= world
    pieces = flat.split([g.numel() for g in gradients])
    torch._foreach_copy_(gradients, [s.view_as(g) for s, g in zip(pieces, gradients, strict=True)])


def save(model: Tagger, path: Path) -> None:
    """Shape and weights (half precision)."""
    weights = {k: v.detach().half().cpu() for k, v in model.state_dict().items()}
    torch.save({"shape": asdict(model.shape), "weights": weights}, path)


def load(path: Path, device: torch.device) -> Tagger:
    """What `save` wrote."""
    data = torch.load(path, map_location="cpu", weights_only=True)
    model = Tagger(Shape(**data["shape"]))
    model.load_state_dict({k: v.float() for k, v in data["weights"].items()})
    return model.to(device)


def _compile(model: Tagger) -> None:
    """Compile one block; the others of the same shape use the same code. Skimming and close
    reading, the teachers' and the pupil's, with and without dropout, are shapes of their own.
    """
    torch._dynamo.config.recompile_limit = 64
    for block in model.blocks:
        block.compile(dynamic=False)


def train(
    plan: Plan,
    shape: Shape,
    train_source: Source,
    validation: Validation | None,
    teachers: Sequence[Tagger],
    out: Path,
    started: float,
) -> None:
    """Run the plan; leaves `best.pt` and `log.jsonl` in `out`."""
    world = dist.get_world_size() if dist.is_initialized() else 1
    rank = dist.get_rank() if world > 1 else 0
    device = train_source.device
    torch.manual_seed(plan.seed)
    model = Tagger(shape).to(device)
    if plan.start is not None:
        model.load_state_dict(load(plan.start, device).state_dict())
    slow = Tagger(shape).to(device).eval()
    slow.load_state_dict(model.state_dict())
    optimiser = Optimiser(model, decay=plan.decay, orthogonal=plan.orthogonal)
    generator = torch.Generator(device).manual_seed(plan.seed * 1000 + rank + 1)
    torch.manual_seed(plan.seed * 1000 + rank + 1)
    if device.type == "cuda":
        _compile(model)
        for teacher in teachers:
            _compile(teacher)
    fast, held = list(model.parameters()), list(slow.parameters())
    log = (out / "log.jsonl").open("a", encoding="utf-8") if rank == 0 else None
    tokens, best, step, done, late = 0, -1.0, 0, 0.0, 0.0
    spots = max(64, int(plan.windows * plan.length * 0.06))
    next_check = started_here = time.monotonic()
    next_check += plan.check_seconds
    while done < 1:
        done = step / plan.steps
        if step == WARM:
            if device.type == "cuda":
                torch.cuda.synchronize()
            warm = time.monotonic()
            warm_tokens, to_go = tokens, max(1.0, started + 60 * plan.minutes - warm)
        if step % WARM == 0 and step:
            clock = torch.tensor((time.monotonic() - warm) / to_go, device=device)
            if world > 1:
                dist.broadcast(clock, 0)
            late = clock.item()
        done = min(1.0, max(done, late))
        far = done if plan.start is None else 1.0
        rates = rates_at(far)
        starts = train_source.random_starts(plan.windows, generator)
        batch = train_source.batch(starts, plan.length, rates, generator)
        with torch.autocast(device.type, torch.bfloat16, enabled=device.type == "cuda"):
            weight = torch.tensor(0.02 + 0.10 * max(0.0, 1 - far / 0.7), device=device)
            answers = {name: getattr(batch, name) for name in ANSWERS}
            said = taught(teachers, batch.rows) if teachers else None
            loss, parts = losses(
                model, batch.rows, answers, spots, weight, said, plan.teacher_share
            )
        loss.backward()
        if world > 1:
            _share_gradients(model, world)
        optimiser.step(rate_at(done, plan.rate))
        with torch.no_grad():
            torch._foreach_lerp_(held, fast, 1 - min(EMA, (step + 1) / (step + 10)))
        step += 1
        tokens += plan.windows * plan.length * world
        if log and (step % 200 == 0 or step == 5):
            rate = (tokens - warm_tokens) / (time.monotonic() - warm) if step > WARM else 0
            _write(
                log,
                {
                    "step": step,
                    "done": round(done, 4),
                    "words_s": round(rate),
                    "seconds": round(time.monotonic() - started_here),
                    "parts": [round(x, 4) for x in parts.tolist()],
                },
            )
        if log and validation and step > WARM and (done >= 1 or time.monotonic() > next_check):
            next_check = time.monotonic() + plan.check_seconds
            result = validation.measure(slow)
            _write(
                log,
                {
                    "step": step,
                    "done": round(done, 4),
                    "epochs": round(tokens / train_source.length, 2),
                    **result,
                },
            )
            if far > 0.3 and result["score"] > best:
                best = result["score"]
                save(slow, out / "best.pt")
    if log:
        save(slow, out / "last.pt")
        log.close()


def _write(log: object, row: dict[str, object]) -> None:
    line = json.dumps(row)
    print(line, flush=True)
    log.write(line + "\n")  # type: ignore[attr-defined]
    log.flush()  # type: ignore[attr-defined]


def main() -> None:
    """Train on what prepare wrote."""
    started = time.monotonic()
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("--packed", type=Path, required=True, help="what prepare wrote")
    p.add_argument("--out", type=Path, required=True)
    p.add_argument("--width", type=int, default=448)
    p.add_argument("--skimming", type=int, default=7, help="layers that read every word")
    p.add_argument("--close", type=int, default=0, help="layers that read only what stirs")
    p.add_argument("--dropout", type=float, default=0.1)
    p.add_argument("--steps", type=int, default=10_000)
    p.add_argument("--minutes", type=float, default=1e9)
    p.add_argument("--windows", type=int, default=384)
    p.add_argument("--length", type=int, default=192)
    p.add_argument("--rate", type=float, default=2e-3)
    p.add_argument("--decay", type=float, default=0.1)
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--adam", action="store_true", help="AdamW for every weight")
    p.add_argument("--teachers", type=Path, nargs="*", default=[])
    p.add_argument("--begin-at", type=Path, help="go on from a checkpoint of the same sizes")
    p.add_argument("--teacher-share", type=float, default=0.7)
    p.add_argument("--near", action="store_true", help="read most what is like the held-out texts")
    p.add_argument("--check-words", type=int, default=900_000)
    p.add_argument("--check-seconds", type=float, default=45)
    a = p.parse_args()
    world = int(os.environ.get("WORLD_SIZE", "1"))
    rank = int(os.environ.get("LOCAL_RANK", "0"))
    device = torch.device("cuda", rank) if torch.cuda.is_available() else torch.device("cpu")
    if device.type == "cuda":
        torch.cuda.set_device(device)
        torch.set_float32_matmul_precision("high")
    if world > 1:
        dist.init_process_group("nccl")
    a.out.mkdir(parents=True, exist_ok=True)
    lexicon = Lexicon.load(a.packed / "lexicon.json")
    texts = load_packed(a.packed / "train.packed")
    held_out = load_packed(a.packed / "validation.packed")
    source = Source(texts, lexicon, device)
    if a.near:
        source.weigh(weights(texts, held_out, lexicon.size))
    validation = None
    if rank == 0:
        validation = Validation(Source(held_out, lexicon, device), a.length, a.check_words)
    teachers = [load(path, device).eval().requires_grad_(False) for path in a.teachers]
    shape = Shape(
        lexicon.size,
        len(lexicon.separators),
        len(lexicon.proposed),
        len(lexicon.meant),
        a.width,
        a.skimming,
        a.close,
        dropout=a.dropout,
    )
    if rank == 0:
        print(f"loaded in {time.monotonic() - started:.0f} s; {source.length} words", flush=True)
    plan = Plan(
        a.steps,
        a.minutes,
        a.windows,
        a.length,
        a.rate,
        a.decay,
        a.seed,
        not a.adam,
        a.teacher_share,
        a.check_seconds,
        a.begin_at,
    )
    train(plan, shape, source, validation, teachers, a.out, started)
    if world > 1:
        dist.destroy_process_group()


if __name__ == "__main__":
    main()
