"""Writes the trained reader for the program: python3 training/export.py reader-*.safetensors --out assets/reader [--whole]

One answer at a time: ids [L], types [L], where [P, L] (mean over a point's tokens), spoken [L] (0 on the answer's tokens,
-10000 elsewhere) -> chances [P, 3] of nothing, said, denied, and look [P, L]. Weights of the large products are whole numbers
from -63 to 63 with a scale for each column: seven bits, because some processors add products of eight bits with a loss.
"""
import argparse
import os
import shutil

import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper
from safetensors.numpy import load_file

from cards import ROOT

HEADS, SIZE = 12, 384


class Graph:
    def __init__(self, whole):
        self.whole, self.nodes, self.constants, self.count = whole, [], {}, 0

    def constant(self, name, value):
        if name not in self.constants:
            self.constants[name] = numpy_helper.from_array(np.asarray(value, order="C"), name)
        return name

    def op(self, kind, inputs, outputs=1, **attributes):
        self.count += 1
        names = [f"{kind}_{self.count}_{i}" for i in range(outputs)]
        self.nodes.append(helper.make_node(kind, inputs, names, name=f"{kind}_{self.count}", **attributes))
        return names[0] if outputs == 1 else names

    def linear(self, x, weights, name):
        """x [.., in] by a weight [out, in], plus its bias."""
        w, b = weights[name + ".weight"].astype(np.float32).T, weights[name + ".bias"].astype(np.float32)
        bias = self.constant(name + ".b", b)
        if self.whole:
            return self.op("Add", [self.op("MatMul", [x, self.constant(name + ".w", w)]), bias])
        scale = np.maximum(np.abs(w).max(0), 1e-8) / 63
        whole = np.clip(np.rint(w / scale), -63, 63).astype(np.int8)
        q, x_scale, x_zero = self.quantised(x)
        product = self.op("MatMulInteger", [q, self.constant(name + ".w", whole), x_zero, self.constant("none", np.int8(0))])
        scales = self.op("Mul", [x_scale, self.constant(name + ".s", scale.astype(np.float32))])
        return self.op("Add", [self.op("Mul", [self.op("Cast", [product], to=TensorProto.FLOAT), scales]), bias])

    def quantised(self, x):
        if x not in getattr(self, "seen", {}):
            self.seen = {**getattr(self, "seen", {}), x: self.op("DynamicQuantizeLinear", [x], 3)}
        return self.seen[x]

    def norm(self, x, weights, name):
        of = lambda part: self.constant(f"{name}.{part}", weights[f"{name}.{part}"].astype(np.float32))
        return self.op("LayerNormalization", [x, of("weight"), of("bias")], axis=-1, epsilon=1e-12)

    def shape(self, *sizes):
        return self.constant("shape_" + "_".join(map(str, sizes)).replace("-", "m"), np.array(sizes, np.int64))

    def heads(self, x, order):
        return self.op("Transpose", [self.op("Reshape", [x, self.shape(-1, HEADS, SIZE // HEADS)])], perm=order)


def table(graph, weights, name):
    """A table of embeddings with one scale for each row, or whole."""
    rows = weights[f"bert.embeddings.{name}_embeddings.weight"].astype(np.float32)
    if graph.whole or name != "word":
        return lambda ids: graph.op("Gather", [graph.constant(name, rows), ids], axis=0)
    scale = np.maximum(np.abs(rows).max(1, keepdims=True), 1e-8) / 127
    whole = np.clip(np.rint(rows / scale), -127, 127).astype(np.int8)

    def look_up(ids):
        found = graph.op("Cast", [graph.op("Gather", [graph.constant(name, whole), ids], axis=0)], to=TensorProto.FLOAT)
        return graph.op("Mul", [found, graph.op("Gather", [graph.constant(name + ".s", scale.astype(np.float32)), ids], axis=0)])

    return look_up


def build(weights, whole):
    g = Graph(whole)
    layers = 1 + max(int(k.split(".")[3]) for k in weights if k.startswith("bert.encoder.layer."))
    words, kinds = table(g, weights, "word")("ids"), table(g, weights, "token_type")("types")
    places = table(g, weights, "position")("places")
    x = g.norm(g.op("Add", [g.op("Add", [words, places]), kinds]), weights, "bert.embeddings.LayerNorm")
    for at in range(layers):
        layer = f"bert.encoder.layer.{at}."
        q = g.heads(g.linear(x, weights, layer + "attention.self.query"), [1, 0, 2])
        k = g.heads(g.linear(x, weights, layer + "attention.self.key"), [1, 2, 0])
        v = g.heads(g.linear(x, weights, layer + "attention.self.value"), [1, 0, 2])
        scores = g.op("Mul", [g.op("MatMul", [q, k]), g.constant("root", np.float32((SIZE / HEADS) ** -0.5))])
        mixed = g.op("Transpose", [g.op("MatMul", [g.op("Softmax", [scores], axis=-1), v])], perm=[1, 0, 2])
        mixed = g.linear(g.op("Reshape", [mixed, g.shape(-1, SIZE)]), weights, layer + "attention.output.dense")
        x = g.norm(g.op("Add", [x, mixed]), weights, layer + "attention.output.LayerNorm")
        inner = g.op("Gelu", [g.linear(x, weights, layer + "intermediate.dense")])
        x = g.norm(g.op("Add", [x, g.linear(inner, weights, layer + "output.dense")]), weights, layer + "output.LayerNorm")
    point = g.op("MatMul", ["where", x])
    find = g.op("Transpose", [g.linear(x, weights, "find")], perm=[1, 0])
    score = g.op("Mul", [g.op("MatMul", [g.linear(point, weights, "seek"), find]), g.constant("root_size", np.float32(SIZE**-0.5))])
    g.nodes.append(helper.make_node("Softmax", [g.op("Add", [score, "spoken"])], ["look"], axis=-1))
    seen = g.op("MatMul", ["look", x])
    joint = g.op("Concat", [point, seen, g.op("Mul", [point, seen])], axis=-1)
    logits = g.linear(g.op("Gelu", [g.linear(joint, weights, "judge.0")]), weights, "judge.3")
    g.nodes.append(helper.make_node("Softmax", [logits], ["chances"], axis=-1))
    given = [helper.make_tensor_value_info(n, t, s) for n, t, s in (
        ("ids", TensorProto.INT64, ["L"]), ("types", TensorProto.INT64, ["L"]), ("places", TensorProto.INT64, ["L"]),
        ("where", TensorProto.FLOAT, ["P", "L"]), ("spoken", TensorProto.FLOAT, ["L"]))]
    told = [helper.make_tensor_value_info(n, TensorProto.FLOAT, s) for n, s in (("chances", ["P", 3]), ("look", ["P", "L"]))]
    graph = helper.make_graph(g.nodes, "reader", given, told, list(g.constants.values()))
    model = helper.make_model(graph, opset_imports=[helper.make_opsetid("", 20)], ir_version=9, producer_name="bedplate")
    onnx.checker.check_model(model)
    return model


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("weights", nargs="+", help="one file, or the pieces of one")
    parser.add_argument("--out", required=True)
    parser.add_argument("--whole", action="store_true", help="with full numbers, to compare with")
    args = parser.parse_args()
    os.makedirs(args.out, exist_ok=True)
    file = f"{args.out}/reader.onnx"
    weights = {}
    for piece in args.weights:
        weights |= load_file(piece)
    onnx.save(build(weights, args.whole), file)
    shutil.copy(f"{ROOT}/.base/vocab.txt", f"{args.out}/vocab.txt")
    print(file, os.path.getsize(file), "bytes")


if __name__ == "__main__":
    main()
