"""A Piper voice taken apart: what plans the speech, and what makes it sound.

The planning part works out a whole number of frames for every phoneme (the result of its one Ceil
node) and keeps it to itself; naming that tensor among the outputs is enough to be told when each
word is heard. The sounding part, whose nodes PyTorch has named after their module `dec`, sees no
more of the plan at a time than a few frames to each side. Run apart it can take a long sentence a
window at a time, so that the memory needed does not grow with the sentence.
"""

from __future__ import annotations

from dataclasses import dataclass

from reglet.voice.model_file import Graph, Node, graph_of

_SOUNDING = "/dec/"


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts as ONNX models. `planning` gives first what `sounding` takes, and then, if
    `tells_frames`, how many frames each phoneme lasts. Where a voice cannot be taken apart,
    `sounding` is None and `planning` the whole: its first output is the sound itself.
    """

    planning: bytes
    sounding: bytes | None
    tells_frames: bool


def parts(model: bytes) -> Parts:
    """The parts of a voice in an ONNX file. Raises ValueError for bytes that are no model."""
    graph = graph_of(model)
    frames = _frames(graph)
    apart = _apart(graph)
    if apart is None:
        if frames is not None and frames not in graph.outputs:
            return Parts(graph.with_output(frames), None, True)
        return Parts(model, None, frames is not None and graph.outputs[1:2] == (frames,))
    planning, plan, sounding, sound = apart
    gives = [plan] if frames is None else [plan, frames]
    return Parts(
        graph.part(planning, None, gives),
        graph.part(sounding, plan, [sound]),
        frames is not None,
    )


def _frames(graph: Graph) -> str | None:
    """The tensor of each phoneme's frames, if there is one that can be no other."""
    ceiled = [name for node in graph.nodes if node.operation == "Ceil" for name in node.gives]
    return ceiled[0] if len(ceiled) == 1 else None


def _apart(graph: Graph) -> tuple[list[Node], str, list[Node], str] | None:
    """The planning nodes and what they give on, the sounding nodes and what they give.

    None where more than one tensor passes between them either way.
    """
    sounding = [node for node in graph.nodes if node.name.startswith(_SOUNDING)]
    inside = {name for node in sounding for name in node.gives}
    taken = {
        name
        for node in sounding
        for name in node.takes
        if name and name not in inside and name not in graph.constants
    }
    after = set(inside)
    planning: list[Node] = []
    given: set[str] = set()
    for node in graph.nodes:  # a model lists them in the order in which they run
        if node.name.startswith(_SOUNDING):
            continue
        if after.isdisjoint(node.takes):
            planning.append(node)
        else:
            after.update(node.gives)
            given.update(inside.intersection(node.takes))
    given.update(inside.intersection(graph.outputs))
    if len(taken) != 1 or len(given) != 1:
        return None
    return planning, taken.pop(), sounding, given.pop()
