"""Writes tests/fixtures/statistics/{one,two,needed,renewal}.json: lifelines' and scipy's opinion of invented lives.

Run from the project's root, with lifelines, scipy and statsmodels installed:  python3 tests/oracles/lifelines_scipy.py
`one`: sets of lives; the Kaplan-Meier curve, its log-log band and its median by lifelines; the Weibull fit by lifelines,
and by scipy to more digits; profile-likelihood ranges by scipy, each found by holding the quantity itself and maximising
over what is left (not by walking the region's edge). `two`: pairs of kinds; log-rank by lifelines, by statsmodels where
lives entered late (lifelines' test has no entry); the exact permutation
p by dealing the lives in every way and building each deal's table anew. `needed`: the second kind's running lives made
longer by one unit at a time until that p is small enough. `renewal`: chances of 0, 1, 2 failures by scipy's quadrature.
Lives are [entry, exit, failed]. No entry falls on an exit: lifelines counts a life entered at the very age of a failure
as at risk of it, and others (R's survfit, and this project) do not.
"""

import itertools
import json
import pathlib
import warnings

import lifelines
import numpy as np
import scipy
import statsmodels
from lifelines import KaplanMeierFitter, WeibullFitter
from lifelines.statistics import logrank_test
from lifelines.utils import median_survival_times
from scipy import integrate, optimize, special, stats
from statsmodels.duration.survfunc import survdiff

warnings.filterwarnings("ignore")
HERE = pathlib.Path(__file__).resolve().parent.parent / "fixtures" / "statistics"
VERSIONS = {"lifelines": lifelines.__version__, "scipy": scipy.__version__, "numpy": np.__version__,
            "statsmodels": statsmodels.__version__}


def lives(seed, count, shape, scale, cut, late, digits):
    """Weibull lives, cut short evenly within `cut` scales; a share `late` entered late."""
    rng = np.random.default_rng(seed)
    made = []
    while len(made) < count:
        life = scale * rng.weibull(shape)
        end = rng.uniform(0, cut * scale)
        entry = rng.uniform(0, scale * 0.6) if rng.uniform() < late else 0.0
        exit_, failed = (life, True) if life <= end else (end, False)
        entry, exit_ = round(entry, digits) + (0.5 * 10 ** -digits if entry else 0), round(exit_, digits)
        if exit_ > entry:
            made.append([entry, exit_, failed])
    return made


def columns(data):
    entry, exit_, failed = (np.array(column) for column in zip(*data))
    return entry.astype(float), exit_.astype(float), failed.astype(bool)


def none_if_endless(value):
    return None if not np.isfinite(value) else float(value)


def kaplan_meier(data):
    entry, exit_, failed = columns(data)
    rows = {}
    for level in (0.9, 0.95):
        kmf = KaplanMeierFitter(alpha=1 - level)
        kmf.fit(exit_, failed, entry=entry if entry.any() else None)
        band = kmf.confidence_interval_
        events = kmf.event_table[kmf.event_table.observed > 0]
        rows[str(level)] = [[float(t), *map(float, band.loc[t])] for t in events.index]
        middle = median_survival_times(band)
        rows[f"median-{level}"] = [none_if_endless(v) for v in middle.iloc[0]]
    return {
        "steps": [[float(t), int(row.at_risk), int(row.observed), float(kmf.survival_function_.loc[t].iloc[0])]
                  for t, row in events.iterrows()],
        "median": none_if_endless(kmf.median_survival_time_),
        "bands": rows,
    }


def log_likelihood(data):
    entry, exit_, failed = columns(data)
    logs = np.log(exit_[failed])

    def at(shape, log_scale):
        scale = np.exp(log_scale)
        return (failed.sum() * (np.log(shape) - shape * log_scale) + (shape - 1) * logs.sum()
                - np.sum((exit_ / scale) ** shape - (entry / scale) ** shape))

    return at


