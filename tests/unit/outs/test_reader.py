"""The model says the same on every machine, and is asked once for the same words."""

import json

import numpy as np
import pytest
from reglet import resources
from reglet.outs import at_hand
from reglet.outs.levelling import words
from reglet.outs.network import HEADS
from reglet.outs.suspicion import Kind, Step

SAMPLE = json.loads(resources.path("outs", "sample.json").read_text("utf-8"))
NEAR = 0.02  # processors round int8 products alike, but not the sums around them


@pytest.mark.parametrize("stored", SAMPLE, ids=lambda stored: stored["text"][:20])
def test_scores_are_those_that_were_stored(stored):
    reader = at_hand.reader()
    scores = reader.network.scores(reader.lexicon.rows(words(stored["text"])))
    for head in HEADS:
        assert np.allclose(1 - scores.nothing[head], stored[head], atol=NEAR), head


@pytest.mark.parametrize(
    ("text", "kind", "marked", "first"),
    [
        (
            "He put the letter back its envelope and looked at the rain.",
            Kind.OUT,
            "its envelope",
            "in",
        ),
        ("The lamp had gone out, and nobody in kitchen moved.", Kind.OUT, "kitchen moved.", "the"),
        (
            "He could not breath in the smoke of the kitchen.",
            Kind.WRONG_WORD,
            "breath in",
            "breathe",
        ),
    ],
)
def test_it_says_where_and_what(text, kind, marked, first):
    (found,) = at_hand.reader().suspicions([text], Step.NARROW)[0]
    assert found.kind is kind
    assert text[found.start :].startswith(marked)
    assert found.proposals[0][0] == first


def test_what_it_said_of_a_window_is_kept(monkeypatch):
    reader = at_hand.reader()
    paragraphs = [
        f"The {word} stood by the wall, and the rain came down on it all that long night, as it "
        "had come down for a week, until the yard was one brown pool and the hens sat in the cart."
        for word in "lamp spade ladder barrow trough bucket basin churn kettle crate barrel".split()
    ]
    once = reader.suspicions(paragraphs, Step.WIDE)
    asked = []
    read = type(reader.network).scores
    monkeypatch.setattr(
        type(reader.network), "scores", lambda self, rows: (asked.append(rows), read(self, rows))[1]
    )
    assert reader.suspicions(paragraphs, Step.WIDE) == once
    assert asked == []
    reader.suspicions([*paragraphs[:5], "He came back.", *paragraphs[6:]], Step.WIDE)
    assert len(asked) < 4


def test_a_narrower_step_says_a_part_of_a_wider_one():
    text = ["He went the shop. It was quiet dark by then, and nobody in kitchen moved."]
    wide, even, narrow = (set(at_hand.reader().suspicions(text, step)[0]) for step in Step)
    assert narrow <= even <= wide


def test_without_its_library_it_says_so_in_a_sentence(monkeypatch):
    monkeypatch.setattr(at_hand, "find_spec", lambda name: None)
    assert at_hand.what_is_missing().endswith("Everything else works.")
    at_hand.reader.cache_clear()
    with pytest.raises(at_hand.ReaderMissing, match="onnxruntime"):
        at_hand.reader()
