"""Makes tests/reference/reader-scores.jsonl: python3 training/stored.py FOLDER, with what measure.py wrote there."""
import json
import sys

import numpy as np
import onnxruntime

from cards import ROOT
from examples import shown
from report import decide
from join import inputs
from tokenizers import BertWordPieceTokenizer

ASSETS = f"{ROOT}/assets/reader"
LABEL = {0: "nothing", 1: "said", 2: "denied", -1: ""}


class Other:
    """The same weights in another runtime."""

    def __init__(self):
        self.tokens = BertWordPieceTokenizer(f"{ASSETS}/vocab.txt", lowercase=True)
        self.session = onnxruntime.InferenceSession(f"{ASSETS}/reader.onnx")

    def ids(self, text):
        return self.tokens.encode(text, add_special_tokens=False).ids

    def read(self, row):
        cls, sep = self.tokens.token_to_id("[CLS]"), self.tokens.token_to_id("[SEP]")
        ask, answer = self.ids(row["ask"])[:64], self.ids(row["text"])[:280]
        ids, types, spans = [cls] + ask + [sep] + answer + [sep], [0] * (len(ask) + 2) + [1] * (len(answer) + 1), []
        for p in row["points"]:
            p = self.ids(shown(p, 2, 1))[:56]
            spans.append((len(ids), len(ids) + len(p)))
            ids += p + [sep]
            types += [0] * (len(p) + 1)
        if len(ids) > 512:
            return None
        where, spoken = np.zeros((len(spans), len(ids)), np.float32), np.full(len(ids), -1e4, np.float32)
        for i, (s, e) in enumerate(spans):
            where[i, s:e] = 1 / (e - s)
        spoken[len(ask) + 2 : len(ask) + 2 + len(answer)] = 0
        given = {"ids": np.array(ids), "types": np.array(types), "places": np.arange(len(ids)), "where": where, "spoken": spoken}
        return self.session.run(["chances"], given)[0]


def steady(row, points):
    """Whether no decision changes where all likelihoods move by two thousandths."""
    seen = []
    for step in (-0.002, 0, 0.002):
        moved = [{**p, "said": min(1, max(0, p["said"] + step)), "denied": min(1, max(0, p["denied"] + step))} for p in points]
        lines = [{**p, "x": inputs(moved, i), "critical": row["critical"][i], "words": len(row["text"].split())} for i, p in enumerate(moved)]
        seen.append(np.array(decide(lines)).tolist())
    return seen[0] == seen[1] == seen[2]


def main():
    other, kept, furthest = Other(), [], 0
    for name, every in (("judged-answers", 9), ("judged-statements", 5)):
        with open(f"{sys.argv[1]}/{name}.json") as file:
            data = json.load(file)
        for row, points in list(zip(data["rows"], data["read"]))[::every]:
            theirs = other.read(row)
            if theirs is None or not steady(row, points):
                continue
            thousandths = [[round(1000 * float(p[1])), round(1000 * float(p[2]))] for p in theirs]
            ours = [[round(1000 * p["said"]), round(1000 * p["denied"])] for p in points]
            furthest = max(furthest, max(abs(a - b) for x, y in zip(ours, thousandths) for a, b in zip(x, y)))
            kept.append({"card": row["card"], "text": row["text"], "labels": [LABEL[y] for y in row["y"]], "ours": ours, "theirs": thousandths})
    with open(f"{ROOT}/tests/reference/reader-scores.jsonl", "w") as out:
        for line in kept:
            out.write(json.dumps(line, ensure_ascii=False) + "\n")
    print(len(kept), "answers", sum(len(k["ours"]) for k in kept), "points; furthest apart", furthest, "thousandths; onnxruntime", onnxruntime.__version__)


if __name__ == "__main__":
    main()
