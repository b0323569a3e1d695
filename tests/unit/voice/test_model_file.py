import pytest
from reglet.voice.model_file import _message, graph_of


def node(*, takes=(), gives=(), name="", operation=""):
    """A node, encoded by hand."""
    body = b"".join(_message(1, each.encode()) for each in takes)
    body += b"".join(_message(2, each.encode()) for each in gives)
    return _message(1, body + _message(3, name.encode()) + _message(4, operation.encode()))


def model(*nodes, constants=(), outputs=("sound",), inputs=("input",)):
    """A model of these nodes, encoded by hand."""
    graph = b"".join(nodes)
    graph += b"".join(_message(5, _message(9, b"\0" * 200) + _message(8, c)) for c in constants)
    graph += b"".join(_message(11, _message(1, each.encode())) for each in inputs)
    graph += b"".join(_message(12, _message(1, each.encode())) for each in outputs)
    return b"\x08\x07" + _message(7, graph)  # the version, a number, comes first


def test_a_graph_is_read_and_put_together_anew():
    first = node(takes=("input", "w"), gives=("x",), name="/one/Conv", operation="Conv")
    last = node(takes=("x", "v"), gives=("sound",), name="/two/Tanh", operation="Tanh")
    graph = graph_of(model(first, last, constants=(b"w", b"v")))
    assert [(n.takes, n.gives, n.name, n.operation) for n in graph.nodes] == [
        (("input", "w"), ("x",), "/one/Conv", "Conv"),
        (("x", "v"), ("sound",), "/two/Tanh", "Tanh"),
    ]
    assert graph.outputs == ("sound",)
    front = graph_of(graph.part([graph.nodes[0]], None, ["x"]))
    assert (len(front.nodes), front.outputs, list(front.constants)) == (1, ("x",), ["w"])
    back = graph_of(graph.part([graph.nodes[1]], "x", ["sound"]))
    assert (back.nodes[0].name, back.outputs, list(back.constants)) == (
        "/two/Tanh",
        ("sound",),
        ["v"],
    )


@pytest.mark.parametrize("length", [1, 127, 128, 300, 20_000])
def test_a_name_of_any_length_is_encoded(length):
    name = "n" * length
    graph = graph_of(graph_of(model(node(gives=("sound",)))).with_output(name))
    assert graph.outputs == ("sound", name)


@pytest.mark.parametrize("given", [b"\x0f\x00", b"\x3a\x7fx", b"\xff" * 20, b"\x3a"])
def test_bytes_that_are_no_model_are_refused(given):
    with pytest.raises(ValueError, match="ONNX"):
        graph_of(given)
