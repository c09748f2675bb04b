"""What both readers make of labelled answers, by the program's own code: rows for the example `readings`, and figures."""
import json
import os
import subprocess
import sys

import numpy as np

from cards import ROOT, cards, rows, to_train_on
from examples import DENIED, NOTHING, SAID, answers, example, labels, statements

BINARY = f"{ROOT}/target/{os.environ.get('PROFILE', 'release')}/examples/readings"


def readings(folder, rows_):
    """For each row a list with one dict for each point."""
    lines = "".join(json.dumps({"ask": r["ask"], "points": r["points"], "text": r["text"]}) + "\n" for r in rows_)
    out = subprocess.run([BINARY, folder], input=lines, capture_output=True, text=True, check=True)
    return [json.loads(line) for line in out.stdout.splitlines()]


def one(card, key, text, point, label):
    """A single statement: only its own point is looked at."""
    y = [-1] * len(card["points"])
    y[point] = label
    return example(card, text, y, "single", 1.0, key)


def dev_answers():
    return answers()["dev"]


def dev_statements():
    decks = to_train_on()
    return [one(decks[k], k, t, at, y) for k, at, y, t in statements()["dev"]]


def judged_answers():
    decks = {row["id"]: {**row, "samples": []} for row in rows("judge-cards.jsonl")}
    return [example(decks[r["card"]], r["text"], labels(len(decks[r["card"]]["points"]), r), "answer-" + r["style"], 1.0, r["card"]) for r in rows("judge-answers.jsonl")]


def judged_statements():
    decks, value = cards(), {"said": SAID, "denied": DENIED, "nothing": NOTHING}
    return [one(decks[r["card"]], r["card"], r["text"], r["point"] - 1, value[r["label"]]) for r in rows("turned-judge.jsonl")]


def held_statements():
    """Safety-critical statements of dev cards."""
    return [r for r in dev_statements() if any(y >= 0 and c for y, c in zip(r["y"], r["critical"]))]


SETS = {"dev-answers": dev_answers, "dev-statements": dev_statements, "judged-answers": judged_answers, "judged-statements": judged_statements}


def flat(rows_, read):
    """One line for each labelled point: what was found of it, its label, card, whether it is critical, and its row."""
    out = []
    for at, (r, points) in enumerate(zip(rows_, read)):
        for i, (p, y) in enumerate(zip(points, r["y"])):
            if y >= 0:
                out.append({**p, "y": y, "card": r["card"], "critical": r["critical"][i], "row": at, "point": i, "source": r["source"], "words": len(r["text"].split())})
    return out


if __name__ == "__main__":
    folder, out = sys.argv[1:3]
    for name in sys.argv[3:] or SETS:
        made = SETS[name]()
        read = readings(folder, made)
        with open(f"{out}/{name}.json", "w") as file:
            json.dump({"rows": made, "read": read}, file)
        print(name, len(made))
