"""Training examples: a question, its points, an answer, and for each point 0 nothing, 1 said, 2 denied, -1 not known."""
import glob
import os
import random

from cards import ROOT, cards, reference, rows, split

NOTHING, SAID, DENIED, UNKNOWN = 0, 1, 2, -1
# How many accepted phrases are shown to the reader beside a point.
HINTS = int(os.environ.get("HINTS", "0"))


def shown(p):
    return "; ".join([p["say"]] + p["accept"][:HINTS])


def labels(count, row):
    y = [NOTHING] * count
    for kind, value in (("said", SAID), ("denied", DENIED), ("contradicted", DENIED), ("unsure", UNKNOWN)):
        for at in row.get(kind, []):
            y[at - 1] = value
    return y


def example(card, text, y, source, weight, key):
    return {"ask": card["ask"], "points": [shown(p) for p in card["points"]], "text": text, "y": y, "source": source,
            "weight": weight, "card": key, "critical": [p["critical"] for p in card["points"]]}


def answers():
    """Whole answers with a label for each point, by split."""
    out = {"train": [], "dev": []}
    decks = cards()
    files = sorted(os.path.basename(f) for f in glob.glob(f"{ROOT}/training/data/answers-*.jsonl"))
    for name in ["long-answers.jsonl"] + files:
        for row in rows(name):
            card = decks[row["card"]]
            y = labels(len(card["points"]), row)
            out[split(row["card"])].append(example(card, row["text"], y, "answer-" + row["style"], 2.0, row["card"]))
    for name in ("answers-tune", "answers-tune-2"):
        for card, row in reference(name):
            y = labels(len(card["points"]), row)
            out["train"].append(example(card, row["text"], y, name, 1.5, card["id"]))
    return out


def held():
    return [example(c, a["text"], labels(len(c["points"]), a), "held", 1.0, c["id"]) for c, a in reference("answers-held")]


def statements():
    """(card key, point from 0, label, text) by split."""
    value = {"said": SAID, "denied": DENIED, "nothing": NOTHING}
    out = {"train": [], "dev": []}
    for row in rows("statements.jsonl"):
        out[split(row["card"])].append((row["card"], row["point"] - 1, value[row["label"]], row["text"]))
    return out


JOINTS = [". ", ". Then ", ", and ", "; ", ". Also ", " then ", ". Next ", ", ", ". And ", " and ", ". After that "]


def joined(rng, texts):
    out = texts[0]
    for text in texts[1:]:
        text = text if rng.random() < 0.5 else text[0].lower() + text[1:]
        out = out.rstrip(". ") + rng.choice(JOINTS) + text
    return out


def composed(rng, times):
    """Answers joined of single statements and of points in the deck's own words."""
    decks, by_card = cards(), {}
    for key, point, y, text in statements()["train"]:
        by_card.setdefault(key, {}).setdefault(point, {}).setdefault(y, []).append(text)
    every = [text for points in by_card.values() for kinds in points.values() for ts in kinds.values() for text in ts]
    out = []
    for key, points in by_card.items():
        card = decks[key]
        count = len(card["points"])
        for _ in range(times * len(points)):
            y, texts = [NOTHING] * count, []
            for at in rng.sample(sorted(points), rng.randint(1, len(points))):
                want = DENIED if rng.random() < 0.15 else SAID
                want = want if points[at].get(want) else SAID
                if not points[at].get(want):
                    continue
                y[at] = want
                texts.append(rng.choice(points[at][want]))
            rest = [i for i in range(count) if i not in points]
            for at in rng.sample(rest, rng.randint(0, min(3, len(rest)))):
                p = card["points"][at]
                if rng.random() < 0.25 and p["reject"]:
                    y[at], text = DENIED, rng.choice(p["reject"])
                else:
                    y[at], text = SAID, p["say"]
                texts.append(text)
            if rng.random() < 0.3:
                texts.append(rng.choice(every))
            if texts:
                rng.shuffle(texts)
                out.append(example(card, joined(rng, texts), y, "composed", 0.7, key))
    return out


def single(rng):
    """Single statements: the other points of the card are taken as not said, with little weight."""
    decks, out = cards(), []
    for key, point, label, text in statements()["train"]:
        card = decks[key]
        row = example(card, text, [NOTHING] * len(card["points"]), "single", 1.0, key)
        row["y"][point] = label
        row["weights"] = [1.0 if i == point else 0.3 for i in range(len(card["points"]))]
        out.append(row)
    return out


VAGUE = ["I do not know", "No idea", "I would call the chief engineer", "Follow the procedure", "I forgot this one", "As per maker manual",
         "Depends on the ship", "Pass", "Check everything carefully", "Sorry, I cannot remember", "Safety first", "it is very important",
         "we did this on my last ship", "I would look it up in the manual and ask"]


def other(rng):
    """The deck's own words, its rejected phrases, vague talk, and answers to other questions."""
    decks, out = cards(), []
    keys = [key for key in decks if split(key) == "train"]
    for key in keys:
        card = decks[key]
        count = len(card["points"])
        for at, p in enumerate(card["points"]):
            for text in [p["say"]] + rng.sample(p["accept"], min(1, len(p["accept"]))):
                row = example(card, text, [NOTHING] * count, "own", 0.5, key)
                row["y"][at] = SAID
                row["weights"] = [1.0 if i == at else 0.2 for i in range(count)]
                out.append(row)
            for text in p["reject"]:
                if len(text.split()) >= 3:
                    row = example(card, text, [NOTHING] * count, "reject", 0.6, key)
                    row["y"][at] = DENIED
                    row["weights"] = [1.0 if i == at else 0.2 for i in range(count)]
                    out.append(row)
        if rng.random() < 0.6:
            out.append(example(card, rng.choice(VAGUE), [NOTHING] * count, "vague", 0.6, key))
        out.append(example(card, card["ask"], [NOTHING] * count, "asked", 0.3, key))
        far = decks[rng.choice(keys)]
        if far is not card:
            out.append(example(card, rng.choice(far["points"])["say"], [NOTHING] * count, "far", 0.5, key))
    return out


def training(seed=5):
    rng = random.Random(seed)
    return answers()["train"] + single(rng) + composed(rng, 3) + other(rng)


if __name__ == "__main__":
    import collections
    rows_ = training()
    print(len(rows_), collections.Counter(r["source"] for r in rows_).most_common())
    print("pairs", collections.Counter(y for r in rows_ for y in r["y"]))
    print("dev", len(answers()["dev"]), len(statements()["dev"]), len(held()))
