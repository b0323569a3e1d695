"""A Piper voice made to tell how long each phoneme lasts.

The model works out a whole number of frames for every phoneme (the result of its one Ceil node) and
keeps it to itself. Naming that tensor among the outputs is enough to be told. The file is in
Protocol Buffers (the encoding is described at protobuf.dev), where a message that follows another
is merged into it, so the few bytes that name the output are put behind the model's own, and no
library is needed to read the graph.
"""

from __future__ import annotations

from collections.abc import Iterator

# Fields of onnx.proto3 (the ONNX standard's own description of its files).
_MODEL_GRAPH = 7
_GRAPH_NODE, _GRAPH_OUTPUT = 1, 12
_NODE_OUTPUT, _NODE_OPERATION = 2, 4
_VALUE_NAME = 1


def with_durations(model: bytes) -> bytes:
    """The model with the frames of each phoneme as its second output.

    A model that has no single such tensor, or names it already, is returned as it is: it speaks,
    but does not say when. Raises ValueError for bytes that are no model.
    """
    try:
        (tensor,) = _ceiled(model)
    except ValueError as error:
        if "unpack" in str(error):
            return model
        raise
    if tensor in _outputs(model):
        return model
    value = _message(_VALUE_NAME, tensor)
    return model + _message(_MODEL_GRAPH, _message(_GRAPH_OUTPUT, value))


def _ceiled(model: bytes) -> list[bytes]:
    found = []
    for start, end in _fields(model, 0, len(model), _MODEL_GRAPH):
        for node in _fields(model, start, end, _GRAPH_NODE):
            operation = [model[a:b] for a, b in _fields(model, *node, _NODE_OPERATION)]
            if operation == [b"Ceil"]:
                found += [model[a:b] for a, b in _fields(model, *node, _NODE_OUTPUT)]
    return found


def _outputs(model: bytes) -> list[bytes]:
    return [
        model[a:b]
        for graph in _fields(model, 0, len(model), _MODEL_GRAPH)
        for output in _fields(model, *graph, _GRAPH_OUTPUT)
        for a, b in _fields(model, *output, _VALUE_NAME)
    ]


def _message(field: int, body: bytes) -> bytes:
    if len(body) > 0x7F:
        return bytes([field << 3 | 2, len(body) & 0x7F | 0x80, len(body) >> 7]) + body
    return bytes([field << 3 | 2, len(body)]) + body


def _fields(data: bytes, at: int, end: int, wanted: int) -> Iterator[tuple[int, int]]:
    """Where the contents of each field of that number lie in a message. Raises ValueError."""
    while at < end:
        key, at = _number(data, at, end)
        kind = key & 7
        if kind == 2:
            length, at = _number(data, at, end)
        elif kind == 0:
            _, after = _number(data, at, end)
            length = after - at
        elif kind in (1, 5):
            length = 8 if kind == 1 else 4
        else:
            raise ValueError("this is no ONNX model: a field of an unknown kind")
        if at + length > end:
            raise ValueError("this ONNX model breaks off")
        if key >> 3 == wanted:
            yield at, at + length
        at += length


def _number(data: bytes, at: int, end: int) -> tuple[int, int]:
    value = shift = 0
    while at < end and shift < 64:
        byte = data[at]
        at += 1
        value |= (byte & 0x7F) << shift
        if byte < 0x80:
            return value, at
        shift += 7
    raise ValueError("this ONNX model breaks off in a number")
