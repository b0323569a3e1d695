"""One command from a folder of plain texts to the model that Reglet ships.

    cd packaging
    python -m outs_model TEXTS --test OTHER_TEXTS --work WORK --out ../resources/outs

Steps, each skipped when its result is there already: prepare (WORK/packed), train a large tagger
(WORK/teacher), a small one that learns from it (WORK/student), go on with that one under its own
eye (WORK/polish), let it learn to skim and to read closely only what stirs (WORK/skim), train two
more large ones (WORK/second, WORK/third), let the small one learn from what these two and the
polished one say together (WORK/final), export, calibrate on the held-out texts, measure on
OTHER_TEXTS. Training takes about an hour and a half on two H100; `--gpus 0` trains on the CPU, for
trials with `--steps-share`.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from reglet.outs.lexicon import Lexicon

from . import prepare
from .calibrate import calibrate
from .export import export
from .measure import measure, realised, summary
from .packing import save_packed

HELD_OUT = 10
SEED = 1
TEACHER = "--width 768 --skimming 9 --dropout 0.15 --decay 0.2 --seed 1"
STUDENT = "--width 448 --skimming 7 --dropout 0.05 --decay 0.1 --seed 2"
POLISH = "--width 448 --skimming 7 --dropout 0.1 --decay 0.1 --seed 3 --rate 6e-4"
SKIM = "--width 448 --skimming 3 --close 4 --dropout 0.1 --decay 0.1 --seed 4 --rate 8e-4 --near"
SECOND = "--width 768 --skimming 9 --dropout 0.15 --decay 0.2 --seed 11"
THIRD = "--width 768 --skimming 9 --dropout 0.1 --decay 0.6 --seed 12 --near"
FINAL = (
    "--width 448 --skimming 3 --close 4 --dropout 0.1 --decay 0.1 --seed 13 --rate 1.2e-3 --near"
)
# Steps as run on two GPUs, 98,304 words a step together; one GPU takes twice as many.
STEPS = {
    "teacher": 6_461,
    "student": 8_141,
    "polish": 3_461,
    "skim": 3_601,
    "second": 5_671,
    "third": 5_611,
    "final": 8_461,
}


def prepare_texts(paths: Sequence[Path], held_out: set[str], packed: Path) -> None:
    """Read all texts, draw the lexicon from those not held out, and pack both."""
    packed.mkdir(parents=True, exist_ok=True)
    raws = prepare.read_all(paths)
    chosen = [p.name.split(".")[0] in held_out for p in paths]
    training = [r for r, held in zip(raws, chosen, strict=True) if not held]
    lexicon = prepare.make_lexicon(training)
    lexicon.save(packed / "lexicon.json")
    rest = [r for r, held in zip(raws, chosen, strict=True) if held]
    save_packed(prepare.pack(rest, lexicon), packed / "validation.packed")
    save_packed(prepare.pack(training, lexicon), packed / "train.packed")


def train_one(name: str, settings: str, work: Path, gpus: int, share: float) -> Path:
    """Train one tagger in a process of its own, one for each GPU; give its best checkpoint."""
    best = work / name / "best.pt"
    if best.exists():
        return best
    steps = int(STEPS[name] * 2 / max(1, gpus) * share)
    start = [sys.executable]
    if gpus > 1:
        start += ["-m", "torch.distributed.run", "--nproc_per_node", str(gpus)]
    subprocess.run(
        [
            *start,
            "-m",
            "outs_model.train",
            "--packed",
            str(work / "packed"),
            "--out",
            str(work / name),
            "--steps",
            str(steps),
            "--windows",
            "256",
            *settings.split(),
        ],
        check=True,
        cwd=Path(__file__).parent.parent,
    )
    return best


def main() -> None:
    """Run all steps."""
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("texts", type=Path)
    p.add_argument("--test", type=Path, required=True, help="texts never trained on")
    p.add_argument("--work", type=Path, required=True)
    p.add_argument("--out", type=Path, required=True)
    p.add_argument("--gpus", type=int, default=2)
    p.add_argument("--steps-share", type=float, default=1.0, help="part of the training steps")
    p.add_argument("--processes", type=int, default=2)
    p.add_argument("--held-out", nargs="*", help="names of held-out texts; else ten by lot")
    a = p.parse_args()
    work: Path = a.work.resolve()
    paths = prepare.texts(a.texts)
    names = sorted(p.name.split(".")[0] for p in paths)
    held_out = set(a.held_out or random.Random(SEED).sample(names, min(HELD_OUT, len(names) // 2)))
    if not (work / "packed" / "train.packed").exists():
        prepare_texts(paths, held_out, work / "packed")
    teacher = train_one("teacher", TEACHER, work, a.gpus, a.steps_share)
    student = train_one("student", f"{STUDENT} --teachers {teacher}", work, a.gpus, a.steps_share)
    polished = train_one(
        "polish",
        f"{POLISH} --begin-at {student} --teachers {student} --teacher-share 0.4",
        work,
        a.gpus,
        a.steps_share,
    )
    skimming = train_one(
        "skim",
        f"{SKIM} --begin-at {polished} --teachers {polished} --teacher-share 0.4",
        work,
        a.gpus,
        a.steps_share,
    )
    one = min(a.gpus, 1)  # these two had one GPU each: half as many words a step
    second = train_one("second", SECOND, work, one, a.steps_share)
    third = train_one("third", THIRD, work, one, a.steps_share)
    final = train_one(
        "final",
        f"{FINAL} --begin-at {skimming} --teachers {second} {third} {polished} --teacher-share 0.8",
        work,
        a.gpus,
        a.steps_share,
    )
    lexicon = Lexicon.load(work / "packed" / "lexicon.json")
    export(final, lexicon, a.out)
    held = [path for path in paths if path.name.split(".")[0] in held_out]
    calibrate(a.out, measure(a.out, held, a.processes))
    results = measure(a.out, prepare.texts(a.test), a.processes)
    reader_lines = (a.out / "strictness.json").read_text("utf-8")
    for name, row in summary(results).items():
        print(name, row)
    for name, row in realised(results, json.loads(reader_lines)).items():
        print(name, row)


if __name__ == "__main__":
    main()
