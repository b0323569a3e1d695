"""Reading and writing what is needed of an ONNX file, without a library for it.

The file is in Protocol Buffers (the encoding is described at protobuf.dev): a message is a row of
fields, each with a number and a kind. A field that is repeated may stand anywhere in its message,
and messages that follow one another are merged, so fields can be picked out and put together anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

# Fields of onnx.proto3 (the ONNX standard's own description of its files).
_MODEL_GRAPH = 7
_GRAPH_NODE, _GRAPH_INITIALIZER, _GRAPH_INPUT, _GRAPH_OUTPUT, _GRAPH_VALUE = 1, 5, 11, 12, 13
_NODE_INPUT, _NODE_OUTPUT, _NODE_NAME, _NODE_OPERATION = 1, 2, 3, 4
_TENSOR_NAME = 8
_VALUE_NAME, _VALUE_TYPE = 1, 2
_TYPE_TENSOR, _TENSOR_ELEMENTS, _FLOAT = 1, 1, 1


@dataclass(frozen=True, slots=True)
class Node:
    """One step of the graph: what it takes, gives, is called and does, and where it lies."""

    takes: tuple[str, ...]
    gives: tuple[str, ...]
    name: str
    operation: str
    at: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Graph:
    """The graph of a model: its nodes in order, the names of its outputs, and of its constants
    where they lie.
    """

    model: bytes
    nodes: tuple[Node, ...]
    outputs: tuple[str, ...]
    constants: dict[str, tuple[int, int]]

    def part(self, nodes: list[Node], takes: str | None, gives: list[str]) -> bytes:
        """A model of some of the nodes, in their order. It takes the tensor `takes`, of floats, or
        else what the whole model takes; and gives the tensors named in `gives`.
        """
        needed = {name for node in nodes for name in node.takes}
        fields = [self._again(_GRAPH_NODE, node.at) for node in nodes]
        fields += [
            self._again(_GRAPH_INITIALIZER, at)
            for name, at in self.constants.items()
            if name in needed
        ]
        (graph,) = _fields(self.model, 0, len(self.model), _MODEL_GRAPH)
        if takes is None:
            fields += [
                self._again(_GRAPH_INPUT, at) for at in _fields(self.model, *graph, _GRAPH_INPUT)
            ]
        else:
            fields.append(_message(_GRAPH_INPUT, _of_floats(takes)))
        fields += [_message(_GRAPH_OUTPUT, _message(_VALUE_NAME, name.encode())) for name in gives]
        fields.append(_message(2, b"part"))
        body = b"".join(fields)
        return b"".join(
            [
                *(
                    self.model[start:end]
                    for number, start, end, _ in _all(self.model, 0, len(self.model))
                    if number != _MODEL_GRAPH
                ),
                _message(_MODEL_GRAPH, body),
            ]
        )

    def with_output(self, name: str) -> bytes:
        """The model with one tensor more among its outputs."""
        value = _message(_VALUE_NAME, name.encode())
        return self.model + _message(_MODEL_GRAPH, _message(_GRAPH_OUTPUT, value))

    def _again(self, field: int, at: tuple[int, int]) -> bytes:
        return _message(field, self.model[slice(*at)])


def graph_of(model: bytes) -> Graph:
    """The graph in the bytes of an ONNX file. Raises ValueError for bytes that are none."""
    nodes: list[Node] = []
    outputs: list[str] = []
    constants: dict[str, tuple[int, int]] = {}
    for whole in _fields(model, 0, len(model), _MODEL_GRAPH):
        for number, _, end, start in _all(model, *whole):
            at = (start, end)
            if number == _GRAPH_NODE:
                nodes.append(
                    Node(
                        _texts(model, at, _NODE_INPUT),
                        _texts(model, at, _NODE_OUTPUT),
                        "".join(_texts(model, at, _NODE_NAME)),
                        "".join(_texts(model, at, _NODE_OPERATION)),
                        at,
                    )
                )
            elif number == _GRAPH_INITIALIZER:
                constants["".join(_texts(model, at, _TENSOR_NAME))] = at
            elif number == _GRAPH_OUTPUT:
                outputs += _texts(model, at, _VALUE_NAME)
    return Graph(model, tuple(nodes), tuple(outputs), constants)


def _of_floats(name: str) -> bytes:
    tensor = bytes([_TENSOR_ELEMENTS << 3, _FLOAT])
    kind = _message(_VALUE_TYPE, _message(_TYPE_TENSOR, tensor))
    return _message(_VALUE_NAME, name.encode()) + kind


def _message(field: int, body: bytes) -> bytes:
    length = bytearray()
    left = len(body)
    while left > 0x7F:
        length.append(left & 0x7F | 0x80)
        left >>= 7
    length.append(left)
    return bytes([field << 3 | 2]) + bytes(length) + body


def _texts(data: bytes, at: tuple[int, int], field: int) -> tuple[str, ...]:
    return tuple(data[a:b].decode("utf-8", "replace") for a, b in _fields(data, *at, field))


def _fields(data: bytes, at: int, end: int, wanted: int) -> Iterator[tuple[int, int]]:
    """Where the contents of each field of that number lie in a message. Raises ValueError."""
    for number, _, ends, contents in _all(data, at, end):
        if number == wanted:
            yield contents, ends


def _all(data: bytes, at: int, end: int) -> Iterator[tuple[int, int, int, int]]:
    """Each field of a message: its number, where it starts and ends, where its contents start.
    Raises ValueError.
    """
    while at < end:
        start = at
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
        yield key >> 3, start, at + length, at
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