def weibull(data):
    entry, exit_, failed = columns(data)
    fitter = WeibullFitter().fit(exit_, failed, entry=entry if entry.any() else None)
    at = log_likelihood(data)

    def best_scale(shape):
        return np.log(np.sum(exit_ ** shape - entry ** shape) / failed.sum()) / shape

    found = optimize.minimize_scalar(lambda log: -at(np.exp(log), best_scale(np.exp(log))),
                                     bracket=(np.log(fitter.rho_) - .1, np.log(fitter.rho_) + .1),
                                     method="brent", options={"xtol": 1e-12})
    shape = float(np.exp(found.x))
    log_scale = float(best_scale(shape))
    top = at(shape, log_scale)
    scale = np.exp(log_scale)
    age, more = 0.5 * scale, 0.3 * scale

    # Each quantity as a function that gives ln scale from the shape and the quantity's value.
    def from_mean(b, value):
        return np.log(value) - special.gammaln(1 + 1 / b)

    def from_b10(b, value):
        return np.log(value) - np.log(-np.log(.9)) / b

    def from_chance(b, value):
        return np.log(((age + more) ** b - age ** b) / -np.log1p(-value)) / b

    def ends(level, profile, centre, factor, top_end=np.inf):
        drop = stats.chi2.ppf(level, 1) / 2
        inside = lambda v: profile(v) - (top - drop)
        low, high = centre, centre
        while inside(low) > 0:
            low /= factor
            if low < centre * 1e-9:
                low = None
                break
        if top_end < np.inf:  # a chance: step towards 1 in odds
            odds = centre / (1 - centre)
            while inside(high) > 0:
                odds *= factor
                high = odds / (1 + odds)
        else:
            while inside(high) > 0:
                high *= factor
        find = lambda one, other: float(optimize.brentq(inside, one, other, xtol=1e-13, rtol=1e-12))
        return [low and find(low, centre), find(centre, high)]

    def over_shape(scale_from):
        def profile(value):
            guess = np.log(shape)
            found = optimize.minimize_scalar(lambda log: -at(np.exp(log), scale_from(np.exp(log), value)),
                                             bracket=(guess - .05, guess + .05), method="brent",
                                             options={"xtol": 1e-10})
            return -found.fun
        return profile

    b10 = scale * (-np.log(.9)) ** (1 / shape)
    mean = scale * special.gamma(1 + 1 / shape)
    chance = 1 - np.exp(-(((age + more) / scale) ** shape - (age / scale) ** shape))
    ranges = {}
    for level in (0.9, 0.95):
        ranges[str(level)] = {
            "shape": ends(level, lambda b: at(b, best_scale(b)), shape, 1.2),
            "scale": ends(level, over_shape(lambda b, value: np.log(value)), scale, 1.2),
            "b10": ends(level, over_shape(from_b10), b10, 1.2),
            "mean": ends(level, over_shape(from_mean), mean, 1.2),
            "conditional": ends(level, over_shape(from_chance), chance, 1.2, 1.0),
        }
    return {
        "lifelines": {"shape": float(fitter.rho_), "scale": float(fitter.lambda_),
                      "log-likelihood": float(fitter.log_likelihood_)},
        "shape": shape, "scale": float(scale), "log-likelihood": float(top), "b10": float(b10), "mean": float(mean),
        "age": float(age), "more": float(more), "conditional": float(chance), "ranges": ranges,
    }


def observed_less_expected(first, second):
    total = 0.0
    for age in sorted({life[1] for life in first + second if life[2]}):
        risk = [sum(entry < age <= exit_ for entry, exit_, _ in kind) for kind in (first, second)]
        died = [sum(exit_ == age and failed for _, exit_, failed in kind) for kind in (first, second)]
        total += died[1] - sum(died) * risk[1] / sum(risk)
    return total


def compared(first, second):
    (e1, x1, f1), (e2, x2, f2) = columns(first), columns(second)
    late = bool(e1.any() or e2.any())
    if late:
        kind = np.repeat([0, 1], [len(first), len(second)])
        chi, p = survdiff(np.concatenate([x1, x2]), np.concatenate([f1, f2]).astype(int), kind,
                          entry=np.concatenate([e1, e2]))
    else:
        result = logrank_test(x1, x2, f1, f2)
        chi, p = result.test_statistic, result.p_value
    row = {"first": first, "second": second, "chi-squared": float(chi), "p": float(p),
           "difference": observed_less_expected(first, second)}
    if not late and special.comb(len(first + second), len(second)) <= 20_000:
        uneven, splits = dealt(first, second)
        row |= {"uneven": uneven, "splits": splits}
    return row


def dealt(first, second):
    pool = first + second
    seen = abs(observed_less_expected(first, second))
    uneven = splits = 0
    for chosen in itertools.combinations(range(len(pool)), len(second)):
        taken = set(chosen)
        splits += 1
        uneven += abs(observed_less_expected([l for i, l in enumerate(pool) if i not in taken],
                                             [pool[i] for i in chosen])) >= seen - 1e-9
    return uneven, splits


def needed(first, second, running, significance):
    """The least whole number of units; None if not within the longest life."""
    found = None
    for more in range(int(max(life[1] for life in first + second)) + 1):
        longer = [[entry, exit_ + more * (i in running), failed] for i, (entry, exit_, failed) in enumerate(second)]
        uneven, splits = dealt(first, longer)
        if uneven / splits <= significance and observed_less_expected(first, longer) < 0:
            found = more
            break
    return {"first": first, "second": second, "running": running, "significance": significance, "needed": found}


