"""The figures of Review by pandas, scipy, lifelines and statsmodels, timed from the file on: prints {"ms"} and its parts.

What the three answers of the register are mostly made of (answers of soaks, damage and the shares of a life by age are
left out, and everything is read from a file, where the register has worked out each log's facts when it was written): the comparison of woods for a log and year (pooled means with
intervals, taken for one thickness; the chance of each to be best and to beat each other; the analysis of variance;
odd weights; ties), the curves to the first fruit (with intervals, medians, the log-rank test), and the season (its sums
by year, month, week and quarter, flushes by the gap, how forecasts came out, and the comparison once more).
"""
import json
import sys
import time
import warnings

import numpy as np
import pandas as pd
from lifelines import KaplanMeierFitter
from lifelines.statistics import multivariate_logrank_test
from lifelines.utils import median_survival_times
from scipy import stats
from statsmodels.regression.mixed_linear_model import MixedLM

warnings.simplefilter("ignore")
TODAY = pd.Timestamp("2026-12-01")
DRAWS, GAP_DAYS, LOST_DAYS, ROUNDS = 4000, 21, 40, 5


def woods(logs, picks):
    """The comparison of woods: who gave most for a log and year."""
    rate = np.log(logs["rate"].to_numpy())
    size = 2 * np.log(logs["thick"].to_numpy() / 1000)
    design = np.column_stack([np.ones(len(logs)), size - size.mean()])
    fit = MixedLM(rate, design, groups=logs["wood"].to_numpy()).fit(reml=True)
    effects, spreads = fit.random_effects, fit.random_effects_cov
    means = np.array([float(np.asarray(effects[k])[0]) for k in effects])
    errors = np.array([float(np.asarray(spreads[k]).ravel()[0]) for k in effects]) ** 0.5
    common = float(np.asarray(fit.fe_params)[0])
    ranges = np.exp(common + means + stats.norm.ppf([[0.05], [0.5], [0.95]]) * errors)
    draws = np.random.default_rng(1).normal(means, errors, size=(DRAWS, len(means)))
    best = np.bincount(draws.argmax(axis=1), minlength=len(means)) / DRAWS
    beats = [[(draws[:, a] > draws[:, b]).mean() for b in range(len(means))] for a in range(len(means))]
    differ = stats.f_oneway(*(group.to_numpy() for _, group in logs["rate"].groupby(logs["wood"])))
    amounts = np.log(picks["grams"].to_numpy())
    middle = np.median(amounts)
    odd = np.abs(amounts - middle) > max(3.5 * 1.4826 * np.median(np.abs(amounts - middle)), np.log(8))
    ties = pd.crosstab(logs["wood"], logs["laid"].dt.year)
    return ranges, best, beats, differ, odd.sum(), ties


def curves(logs):
    """Years to the first fruit by wood."""
    seen = logs["first"].notna()
    waited = (logs["first"].fillna(TODAY) - logs["laid"]).dt.days / 365.25
    medians = []
    for _, at in logs.groupby("wood").groups.items():
        curve = KaplanMeierFitter(alpha=0.1).fit(waited.loc[at], seen.loc[at])
        medians.append((curve.median_survival_time_, median_survival_times(curve.confidence_interval_)))
    return medians, multivariate_logrank_test(waited, logs["wood"], seen)


def season(rows, logs, picks):
    """The season's sums."""
    by_day = picks.set_index("day")["grams"]
    sums = [by_day.resample(by).agg(["sum", "count"]) for by in ("YS", "MS", "W", "QS-DEC")]
    ordered = picks.sort_values(["log", "day"])
    new = ordered["log"].ne(ordered["log"].shift()) | (ordered["day"].diff().dt.days >= GAP_DAYS)
    flushes = ordered.assign(flush=new.cumsum()).groupby("flush").agg(day=("day", "first"), log=("log", "first"))
    made = rows[rows["kind"] == "forecast"].sort_values("day")
    ends = picks[["log", "day"]].assign(cupped=picks["day"]).sort_values("day")
    met = pd.merge_asof(made, ends, on="day", by="log", direction="forward", tolerance=pd.Timedelta(days=LOST_DAYS))
    took = (met["cupped"] - met["day"]).dt.days
    hits = took.between(met["low"] // 10, -(-met["high"] // 10))
    return sums, flushes.groupby(flushes["day"].dt.year)["log"].nunique(), hits.mean(), woods(logs, picks)


def answered(path):
    """All from the file on; milliseconds of each part."""
    began = time.perf_counter()
    rows = pd.read_csv(path, parse_dates=["laid", "day"])
    picks = rows[rows["kind"] == "picking"]
    logs = rows.groupby("log").agg(wood=("wood", "first"), thick=("thick", "first"), laid=("laid", "first"))
    gave = picks.groupby("log").agg(grams=("grams", "sum"), first=("day", "min"))
    logs = logs.join(gave)
    logs["rate"] = logs["grams"] / ((TODAY - logs["laid"]).dt.days / 365.25)
    marks = [time.perf_counter()]
    woods(logs, picks)
    marks.append(time.perf_counter())
    curves(logs)
    marks.append(time.perf_counter())
    season(rows, logs, picks)
    marks.append(time.perf_counter())
    return np.diff([began, *marks]) * 1000


# The first round warms up what is only loaded when it is first used; medians, as of the register.
rounds = np.array([answered(sys.argv[1]) for _ in range(ROUNDS)])
middle = np.median(rounds, axis=0)
parts = dict(zip(("read", "compared", "curves", "season"), middle.round().tolist()))
json.dump({"ms": float(np.median(rounds.sum(axis=1))), "parts": parts}, sys.stdout)
