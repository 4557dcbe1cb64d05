"""Writes tests/fixtures/trials/statsmodels.json: statsmodels' opinion of invented trials with fixed seeds.

Run from the project's root:  python3 tests/oracles/statsmodels_trials.py
Each row is a trial of two settings over one or several days: for each run its day, its place in the running order and its
setting, its lap in seconds; then the effect of the second setting, its standard error, the ends of the 95 % interval, the
two-sided p and the degrees of freedom of an ordinary least squares fit with a level and a trend for each day.

"pairs" are trials of three or four settings: every pair, each at an equal share of 0.05 (Bonferroni), its p times the number of pairs.
"lines" are trials of three numbers: whether the settings one by one fit better than a straight line (F test of lack of fit at 0.05),
and the difference over the range of the line at half of 0.05, with all pairs at the other half.
"""

import json
import pathlib

import numpy
import scipy
import statsmodels
import statsmodels.api as sm

random = numpy.random.default_rng(20261129)
ORDERS = [
    ["ABAB"], ["ABBA"], ["ABABA"], ["ABBAB"], ["AABBABBA"], ["ABABABAB"], ["ABAB", "BABA"], ["AABBA", "ABB"],
    ["ABA", "BAB", "ABBA"], ["ABBABAAB", "BAABABBA"],
]
rows = []
for days in ORDERS * 3:
    runs, laps = [], []
    lap, trend, effect = random.uniform(41, 150), random.uniform(-0.2, 0.2), random.uniform(-0.6, 0.6)
    for day, order in enumerate(days):
        for place, letter in enumerate(order, 1):
            x = int(letter == "B")
            runs.append([day, place, x])
            laps.append(round(lap + day * 0.3 + trend * place + effect * x + random.normal(0, 0.12), 2))
    columns = []
    for day in range(len(days)):
        own = numpy.array([1.0 if run[0] == day else 0.0 for run in runs])
        columns += [own, own * numpy.array([run[1] for run in runs])]
    columns.append(numpy.array([run[2] for run in runs], float))
    fit = sm.OLS(numpy.array(laps), numpy.column_stack(columns)).fit()
    low, high = fit.conf_int(0.05)[-1]
    rows.append({
        "runs": runs, "laps": laps, "effect": fit.params[-1], "error": fit.bse[-1], "low": low, "high": high,
        "p": fit.pvalues[-1], "freedom": int(fit.df_resid),
    })


def blocks(runs):
    columns = []
    for day in range(max(run[0] for run in runs) + 1):
        own = numpy.array([1.0 if run[0] == day else 0.0 for run in runs])
        columns += [own, own * numpy.array([run[1] for run in runs])]
    return columns


def looks(fit, first, levels, count):
    """Every pair of settings, each of so many looks."""
    found = []
    for a in range(levels):
        for b in range(a + 1, levels):
            contrast = numpy.zeros(len(fit.params))
            contrast[first + b - 1] = 1.0
            if a > 0:
                contrast[first + a - 1] = -1.0
            one = fit.t_test(contrast)
            low, high = one.conf_int(0.05 / count)[0]
            found.append({
                "from": a, "to": b, "effect": float(one.effect[0]), "error": float(one.sd[0][0]), "low": low, "high": high,
                "p": min(1.0, float(one.pvalue) * count),
            })
    return found


random = numpy.random.default_rng(20261130)


def season(days, by):
    runs, laps = [], []
    lap, trend = random.uniform(41, 150), random.uniform(-0.2, 0.2)
    for day, order in enumerate(days):
        for place, letter in enumerate(order, 1):
            level = ord(letter) - ord("A")
            runs.append([day, place, level])
            laps.append(round(lap + day * 0.3 + trend * place + by[level] + random.normal(0, 0.12), 2))
    columns = blocks(runs)
    first = len(columns)
    return runs, numpy.array(laps), columns, first


def dummies(runs, levels):
    return [numpy.array([float(run[2] == level) for run in runs]) for level in range(1, levels)]


pairs = []
for days in [["ABCABC"], ["ACBBCA"], ["ABCDDCBA"], ["ABCA", "CBAC"], ["ABDCBA", "DCAB"]] * 4:
    levels = len(set("".join(days)))
    runs, laps, columns, first = season(days, random.uniform(-0.4, 0.4, levels))
    fit = sm.OLS(laps, numpy.column_stack(columns + dummies(runs, levels))).fit()
    count = levels * (levels - 1) // 2
    pairs.append({
        "runs": runs, "laps": list(laps), "effects": looks(fit, first, levels, count), "freedom": int(fit.df_resid),
    })
lines = []
for index, days in enumerate([["ABCABC"], ["ACBBCAAC"], ["BACCABACB"], ["ABCA", "CBAC"]] * 8):
    numbers = [1.0, 2.5, 5.0]
    by = [[0.0, 0.0, 0.0], [0.0, -0.3, -0.8], [0.0, -0.6, 0.0], [0.0, 0.15, 0.4]][index // 8]
    runs, laps, columns, first = season(days, by)
    full = sm.OLS(laps, numpy.column_stack(columns + dummies(runs, 3))).fit()
    line = sm.OLS(laps, numpy.column_stack(columns + [numpy.array([numbers[run[2]] for run in runs])])).fit()
    lack = float(full.compare_f_test(line)[1])
    low, high = line.conf_int(0.025)[-1] * 4.0
    lines.append({
        "runs": runs, "laps": list(laps), "numbers": numbers, "lack": lack,
        "line": {
            "from": 0, "to": 2, "effect": line.params[-1] * 4.0, "error": line.bse[-1] * 4.0, "low": low, "high": high,
            "p": min(1.0, line.pvalues[-1] * 2.0),
        },
        "line_freedom": int(line.df_resid), "effects": looks(full, first, 3, 6), "freedom": int(full.df_resid),
    })
out = {
    "versions": {"statsmodels": statsmodels.__version__, "numpy": numpy.__version__, "scipy": scipy.__version__},
    "rows": rows,
    "pairs": pairs,
    "lines": lines,
}
pathlib.Path("tests/fixtures/trials/statsmodels.json").write_text(json.dumps(out, indent=1) + "\n")
