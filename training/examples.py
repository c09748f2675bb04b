"""Training examples: a question, its points, an answer, and for each point 0 nothing, 1 said, 2 denied, -1 not known."""
import glob
import os
import random
import re

from cards import ROOT, reference, rows, split, to_train_on

NOTHING, SAID, DENIED, UNKNOWN = 0, 1, 2, -1


def shown(p, hints, rejects, rng=None):
    """A point as the reader is shown it: its sentence, some accepted phrases, some rejected ones behind "not:".
    With a generator, as it may be in another deck: other phrases of the point, or none of them."""
    accept, reject = p["accept"], p["reject"]
    if rng:
        accept, reject = rng.sample(accept, len(accept)), rng.sample(reject, len(reject))
        hints = hints if rng.random() < 0.8 else rng.randint(0, hints)
        rejects = rejects if rng.random() < 0.7 else 0
    text = "; ".join([p["say"]] + accept[:hints])
    return text + (" | not: " + "; ".join(reject[:rejects]) if rejects and reject else "")


def labels(count, row):
    y = [NOTHING] * count
    for kind, value in (("said", SAID), ("denied", DENIED), ("contradicted", DENIED), ("unsure", UNKNOWN)):
        for at in row.get(kind, []):
            y[at - 1] = value
    return y


def example(card, text, y, source, weight, key):
    return {"ask": card["ask"], "points": card["points"], "text": text, "y": y, "source": source,
            "weight": weight, "card": key, "critical": [p["critical"] for p in card["points"]]}


def files(pattern):
    """Names of files under data/."""
    return sorted(os.path.basename(f) for f in glob.glob(f"{ROOT}/training/data/{pattern}"))


def answers():
    """Whole answers with a label for each point, by split."""
    out = {"train": [], "dev": []}
    decks = to_train_on()
    for name in ["long-answers.jsonl", "samples-missed.jsonl"] + files("answers-*.jsonl") + files("more-answers-*.jsonl") + files("twins-*.jsonl"):
        for row in rows(name):
            if row["card"] not in decks:
                continue
            card = decks[row["card"]]
            y = labels(len(card["points"]), row)
            out[split(row["card"])].append(example(card, row["text"], y, "answer-" + row["style"], 2.0, row["card"]))
    for key, card in decks.items():
        for row in card["samples"]:
            y = labels(len(card["points"]), {"said": row.get("says", []), "denied": row.get("denies", [])})
            # What a sample does not name may be said all the same.
            y = [UNKNOWN if v == NOTHING else v for v in y]
            out[split(key)].append(example(card, row["text"], y, "sample", 2.0, key))
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
    decks = to_train_on()
    for name in ["statements.jsonl", "critical-statements.jsonl"] + files("more-statements-*.jsonl"):
        for row in rows(name):
            if row["card"] in decks:
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
    decks, by_card = to_train_on(), bank()
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


def bank():
    """card -> point -> label -> statements to train on."""
    out = {}
    for key, point, y, text in statements()["train"]:
        out.setdefault(key, {}).setdefault(point, {}).setdefault(y, []).append(text)
    return out


def inserted(rng, row, spoken_of):
    """A whole answer with a statement or two set into it about points that it left out; None where there are none."""
    points = spoken_of.get(row["card"], {})
    free = [at for at in points if row["y"][at] == NOTHING and (points[at].get(SAID) or points[at].get(DENIED))]
    pieces = re.split(r"(?<=[.;!?])\s+", row["text"])
    if not free or len(row["text"].split()) < 8:
        return None
    if len(pieces) < 2:
        # Spoken without stops: between words, near a joint.
        pieces = re.split(r"\s+(?=(?:then|and|so|um|uh|after|also)\b)", row["text"])
    y = list(row["y"])
    for at in rng.sample(free, min(len(free), 1 + (rng.random() < 0.3))):
        kinds = [k for k in (SAID, DENIED, DENIED) if points[at].get(k)]
        y[at] = rng.choice(kinds)
        text = rng.choice(points[at][y[at]])
        if row["text"].islower():
            text = text.lower()
        pieces.insert(rng.randint(0, len(pieces)), text if text[-1] in ".;!?" or row["text"].islower() else text + ".")
    return {**row, "text": " ".join(pieces), "y": y, "source": "inserted", "weight": row["weight"] * 0.7}


def single(rng):
    """Single statements: the other points of the card are taken as not said, with little weight."""
    decks, out = to_train_on(), []
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
    decks, out = to_train_on(), []
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
