"""The statistics of Review by pandas, lifelines and statsmodels, timed from the file on: prints {"ms"}."""
import json
import sys
import time
import warnings

import numpy as np
import pandas as pd
from lifelines import KaplanMeierFitter
from lifelines.statistics import multivariate_logrank_test
from statsmodels.regression.mixed_linear_model import MixedLM

warnings.simplefilter("ignore")
began = time.perf_counter()
rows = pd.read_csv(sys.argv[1], parse_dates=["laid", "day"])
logs = rows.groupby("log").agg(wood=("wood", "first"), laid=("laid", "first"), grams=("grams", "sum"), first=("day", "min"))
years = (pd.Timestamp("2026-12-01") - logs["laid"]).dt.days / 365.25
logs["rate"] = logs["grams"] / years
waited = (logs["first"] - logs["laid"]).dt.days / 365.25
fit = MixedLM(np.log(logs["rate"].to_numpy()), np.ones((len(logs), 1)), groups=logs["wood"].to_numpy()).fit(reml=True)
fit.random_effects
for _, group in waited.groupby(logs["wood"]):
    KaplanMeierFitter().fit(group).median_survival_time_
multivariate_logrank_test(waited, logs["wood"], np.ones(len(logs)))
for by in ("MS", "W", "YS"):
    rows.set_index("day")["grams"].resample(by).sum()
rng = np.random.default_rng(1)
means = np.array([float(np.asarray(e)[0]) for e in fit.random_effects.values()])
draws = rng.normal(means, np.sqrt(fit.scale / 300), size=(4000, len(means)))
np.bincount(draws.argmax(axis=1), minlength=len(means))
json.dump({"ms": (time.perf_counter() - began) * 1000}, sys.stdout)