def counted(shape, scale, age, running):
    survival = lambda t: np.exp(-(t / scale) ** shape)
    first = lambda t: 1 - survival(age + t) / survival(age)
    density = lambda t: shape / scale * (t / scale) ** (shape - 1) * survival(t)
    first_density = lambda t: density(age + t) / survival(age)
    quad = lambda f, a, b: integrate.quad(f, a, b, epsabs=1e-12, epsrel=1e-12, limit=200)[0]
    by = lambda t: 1 - survival(t)
    two = lambda t: quad(lambda u: density(u) * by(t - u), 0, t)
    once, twice = first(running), quad(lambda u: first_density(u) * by(running - u), 0, running)
    thrice = quad(lambda u: first_density(u) * two(running - u), 0, running)
    return {"shape": shape, "scale": scale, "age": age, "running": running,
            "counts": [1 - once, once - twice, twice - thrice]}


ONE = [
    ("whole minutes, many ties", lives(11, 40, 2.2, 20, 2.0, 0, 0)),
    ("many lives", lives(12, 250, 1.6, 300, 1.5, 0, 2)),
    ("few failures", lives(13, 14, 2.5, 100, 0.7, 0, 1)),
    ("early trouble", lives(14, 30, 0.7, 100, 3.0, 0, 3)),
    ("late entry", lives(15, 60, 2.0, 200, 2.0, 0.5, 2)),
    ("late entry, whole minutes", lives(16, 60, 3.0, 30, 2.0, 0.6, 0)),
    ("steep", lives(17, 20, 9.0, 50, 1.6, 0, 2)),
]
TWO = [
    (lives(21, 6, 2.0, 100, 2.0, 0, 1), lives(22, 5, 2.0, 200, 2.0, 0, 1)),
    (lives(23, 10, 2.0, 12, 2.0, 0, 0), lives(24, 4, 2.0, 20, 2.0, 0, 0)),
    (lives(25, 7, 3.0, 100, 3.0, 0, 1), lives(26, 6, 3.0, 250, 3.0, 0, 1)),
    (lives(27, 80, 1.5, 100, 2.0, 0, 1), lives(28, 60, 1.5, 150, 2.0, 0, 1)),
    (lives(29, 50, 1.5, 100, 2.0, 0.5, 1), lives(30, 40, 1.5, 150, 2.0, 0.3, 1)),
]
RENEWAL = [(2.5, 1000, 0, 1000), (2.5, 1000, 600, 1500), (1.3, 200, 50, 300), (4.0, 100, 80, 150)]

STD = [[0, t, True] for t in (292, 208, 75, 249, 91)] + [[0, t, False] for t in (225, 161, 154, 226)]
NEEDED = [
    (STD, [[0, 177, False], [0, 95, False], [0, 82, False]], [0, 1], 0.05),
    (STD, [[0, 177, False], [0, 95, False], [0, 82, False]], [0, 1], 0.10),
    (STD, [[0, 177, False], [0, 95, False], [0, 82, False]], [0, 1, 2], 0.05),
    (STD, [[0, 177, False], [0, 95, False], [0, 82, False]], [0, 1, 2], 0.10),
    ([[0, t, True] for t in (10, 12, 15, 15, 20)], [[0, 14, True], [0, 9, False], [0, 16, False], [0, 3, False]], [1, 2, 3], 0.10),
    ([[0, t, True] for t in (10, 12, 15, 15, 20)], [[0, 9, False], [0, 16, False], [0, 3, False]], [0, 1, 2], 0.05),
    ([[0, t, True] for t in (10, 12)], [[0, 9, False], [0, 16, False]], [0, 1], 0.05),
    ([[0, t, True] for t in (5, 6, 7, 8)], [[0, 1, False]] * 4, [0, 1, 2, 3], 0.05),
    ([[0, t, True] for t in (10, 11, 12, 13, 14)], [[0, t, False] for t in (2, 3, 4, 5)], [0, 1, 2, 3], 0.05),
    ([[0, t, True] for t in (10, 12, 11, 9)], [[0, 30, False], [0, 25, False], [0, 22, True]], [0, 1], 0.05),
]


def write(name, value):
    text = json.dumps({"versions": VERSIONS, "rows": value}, indent=1)
    (HERE / name).write_text(text + "\n")


HERE.mkdir(parents=True, exist_ok=True)
write("one.json", [{"name": name, "lives": data, "curve": kaplan_meier(data), "weibull": weibull(data)}
                   for name, data in ONE])
write("two.json", [compared(*pair) for pair in TWO])
write("needed.json", [needed(*row) for row in NEEDED])
write("renewal.json", [counted(*row) for row in RENEWAL])
