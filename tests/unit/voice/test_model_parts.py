import pytest
from reglet.voice.model_file import graph_of
from reglet.voice.model_parts import parts

from tests.unit.voice.test_model_file import model, node

CEIL = node(takes=("d",), gives=("frames",), operation="Ceil")
PLAN = node(takes=("input",), gives=("plan",), name="/flow/Mul", operation="Mul")
CONV = node(takes=("plan", "w"), gives=("a",), name="/dec/Conv", operation="Conv")
TANH = node(takes=("a",), gives=("b",), name="/dec/Tanh", operation="Tanh")
LAST = node(takes=("b",), gives=("sound",), name="/Unsqueeze", operation="Unsqueeze")


def test_planning_and_sounding_are_parted():
    made = parts(model(CEIL, PLAN, CONV, TANH, LAST, constants=(b"w",)))
    planning, sounding = graph_of(made.planning), graph_of(made.sounding)
    assert made.tells_frames
    assert [n.name for n in planning.nodes] == ["", "/flow/Mul"]
    assert planning.outputs == ("plan", "frames")
    assert [n.name for n in sounding.nodes] == ["/dec/Conv", "/dec/Tanh"]
    assert sounding.outputs == ("b",)
    assert (list(planning.constants), list(sounding.constants)) == ([], ["w"])


SKIPS = node(takes=("plan", "d"), gives=("a",), name="/dec/Conv", operation="Conv")


@pytest.mark.parametrize(
    ("nodes", "outputs", "whole_gives", "tells"),
    [
        ((PLAN, CEIL), ("sound",), ("sound", "frames"), True),
        ((PLAN, CEIL), ("sound", "frames"), ("sound", "frames"), True),
        ((PLAN,), ("sound",), ("sound",), False),
        ((CEIL, CEIL), ("sound",), ("sound",), False),
        # Two tensors pass from the one to the other, so they stay together.
        ((CEIL, PLAN, SKIPS, TANH, LAST), ("sound",), ("sound", "frames"), True),
        ((CEIL, PLAN, CONV, TANH, LAST), ("sound", "a"), ("sound", "a", "frames"), True),
    ],
)
def test_what_cannot_be_parted_stays_whole(nodes, outputs, whole_gives, tells):
    made = parts(model(*nodes, constants=(b"w",), outputs=outputs))
    assert made.sounding is None
    assert graph_of(made.planning).outputs == whole_gives
    assert made.tells_frames is tells
