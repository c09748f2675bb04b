"""Item analysis of a small class, worked out by numpy and scipy.

Run with Python 3.11, numpy 2.4.6 and scipy 1.17.1:  python3 item_analysis.py > item_analysis.toml

Conventions: variances of one set have one divisor; facility is the share right; discrimination is Pearson's r of the item
with the rest (total minus the item), nan where either is constant; alpha is Cronbach's; its standard error is the normal
theory's (van Zyl, Neudecker and Nel 2000) with n-1, worked out here from the whole covariance matrix; the interval is
Feldt's; the standard error of measurement takes the standard deviation with n-1. `jackknife` is no value to be met to the
digit: a second way to the standard error, that says the formula is the right one.
"""

import math

import numpy as np
from scipy import stats

MATRICES = {
    # Twelve candidates by eight items.
    "twelve-by-eight": "11111111 11111110 11111101 11111010 11110100 11101010 11011000 10110001 11001000 01100000 10000100 01000000",
    # Three items, one alike for all: it stays in k.
    "one-alike": "111 101 110 100 111 100",
    # An item that the weak get and the strong do not: alpha below zero.
    "turned": "001 001 110 110 101 010",
}
rng = np.random.default_rng(20261201)
for name, (n, k) in {"thirty-by-twenty": (30, 20), "five-by-forty": (5, 40)}.items():
    able, hard = rng.normal(size=(n, 1)), rng.normal(size=(1, k))
    right = rng.random((n, k)) < 1 / (1 + np.exp(hard - able))
    MATRICES[name] = " ".join("".join("1" if one else "0" for one in row) for row in right)


def alpha_of(x):
    k = x.shape[1]
    return k / (k - 1) * (1 - x.var(axis=0).sum() / x.sum(axis=1).var())


def number(value):
    return "nan" if math.isnan(value) else f"{value:.12f}"


print("# Written by item_analysis.py: numpy", np.__version__, "and scipy", __import__("scipy").__version__)
for name, text in MATRICES.items():
    x = np.array([[int(c) for c in row] for row in text.split()], dtype=float)
    n, k = x.shape
    total = x.sum(axis=1)
    alpha = alpha_of(x)
    v = np.cov(x, rowvar=False, ddof=1)
    j = np.ones(k)
    q = 2 * k**2 / ((k - 1) ** 2 * (j @ v @ j) ** 3)
    q *= (j @ v @ j) * (np.trace(v @ v) + np.trace(v) ** 2) - 2 * np.trace(v) * (j @ v @ v @ j)
    f = stats.f(n - 1, (n - 1) * (k - 1))
    without = [np.delete(x, i, axis=0) for i in range(n)]
    jack = [alpha_of(w) for w in without if w.sum(axis=1).var() > 0]
    jackknife = math.sqrt((n - 1) / n * sum((a - np.mean(jack)) ** 2 for a in jack))
    print(f'\n[[matrix]]\nname = "{name}"\nrows = "{text}"')
    print(f"alpha = {number(alpha)}\nse = {number(math.sqrt(q / (n - 1)))}\njackknife = {number(jackknife)}")
    print(f"low = {number(1 - (1 - alpha) * f.ppf(0.975))}\nhigh = {number(1 - (1 - alpha) * f.ppf(0.025))}")
    print(f"sem = {number(total.std(ddof=1) * math.sqrt(1 - alpha))}")
    print(f"facility = [{', '.join(number(p) for p in x.mean(axis=0))}]")
    with np.errstate(all="ignore"):
        rests = [total - x[:, i] for i in range(k)]
        rs = [np.corrcoef(x[:, i], r)[0, 1] if x[:, i].std() and r.std() else math.nan for i, r in enumerate(rests)]
    print(f"discrimination = [{', '.join(number(r) for r in rs)}]")
