"""The engine's own way, as every command goes it."""

import dataclasses

import numpy as np

from sheafwright.core.chance.futures import draw_futures
from sheafwright.core.drying.stook import stooks
from sheafwright.core.season.summers import summers


def valued(case):
    """Paths of the case, and the worth of each cutting day, (draw, cut)."""
    paths = drawn(case)
    today = np.full(len(paths), case.ripeness)
    warmth = case.gain[paths[:, 1 : case.n_cuts]]
    ripeness = np.cumsum(np.column_stack([today, warmth]), axis=-1)
    made = summers(paths, ripeness, -1, case.rain, case.rate, case.losses)
    return paths, made.worth


def listed(case):
    """What may follow each day of the record, listed anew."""
    return dataclasses.replace(case.days).followers(case.n_near)


def drawn(case):
    """Paths of the case: (draw, 1 + day)."""
    # Days list their followers when first asked; that is timed too.
    days = dataclasses.replace(case.days)
    return draw_futures(case.start, days, case.n_days, case.n_near, case.rng)


def stook_share(case, paths):
    """What the stooks of each cutting day bring home: (draw, cut). [0–1]"""
    return stooks(paths, case.rain, case.rate, case.n_cuts, case.losses)[0]
