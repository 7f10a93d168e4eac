"""Dates rows of open data by general methods, for the test that holds ours beside them.

Reads one data set as JSON on standard input, writes figures as JSON. Needs
Debian's python3-sklearn (BSD). Every method chooses its temper, its blur over
years and its share of the even guess on the training rows alone, by
predictions that each row had no part in.
"""
import itertools
import json
import sys
import warnings

import numpy as np
from sklearn.ensemble import HistGradientBoostingRegressor, RandomForestClassifier
from sklearn.model_selection import KFold

warnings.simplefilter("ignore")
TEMPERS = np.arange(1, 21) / 20


def kernel(h):
    return np.array([h + 1 - abs(d) for d in range(-h, h + 1)]) / (h + 1) ** 2


def blur(rows, h):
    """Blurs along the first axis; what falls outside is lost."""
    k, out = kernel(h), np.zeros_like(rows)
    for d in range(-h, h + 1):
        a, b = max(0, d), len(rows) + min(0, d)
        if b > a:
            out[a:b] += k[d + h] * rows[a - d : b - d]
    return out


def bits(p, at):
    return float(-np.log2(np.maximum(p[np.arange(len(at)), at], 1e-300)).mean())


def tempered(prior, logs, t):
    z = np.log(prior) + t * logs
    p = np.exp(z - z.max(1, keepdims=True))
    return p / p.sum(1, keepdims=True)


class Bayes:
    """Naive Bayes over counts blurred over years and steps, as in the plan's section 9."""

    def __init__(self, d):
        self.codes, self.sizes, self.numbers = np.array(d["codes"]).T, d["sizes"], d["numbers"]
        self.at, self.n, self.train = np.array(d["at"]), d["years"], np.array(d["train"])

    def prior(self, held_out):
        counts = np.bincount(self.at[self.train], minlength=self.n).astype(float)
        p = blur(counts, 2)[None, :] + 0.5
        if held_out:
            own = blur(np.eye(self.n), 2)
            p = p - own[self.at[self.train]]
        return p / p.sum(1, keepdims=True)

    def logs(self, weight, h, b, rows, held_out):
        total, own = np.zeros((len(rows), self.n)), blur(np.eye(self.n), h)
        for x, size, number in zip(self.codes, self.sizes, self.numbers):
            steps = blur(np.eye(size), b if number else 0)
            known = self.train[x[self.train] >= 0]
            counts = np.zeros((self.n, size))
            np.add.at(counts, (self.at[known], x[known]), 1)
            counts = blur(counts @ steps.T, h)
            seen = x[rows] >= 0
            v = np.maximum(x[rows], 0)
            met, all_met = counts[:, v].T.copy(), np.repeat(counts.sum(1)[None, :], len(rows), 0)
            if held_out:
                mine = own[:, self.at[rows]].T
                met -= mine * steps[v, v][:, None]
                all_met -= mine * steps.sum(0)[v][:, None]
            p = (weight / size + np.maximum(met, 0)) / (weight + np.maximum(all_met, 0))
            total += np.where(seen[:, None], np.log(0.98 * p + 0.02 / size), 0)
        return total

    def tune(self):
        """Gives the bits of every setting, each row dated without itself and at its best temper."""
        at, prior, grid = self.at[self.train], self.prior(True), {}
        steps = (0, 1, 2) if any(self.numbers) else (0,)
        for w, h, b in itertools.product((0.5, 1, 2, 4, 8), (0, 1, 2, 3, 5, 8), steps):
            logs = self.logs(w, h, b, self.train, True)
            cost, t = min((bits(tempered(prior, logs, t), at), t) for t in TEMPERS)
            for b in (0, 1, 2) if len(steps) == 1 else (b,):
                grid[f"{w} {h} {b}"] = (cost, t)
        return grid


def fitted(p, at):
    """Gives the adjustment of predictions that costs the fewest bits."""

    def adjusted(p, h, t, even):
        q = np.maximum(blur(p.T, h).T, 1e-12) ** t
        return (1 - even) * q / q.sum(1, keepdims=True) + even / p.shape[1]

    choices = itertools.product((0, 1, 2, 3, 5, 8), TEMPERS[3:], (0.001, 0.01, 0.05, 0.1, 0.2, 0.4))
    best = min(choices, key=lambda c: bits(adjusted(p, *c), at))
    return lambda p: adjusted(p, *best)


def forest(x, y, n, test):
    model = RandomForestClassifier(150, min_samples_leaf=2, oob_score=True, random_state=0).fit(x, y)
    p, q = np.zeros((len(y), n)), np.zeros((len(test), n))
    p[:, model.classes_] = np.nan_to_num(model.oob_decision_function_)
    q[:, model.classes_] = model.predict_proba(test)
    return fitted(p, y)(q)


def boosted(x, y, n, test):
    """Boosted trees for the year, with the spread of their own cross-validated errors."""

    def fit(rows):
        return HistGradientBoostingRegressor(max_iter=100, learning_rate=0.08, max_leaf_nodes=12, min_samples_leaf=8, random_state=0).fit(x[rows], y[rows])

    held = np.zeros(len(y))
    for a, b in KFold(5, shuffle=True, random_state=0).split(x):
        held[b] = fit(a).predict(x[b])
    errors = y - held

    def spread(predicted):
        p = np.array([np.exp(-0.5 * ((np.arange(n)[:, None] - m - errors) / 2) ** 2).sum(1) for m in predicted]) + 1e-9
        return p / p.sum(1, keepdims=True)

    return fitted(spread(held), y)(spread(fit(np.arange(len(y))).predict(test)))


def main():
    d = json.load(sys.stdin)
    bayes, train, test = Bayes(d), np.array(d["train"]), np.array(d["test"])
    at, n, x = bayes.at, bayes.n, np.array(d["raw"], dtype=float)
    grid = bayes.tune()
    w, h, b = (float(s) if i == 0 else int(s) for i, s in enumerate(min(grid, key=lambda k: grid[k][0]).split()))
    best = grid[f"{w if w < 1 else int(w)} {h} {b}"]
    prior = bayes.prior(False)
    rivals = {
        "naive Bayes": bits(tempered(prior, bayes.logs(w, h, b, test, False), best[1]), at[test]),
        "bare frequencies": bits(np.repeat(prior, len(test), 0), at[test]),
        "random forest": bits(forest(np.nan_to_num(x[train], nan=-1), at[train], n, np.nan_to_num(x[test], nan=-1)), at[test]),
        "boosted trees": bits(boosted(x[train], at[train], n, x[test]), at[test]),
    }
    json.dump({"rivals": rivals, "grid": grid}, sys.stdout)


main()
