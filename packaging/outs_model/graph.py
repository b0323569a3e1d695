"""The network written as an ONNX graph by hand, from a dictionary of its weights.

One run takes the summed table rows of the words of one window, skims them all, and reads closely
as many as it is told: those where most stirs, and the words around them. For each of these, whose
places it gives, and each head come the share of "nothing is wrong", the best three answers, and the
vector that a missing word would have in the table. A window is run alone, so that what stands
elsewhere can never move its scores: int8 activations take their scale from the window they belong
to.

The operators of the `com.microsoft` domain are ONNX Runtime's own; it is the only runtime we ship.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import onnx
from onnx import TensorProto, helper, numpy_helper

from .network import REACH
from .rotation import LONGEST, rotation_tables

FloatArray = npt.NDArray[np.float32]
MICROSOFT = "com.microsoft"
CHOICES = 3  # how many proposals come back for each place


@dataclass
class Graph:
    """Nodes and constants as they are added; `int8` says how the matrices are kept."""

    int8: bool
    nodes: list[onnx.NodeProto] = field(default_factory=list)
    constants: list[onnx.TensorProto] = field(default_factory=list)

    def constant(self, name: str, value: npt.NDArray[np.generic]) -> str:
        """Add one constant; its name comes back."""
        self.constants.append(numpy_helper.from_array(np.asarray(value, order="C"), name))
        return name

    def node(self, kind: str, inputs: list[str], name: str, **attributes: object) -> str:
        """Add one operator whose only used output is called `name`."""
        domain = MICROSOFT if kind in _MICROSOFT_KINDS else ""
        self.nodes.append(
            helper.make_node(kind, inputs, [name], name=name, domain=domain, **attributes)
        )
        return name

    def linear(self, name: str, x: str, weight: FloatArray, bias: FloatArray | None) -> str:
        """Give x @ weight + bias, weight as (in, out).

        int8 keeps 7 bits and one scale a column: with the eighth bit, processors that add pairs of
        products in 16 bits would overflow and give other scores than the rest.
        """
        if not self.int8:
            held = self.constant(f"{name}.weight", weight)
            if bias is None:
                return self.node("MatMul", [x, held], name)
            out = self.node("MatMul", [x, held], f"{name}.product")
            return self.node("Add", [out, self.constant(f"{name}.bias", bias)], name)
        scale = np.maximum(np.abs(weight).max(0), 1e-8) / 64
        stored = np.clip(np.rint(weight / scale), -64, 64).astype(np.int8)
        inputs = [
            x,
            self.constant(f"{name}.weight", stored),
            self.constant(f"{name}.scale", scale.astype(np.float32)),
            "",
        ]
        if bias is not None:
            inputs.append(self.constant(f"{name}.bias", bias))
        return self.node("DynamicQuantizeMatMul", inputs, name)


_MICROSOFT_KINDS = frozenset(
    {"DynamicQuantizeMatMul", "MultiHeadAttention", "RotaryEmbedding", "BiasGelu", "Gelu"}
)


def build(
    weights: Mapping[str, FloatArray], heads: int, skimming: int, *, int8: bool
) -> onnx.ModelProto:
    """The whole network, of whose layers the first `skimming` read every word. `weights` are those
    of `network.Tagger.plain_weights`.
    """
    g = Graph(int8)
    g.constant("one", np.array([1], np.int64))
    g.constant("axis0", np.array([0], np.int64))
    x = _widened(g, weights)
    width = weights["final.gain"].shape[0]
    g.constant("split", np.array([width, width, width], np.int64))
    _rotation(g, width // heads)
    layers = 1 + max(int(k.split(".")[1]) for k in weights if k.startswith("layer."))
    for i in range(skimming):
        x = _layer(g, weights, i, x, heads, "every_place")
    _choose(g, weights, x)
    x = g.node("Gather", [x, "places"], "chosen", axis=1)
    g.node("Unsqueeze", ["places", "axis0"], "chosen_places")
    for i in range(skimming, layers):
        x = _layer(g, weights, i, x, heads, "chosen_places")
    x = _normalise(g, "final", x, weights["final.gain"])
    g.constant("flat", np.array([-1, width], np.int64))
    x = g.node("Reshape", [x, "flat"], "states")
    outputs = _heads(g, weights, x)
    inside = weights["embedded.gain"].shape[0]
    graph = helper.make_graph(
        g.nodes,
        "outs",
        [
            helper.make_tensor_value_info("embedded_words", TensorProto.FLOAT, ["words", inside]),
            helper.make_tensor_value_info("closely", TensorProto.INT64, [1]),
        ],
        [helper.make_tensor_value_info("places", TensorProto.INT64, ["read"]), *outputs],
        g.constants,
    )
    return helper.make_model(
        graph,
        opset_imports=[helper.make_opsetid("", 17), helper.make_opsetid(MICROSOFT, 1)],
        ir_version=8,
    )


def _normalise(g: Graph, name: str, x: str, gain: FloatArray) -> str:
    scale = g.constant(f"{name}.gain", gain)
    return g.node("LayerNormalization", [x, scale], name, axis=-1, epsilon=1e-5)


def _widened(g: Graph, weights: Mapping[str, FloatArray]) -> str:
    x = _normalise(g, "embedded", "embedded_words", weights["embedded.gain"])
    x = g.linear("widen", x, weights["widen"], None)
    return g.node("Unsqueeze", [x, "axis0"], "batch")


def _choose(g: Graph, weights: Mapping[str, FloatArray], x: str) -> None:
    """The places that are read closely, as `network.stirring` chooses them."""
    h = _normalise(g, "stirring", x, weights["stir.gain"])
    h = g.node("MatMul", [h, g.constant("stir.weight", weights["stir"])], "stir.product")
    h = g.node("Add", [h, g.constant("stir.bias", weights["stir.bias"])], "stir")
    most = g.node("ReduceMax", [h], "stir.most", axes=[-1], keepdims=0)
    row = g.node("Unsqueeze", [most, "axis0"], "stir.row")
    around = [
        g.node(
            "MaxPool",
            [row],
            f"stir.around{reach}",
            kernel_shape=[reach],
            strides=[1],
            pads=[reach // 2, reach // 2],
        )
        for reach in REACH
    ]
    summed = g.node("Sum", around, "stir.summed")
    g.constant("flat_places", np.array([-1], np.int64))
    each = g.node("Reshape", [summed, "flat_places"], "stir.each")
    g.nodes.append(helper.make_node("TopK", [each, "closely"], ["stir.best", "places"], axis=-1))


def _layer(
    g: Graph, weights: Mapping[str, FloatArray], i: int, x: str, heads: int, places: str
) -> str:
    p = f"layer.{i}"
    h = _normalise(g, f"{p}.norm1", x, weights[f"{p}.norm1.gain"])
    qkv = g.linear(f"{p}.qkv", h, weights[f"{p}.qkv"], None)
    g.nodes.append(helper.make_node("Split", [qkv, "split"], [f"{p}.{n}" for n in "qkv"], axis=-1))
    turned = [
        g.node(
            "RotaryEmbedding",
            [f"{p}.{n}", places, "cosines", "sines"],
            f"{p}.{n}.turned",
            num_heads=heads,
            rotary_embedding_dim=0,
        )
        for n in "qk"
    ]
    mixed = g.node("MultiHeadAttention", [*turned, f"{p}.v"], f"{p}.mixed", num_heads=heads)
    out = g.linear(f"{p}.out", mixed, weights[f"{p}.out"], None)
    x = g.node("Add", [x, out], f"{p}.after_attention")
    h = _normalise(g, f"{p}.norm2", x, weights[f"{p}.norm2.gain"])
    h = g.linear(f"{p}.up", h, weights[f"{p}.up"], weights[f"{p}.up_bias"])
    h = g.node("Gelu", [h], f"{p}.gelu")
    h = g.linear(f"{p}.down", h, weights[f"{p}.down"], None)
    return g.node("Add", [x, h], f"{p}.after_feed")


def _rotation(g: Graph, head_width: int) -> None:
    cosines, sines = rotation_tables(head_width, LONGEST)
    g.constant("cosines", cosines)
    g.constant("sines", sines)
    g.constant("every", np.arange(LONGEST, dtype=np.int64)[None])
    g.node("Shape", ["embedded_words"], "shape", start=0, end=1)
    g.constant("axis1", np.array([1], np.int64))
    g.node("Slice", ["every", "axis0", "shape", "axis1"], "every_place")


def _heads(g: Graph, weights: Mapping[str, FloatArray], x: str) -> list[onnx.ValueInfoProto]:
    """Probabilities and the best proposals of the three heads, and the meaning vectors."""
    outputs = []
    g.constant("choices", np.array([CHOICES], np.int64))
    for name in ("gap_before", "gap_after", "right"):
        scores = g.linear(name, x, weights[name], weights[f"{name}.bias"])
        shares = g.node("Softmax", [scores], f"{name}.shares", axis=-1)
        first = g.constant(f"{name}.far", np.array([weights[name].shape[1]], np.int64))
        rest = g.node("Slice", [shares, "one", first, "one"], f"{name}.rest")
        g.nodes.append(
            helper.make_node(
                "TopK", [rest, "choices"], [f"{name}_shares", f"{name}_choices"], axis=-1
            )
        )
        g.constant(f"{name}.zero", np.array(0, np.int64))
        g.node("Gather", [shares, f"{name}.zero"], f"{name}_nothing", axis=1)
        outputs += [
            helper.make_tensor_value_info(f"{name}_nothing", TensorProto.FLOAT, ["read"]),
            helper.make_tensor_value_info(f"{name}_shares", TensorProto.FLOAT, ["read", CHOICES]),
            helper.make_tensor_value_info(f"{name}_choices", TensorProto.INT64, ["read", CHOICES]),
        ]
    g.linear("missing", x, weights["missing_word"], None)
    inside = weights["missing_word"].shape[1]
    outputs.append(helper.make_tensor_value_info("missing", TensorProto.FLOAT, ["read", inside]))
    return outputs
