"""The same statistics by scipy, lifelines and statsmodels: JSON in on standard input, JSON out.

in:  {"groups": [[value, ...], ...], "spans": [[[entry, exit, event], ...], ...]}
out: {"anova": {"f", "p"}, "curves": [[[time, share], ...], ...], "medians": [...],
      "log_rank": {"chi2", "p"}, "mixed": {"lambda", "means": [...]}}
"""
import json
import sys
import warnings

import numpy as np
import pandas as pd
from lifelines import KaplanMeierFitter
from lifelines.statistics import multivariate_logrank_test
from scipy import stats
from statsmodels.regression.mixed_linear_model import MixedLM

warnings.simplefilter("ignore")


def anova(groups):
    f, p = stats.f_oneway(*[g for g in groups if g])
    return {"f": float(f), "p": float(p)}


def curves(spans):
    out, medians = [], []
    for group in spans:
        table = pd.DataFrame(group, columns=["entry", "exit", "event"])
        fitted = KaplanMeierFitter().fit(table["exit"], table["event"], entry=table["entry"])
        at = sorted(set(table.loc[table["event"] == 1, "exit"]))
        out.append([[float(t), float(fitted.survival_function_at_times(t).iloc[0])] for t in at])
        median = float(fitted.median_survival_time_)
        medians.append(None if np.isinf(median) else median)
    return out, medians


def log_rank(spans):
    rows = [(row[1], row[2], j) for j, group in enumerate(spans) for row in group if row[0] == 0]
    time, event, of = zip(*rows)
    test = multivariate_logrank_test(time, of, event)
    return {"chi2": float(test.test_statistic), "p": float(test.p_value)}


def mixed(groups):
    rows = [(value, j) for j, group in enumerate(groups) for value in group]
    value, of = (np.array(column) for column in zip(*rows))
    # Its search wants values near 1; the ratio of the spreads does not change.
    unit = value.std()
    fit = MixedLM(value / unit, np.ones((len(value), 1)), groups=of).fit(reml=True, method=["powell", "lbfgs"])
    lam = float(np.asarray(fit.cov_re)[0, 0] / fit.scale)
    common = float(fit.fe_params[0])
    apart = fit.random_effects
    means = [unit * (common + float(np.asarray(apart[j])[0])) for j in sorted(set(of))]
    return {"lambda": lam, "means": means}


def main():
    given = json.load(sys.stdin)
    shares, medians = curves(given["spans"])
    json.dump(
        {
            "anova": anova(given["groups"]),
            "curves": shares,
            "medians": medians,
            "log_rank": log_rank(given["spans"]),
            "mixed": mixed(given["groups"]),
        },
        sys.stdout,
    )


main()
