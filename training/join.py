"""Fits the rule that joins both readers: python3 training/join.py FOLDER, with what measure.py wrote there.

Two logistic sums, of *said* and of *denied*, over a few things that are known of a point. Fitted on the *dev* answers and
statements, whose cards neither reader was made with; figures are taken across cards (each card's points are judged by a sum
that was fitted without it)."""
import hashlib
import json
import sys

import numpy as np

from measure import flat

NAMES = ["bias", "said", "denied", "matched", "opposed", "matched and denied", "rival", "share"]


def logit(p):
    p = min(max(p, 0.002), 0.998)
    return float(np.log(p / (1 - p)))


def overlap(a, b):
    if not a or not b:
        return 0.0
    both = min(a["end"], b["end"]) - max(a["start"], b["start"])
    return max(0.0, both) / max(1, a["end"] - a["start"])


def inputs(points, i):
    """What the rule knows of point i of an answer, in the order of NAMES."""
    p = points[i]
    others = [q for j, q in enumerate(points) if j != i]
    rival = max([overlap(p["looked"], q["looked"]) * q["said"] for q in others], default=0.0)
    share = sum(q["said"] for q in others) / max(1, len(others))
    return [1.0, logit(p["said"]), logit(p["denied"]), float(p["matched"]), float(p["opposed"]), float(p["matched"]) * p["denied"], rival, share]


def loaded(folder, name):
    with open(f"{folder}/{name}.json") as file:
        data = json.load(file)
    out = []
    for line in flat(data["rows"], data["read"]):
        x = inputs(data["read"][line["row"]], line["point"])
        out.append({**line, "x": x})
    return out


def fit(x, y, w, strength=1.0, rounds=60):
    """Weighted logistic sum by Newton's method with a small ridge."""
    beta = np.zeros(x.shape[1])
    for _ in range(rounds):
        p = 1 / (1 + np.exp(-x @ beta))
        slope = x.T @ (w * (y - p)) - strength * np.r_[0, beta[1:]]
        bend = (x * (w * p * (1 - p))[:, None]).T @ x + strength * np.eye(len(beta))
        step = np.linalg.solve(bend, slope)
        beta += step
        if np.abs(step).max() < 1e-8:
            break
    return beta


def fold(card, folds=5):
    return int(hashlib.sha256(("fold " + card).encode()).hexdigest(), 16) % folds


def weights(lines):
    """Answers and statements count alike much."""
    single = np.array([l["source"] == "single" for l in lines])
    return np.where(single, 0.8, 1.0)


def across(lines, kind):
    """Chances by sums fitted without a point's own card."""
    x, y = np.array([l["x"] for l in lines]), np.array([l["y"] == kind for l in lines], float)
    w, f = weights(lines), np.array([fold(l["card"]) for l in lines])
    p = np.zeros(len(lines))
    for k in range(5):
        beta = fit(x[f != k], y[f != k], w[f != k])
        p[f == k] = 1 / (1 + np.exp(-x[f == k] @ beta))
    return p, fit(x, y, w)


def prf(hit, wanted):
    tp, fp, fn = (hit & wanted).sum(), (hit & ~wanted).sum(), (~hit & wanted).sum()
    return f"P {tp / max(1, tp + fp):.3f} R {tp / max(1, tp + fn):.3f} F {2 * tp / max(1, 2 * tp + fp + fn):.3f}"


def main():
    folder = sys.argv[1]
    lines = loaded(folder, "dev-answers") + loaded(folder, "dev-statements")
    y = np.array([l["y"] for l in lines])
    single = np.array([l["source"] == "single" for l in lines])
    critical = np.array([l["critical"] for l in lines])
    said, beta_said = across(lines, 1)
    denied, beta_denied = across(lines, 2)
    for name, beta in (("said", beta_said), ("denied", beta_denied)):
        print(name, [(n, round(float(b), 2)) for n, b in zip(NAMES, beta)])
        print(f"const {name.upper()}: Weights = [{', '.join(f'{b:.4}' for b in beta)}];")
    matched, opposed = np.array([l["matched"] for l in lines]), np.array([l["opposed"] for l in lines])
    rs, rd = np.array([l["said"] for l in lines]), np.array([l["denied"] for l in lines])
    print("answers: matcher said", prf(matched[~single], y[~single] == 1), "denied", prf(opposed[~single], y[~single] == 2))
    print("answers: reader  said", prf(rs[~single] > 0.5, y[~single] == 1), "denied", prf(rd[~single] > 0.5, y[~single] == 2))
    for t in np.arange(0.3, 0.8, 0.05):
        for d in (0.3, 0.4, 0.5, 0.6):
            no = denied >= d
            yes = (said >= t) & ~no
            if abs(t - 0.5) < 0.01 or d == 0.4:
                print(f"said>{t:.2f} denied>{d}: answers said", prf(yes[~single], y[~single] == 1), "denied", prf(no[~single], y[~single] == 2), shares(yes, no, y, single & critical))
    np.savez(f"{folder}/joined.npz", said=said, denied=denied)


def shares(yes, no, y, of):
    out = {}
    for name, v in (("right", 1), ("wrong", 2), ("nothing", 0)):
        at = of & (y == v)
        out[name] = f"{100 * yes[at].mean():.1f}/{100 * no[at].mean():.1f} of {at.sum()}"
    return "statements credited/told: " + str(out)


if __name__ == "__main__":
    main()
