"""Set the three steps of strictness on held-out novels, and store a sample of scores.

A step's lines are the scores over which one clean word in so many lies. The sample, sentences made
up for it, lets any machine check that it scores as the one did that made the model.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from reglet.outs.levelling import words
from reglet.outs.network import HEADS
from reglet.outs.suspicion import Kind, Step

from .measure import Model, Result, summary

# Words for each false alarm that a step aims at.
STEPS = {
    Step.WIDE: {Kind.OUT: 1_000, Kind.WRONG_WORD: 2_000},
    Step.EVEN: {Kind.OUT: 5_000, Kind.WRONG_WORD: 5_000},
    Step.NARROW: {Kind.OUT: 10_000, Kind.WRONG_WORD: 10_000},
}
SAMPLE = (
    "The lamp had gone out, and nobody in kitchen moved.",
    "“You’re late,” said Marta, to tired too be angry.",
    "He put the letter back its envelope and looked at the rain.",
    "They walked along the harbour wall until the light failed.",
    "It was quiet dark by then, and the road was full of.",
)


def calibrate(model: Path, results: Sequence[Result]) -> None:
    """Write `strictness.json` and `sample.json` into the model's folder."""
    table = summary(results)
    steps = {
        step: {
            Kind.OUT: table[f"out 1/{per[Kind.OUT]}"]["line"],
            Kind.WRONG_WORD: table[f"wrong 1/{per[Kind.WRONG_WORD]}"]["line"],
        }
        for step, per in STEPS.items()
    }
    (model / "strictness.json").write_text(json.dumps(steps, indent=1) + "\n", encoding="utf-8")
    write_sample(model)


def write_sample(model: Path) -> None:
    """Store what the model says of SAMPLE: for each sentence, three scores a word."""
    tagger = Model.load(model)
    stored = []
    for sentence in SAMPLE:
        scores = tagger.network.scores(tagger.lexicon.rows(words(sentence)))
        columns = {
            head: [round(float(v), 4) for v in 1 - np.asarray(scores.nothing[head])]
            for head in HEADS
        }
        stored.append({"text": sentence, **columns})
    (model / "sample.json").write_text(
        json.dumps(stored, ensure_ascii=False, indent=1) + "\n", encoding="utf-8"
    )
