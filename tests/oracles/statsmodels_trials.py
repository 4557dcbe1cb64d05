"""Writes tests/fixtures/trials/statsmodels.json: statsmodels' opinion of invented trials with fixed seeds.

Run from the project's root:  python3 tests/oracles/statsmodels_trials.py
Each row is a trial of two settings over one or several days: for each run its day, its place in the running order and its
setting, its lap in seconds; then the effect of the second setting, its standard error, the ends of the 95 % interval, the
two-sided p and the degrees of freedom of an ordinary least squares fit with a level and a trend for each day.
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
out = {
    "versions": {"statsmodels": statsmodels.__version__, "numpy": numpy.__version__, "scipy": scipy.__version__},
    "rows": rows,
}
pathlib.Path("tests/fixtures/trials/statsmodels.json").write_text(json.dumps(out, indent=1) + "\n")
