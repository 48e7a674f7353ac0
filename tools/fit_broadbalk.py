"""Fit straw and grain to nitrogen on a long wheat experiment: rows for yields.toml.

    python tools/fit_broadbalk.py broadbalk.csv

The file has columns year, plot, grain and straw [t/ha], as R's collections carry the
classical wheat experiment at Rothamsted, 1852 to 1925. Of its plots the four are taken
that had the same minerals each year and differ in nitrogen alone.
"""

import csv
import sys
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy.optimize import least_squares

GIVEN = {"P05": 0.0, "P06": 48.0, "P07": 96.0, "P08": 144.0}
"""Nitrogen of each plot, as ammonium salts. [kg/ha]"""
START = (9.0, 70.0, 50.0)
"""Whence the logistic curve is sought: t/ha, kg/ha, kg/ha."""


class Fit(NamedTuple):
    """Rows of [nitrogen] and of [years], in their order and units."""

    most: float
    half_at: float
    width: float
    grain_per_straw: float
    grain_per_straw_change: float
    dry_matter_years: float
    dry_matter_plots: float
    grain_per_straw_years: float
    grain_per_straw_plots: float


def fit(straw, grain, given):
    """The `Fit` to straw and grain, (year, plot), of plots given so much nitrogen.

    Each year moves all plots by a factor, and each plot of a year by one of its own.
    """
    whole, ratio = np.log(straw + grain), np.log(grain / straw)
    curve = least_squares(
        lambda p: _logistic(p, given) - whole.mean(axis=0), START, xtol=1e-12
    ).x
    change, start = np.polyfit(given, ratio.mean(axis=0), 1)
    return Fit(
        *map(float, curve),
        float(np.exp(start)),
        float(change),
        *_spreads(whole - _logistic(curve, given)),
        *_spreads(ratio - start - change * given),
    )


def _logistic(curve, given):
    most, half_at, width = curve
    return np.log(most) - np.log1p(np.exp((half_at - given) / width))


def _spreads(left):
    """Standard deviations between years, and between plots of a year."""
    years, plots = left.shape
    own = left - left.mean(axis=1, keepdims=True) - left.mean(axis=0) + left.mean()
    between_plots = (own**2).sum() / ((years - 1) * (plots - 1))
    between_years = left.mean(axis=1).var(ddof=1) - between_plots / plots
    return float(np.sqrt(max(between_years, 0))), float(np.sqrt(between_plots))


def read(path, plots=tuple(GIVEN)):
    """Straw and grain, each (year, plot). [t/ha]"""
    lines = Path(path).read_text("utf-8").splitlines()
    rows = [row for row in csv.DictReader(lines) if row["plot"] in plots]
    rows.sort(key=lambda row: (row["year"], plots.index(row["plot"])))
    straw, grain = (
        np.array([float(row[name]) for row in rows]).reshape(-1, len(plots))
        for name in ("straw", "grain")
    )
    return straw, grain


if __name__ == "__main__":
    given = np.array(list(GIVEN.values()))
    for name, value in fit(*read(sys.argv[1]), given)._asdict().items():
        print(f"{name} = {value:.4g}")
