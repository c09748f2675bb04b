"""The bars, measured on the judged sets: python3 training/report.py FOLDER, with what measure.py wrote there.

The rule is that of src/domain/marking/join.rs, whose numbers are read from it. Intervals: 95 %, bootstrap over cards."""
import re
import sys

import numpy as np

from cards import ROOT
from join import across, loaded, logit  # noqa: F401

RULE = open(f"{ROOT}/src/domain/marking/join.rs").read()


def number(name):
    return float(re.search(rf"const {name}: f64 = ([0-9.]+);", RULE)[1])


def sum_of(name):
    return np.array([float(x) for x in re.search(rf"const {name}: Weights = \[(.*?)\];", RULE, re.S)[1].split(",") if x.strip()])


def decide(lines):
    """said, unsure, denied for each line."""
    x = np.array([l["x"] for l in lines])
    said, denied = (1 / (1 + np.exp(-x @ sum_of(n))) for n in ("SAID", "DENIED"))
    critical, opposed = (np.array([l[n] for l in lines]) for n in ("critical", "opposed"))
    read_denied = np.array([l["denied"] for l in lines])
    no = denied >= number("DENIED_FROM")
    # In few words a safety-critical point is said only where the matcher finds it too.
    bare = (np.array([l["words"] for l in lines]) <= int(re.search(r"const FEW_WORDS: usize = (\d+);", RULE)[1])) & (x[:, 3] == 0)
    clear = np.where(critical, (said >= number("CRITICAL_FROM")) & ~opposed & (read_denied < number("CRITICAL_DENIAL_BELOW")) & ~bare, said >= number("SAID_FROM"))
    yes = ~no & clear & (denied < number("SAID_DENIAL_BELOW"))
    return yes, ~no & ~yes & (said >= number("UNSURE_FROM")), no


def ratio(top, bottom):
    return top.sum() / max(1, bottom.sum())


def f1(hit, wanted):
    return 2 * (hit & wanted).sum() / max(1, hit.sum() + wanted.sum())


def interval(cards, figure, rounds=1000):
    rng, names = np.random.default_rng(1), sorted(set(cards))
    places = {n: np.flatnonzero(np.array(cards) == n) for n in names}
    drawn = [figure(np.concatenate([places[n] for n in rng.choice(names, len(names))])) for _ in range(rounds)]
    return np.percentile(drawn, [2.5, 97.5])


def row(name, bar, cards, figure):
    low, high = interval(cards, figure)
    print(f"| {name} | {100 * figure(np.arange(len(cards))):.1f} | {100 * low:.1f} to {100 * high:.1f} | {bar} |")


def outcome(lines, said):
    """By row: missed where a critical point is not said or under half is, prompted under nine tenths, else answered."""
    rows = {}
    for l, s in zip(lines, said):
        rows.setdefault(l["row"], []).append((l["critical"], s))
    out = {}
    for k, points in rows.items():
        share = np.mean([s for _, s in points])
        out[k] = 0 if any(c and not s for c, s in points) or share < 0.5 else 1 if share < 0.9 else 2
    return out


def answers(folder, name):
    lines = loaded(folder, name)
    y, cards = np.array([l["y"] for l in lines]), [l["card"] for l in lines]
    long = np.array([l["words"] >= 30 for l in lines])
    yes, unsure, no = decide(lines)
    matched, opposed = (np.array([l[n] for l in lines]) for n in ("matched", "opposed"))
    print(f"\n{name}: {len({l['row'] for l in lines})} answers to {len(set(cards))} cards, {len(lines)} points\n")
    print("| figure, % | measured | 95 % | bar |\n|---|---|---|---|")
    on = lambda f, keep: lambda at: f(at[keep[at]])
    row("F1 of points said, answers of 30 words and more", "92", cards, on(lambda at: f1(yes[at], y[at] == 1), long))
    row("the same, matcher of words alone", "", cards, on(lambda at: f1(matched[at], y[at] == 1), long))
    row("F1 of points said, all answers", "", cards, lambda at: f1(yes[at], y[at] == 1))
    row("precision of said", "93", cards, lambda at: ratio(yes[at] & (y[at] == 1), yes[at]))
    row("recall of said", "", cards, lambda at: ratio(yes[at] & (y[at] == 1), y[at] == 1))
    own = np.array([not l["matched"] for l in lines])
    row("recall of points that the matcher does not find", "80", cards, on(lambda at: ratio(yes[at] & (y[at] == 1), y[at] == 1), own))
    row("the same, with those that are asked about", "", cards, on(lambda at: ratio((yes | unsure)[at] & (y[at] == 1), y[at] == 1), own))
    row("denials: recall", "85", cards, lambda at: ratio(no[at] & (y[at] == 2), y[at] == 2))
    row("denials: precision", "90", cards, lambda at: ratio(no[at] & (y[at] == 2), no[at]))
    row("denials: recall, matcher alone", "", cards, lambda at: ratio(opposed[at] & (y[at] == 2), y[at] == 2))
    row("denials: precision, matcher alone", "", cards, lambda at: ratio(opposed[at] & (y[at] == 2), opposed[at]))
    row("denied points credited all the same", "", cards, lambda at: ratio(yes[at] & (y[at] == 2), y[at] == 2))
    row("points not sure", "", cards, lambda at: ratio(unsure[at], unsure[at] | True))
    truth, ours, theirs = outcome(lines, y == 1), outcome(lines, yes), outcome(lines, matched)
    print(f"| outcomes as by the labels | {100 * np.mean([truth[k] == ours[k] for k in truth]):.1f} (matcher alone {100 * np.mean([truth[k] == theirs[k] for k in truth]):.1f}) | | 85 |")


def statements(folder, name):
    lines = loaded(folder, name)
    y, cards = np.array([l["y"] for l in lines]), [l["card"] for l in lines]
    yes, unsure, no = decide(lines)
    matched, opposed = (np.array([l[n] for l in lines]) for n in ("matched", "opposed"))
    print(f"\n{name}: {len(lines)} statements on {len(set(cards))} cards\n")
    print("| figure, % | measured | 95 % | matcher alone | bar |\n|---|---|---|---|---|")
    for title, bar, hit, before, of in (
        ("dangerous statements credited", "at most 2", yes, matched, 2), ("dangerous statements told as denials", "at least 85", no, opposed, 2),
        ("dangerous statements asked about", "", unsure, None, 2), ("right statements credited", "at least 90", yes, matched, 1),
        ("right statements asked about", "", unsure, None, 1), ("right statements taken for denials", "at most 1", no, opposed, 1),
        ("statements beside the point credited", "at most 1", yes, matched, 0)):
        if (y == of).any():
            figure = lambda at: ratio(hit[at] & (y[at] == of), y[at] == of)
            low, high = interval(cards, figure)
            old = "" if before is None else f"{100 * ratio(before & (y == of), y == of):.1f}"
            print(f"| {title} | {100 * figure(np.arange(len(y))):.1f} | {100 * low:.1f} to {100 * high:.1f} | {old} | {bar} |")


if __name__ == "__main__":
    for name in ("dev-answers", "judged-answers"):
        answers(sys.argv[1], name)
    for name in ("dev-statements", "judged-statements"):
        statements(sys.argv[1], name)
