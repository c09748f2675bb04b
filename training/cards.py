"""The recall cards of the bundled decks, and the labelled answers to them."""
import functools
import glob
import hashlib
import json
import os
import tomllib

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def cards():
    """key -> {ask, points}; points are {say, accept, reject, critical}."""
    found = {}
    for file in sorted(glob.glob(f"{ROOT}/decks/*/**/*.toml", recursive=True)):
        deck = os.path.relpath(file, f"{ROOT}/decks").split(os.sep)[0]
        with open(file, "rb") as text:
            for card in tomllib.load(text).get("recall", []):
                found[f"{deck}/{card['id']}"] = {
                    "ask": " ".join(card["ask"].split()),
                    "points": [point(p) for p in card["points"]],
                    "samples": [s for s in card.get("samples", []) if "text" in s],
                }
    return found


def judged():
    """Keys of bundled cards by whose statements is judged: nothing of them is ever trained or tuned on."""
    return {row["card"] for row in rows("turned-judge.jsonl")}


@functools.cache
def to_train_on():
    """The bundled cards but those that are judged by, and the cards that were written to train on alone."""
    kept = judged()
    found = {key: card for key, card in cards().items() if key not in kept}
    for name in sorted(glob.glob(f"{ROOT}/training/data/more-cards-*.jsonl")):
        for card in rows(os.path.basename(name)):
            found[card["id"]] = {"ask": card["ask"], "points": [point(p) for p in card["points"]], "samples": []}
    return found


def point(p):
    return {
        "say": p["say"],
        "accept": p.get("accept", []),
        "reject": p.get("reject", []),
        "critical": p.get("critical", False),
    }


def split(card):
    """Which part of the data a card belongs to, for ever: one card in eight is kept for choosing (dev)."""
    return "dev" if int(hashlib.sha256(card.encode()).hexdigest(), 16) % 8 == 0 else "train"


def rows(name):
    """The lines of a file under data/."""
    with open(f"{ROOT}/training/data/{name}") as text:
        return [json.loads(line) for line in text if line.strip()]


def reference(name):
    """(card, answer) of a labelled set of tests/reference: cards that are in no deck."""
    with open(f"{ROOT}/tests/reference/{name}.toml", "rb") as text:
        for c in tomllib.load(text)["card"]:
            card = {"ask": " ".join(c["ask"].split()), "points": [point(p) for p in c["point"]], "id": c["id"]}
            for a in c["answer"]:
                yield {**card, "samples": []}, a
