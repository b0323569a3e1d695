import pytest
from reglet.voice.durations import _ceiled, _message, _outputs, with_durations


def model(*nodes: tuple[bytes, bytes], outputs=(b"sound",)) -> bytes:
    """A model of these operations and their results, encoded by hand."""
    graph = b"".join(_message(1, _message(2, result) + _message(4, kind)) for kind, result in nodes)
    graph += b"".join(_message(12, _message(1, name)) for name in outputs)
    return b"\x08\x07" + _message(7, graph)  # the version, a number, comes first


def test_the_ceiled_tensor_becomes_an_output():
    made = with_durations(model((b"Conv", b"x"), (b"Ceil", b"frames")))
    assert _outputs(made) == [b"sound", b"frames"]


@pytest.mark.parametrize(
    "given",
    [
        model((b"Conv", b"x")),
        model((b"Ceil", b"one"), (b"Ceil", b"two")),
        model((b"Ceil", b"frames"), outputs=(b"sound", b"frames")),
    ],
)
def test_a_model_with_no_single_one_is_left_as_it_is(given):
    assert with_durations(given) == given


@pytest.mark.parametrize("given", [b"\x0f\x00", b"\x3a\x7fx", b"\xff" * 20, b"\x3a"])
def test_bytes_that_are_no_model_are_refused(given):
    with pytest.raises(ValueError, match="ONNX"):
        with_durations(given)


def test_a_long_name_is_encoded_as_well():
    name = b"n" * 300
    made = with_durations(model((b"Ceil", name)))
    assert _ceiled(made) == [name]
    assert _outputs(made) == [b"sound", name]
