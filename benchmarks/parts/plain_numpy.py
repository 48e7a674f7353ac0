"""Vectorised NumPy as it is usually written.

All draws and cutting days in one array, a loop only over the days, and on each day a
look-up of everything that is asked of it. Stooks that are carted leave the arrays.
"""

import numpy as np

from sheafwright.core.chance.futures import nearness_weights
from sheafwright.core.drying.stook import AFTER_SOAKING, rain_loss
from sheafwright.core.moisture.basis import dry_basis
from sheafwright.core.season.worth import cutting_worth, days_over, ripeness_worth


def valued(case):
    """Paths of the case, and the worth of each cutting day, (draw, cut)."""
    paths = drawn(case)
    today = np.full(len(paths), case.ripeness)
    warmth = case.gain[paths[:, 1 : case.n_cuts]]
    ripeness = np.cumsum(np.column_stack([today, warmth]), axis=-1)
    table = case.losses.ripeness
    ripe = ripeness_worth(ripeness, days_over(ripeness, table.full_to), table)
    return paths, cutting_worth(ripe, stook_share(case, paths), case.losses.stook)


def drawn(case):
    """Paths of the case: (draw, 1 + day)."""
    days, luck, (day_of_year, half_window) = case.days, case.luck, case.days.calendar
    leads_on = days.usable & np.append(days.usable[1:], False)
    next_day_of_year = np.append(day_of_year[1:], 0)
    weights = np.append(0, nearness_weights(case.n_near))
    paths = np.empty((len(case.start), case.n_days + 1), dtype=np.int64)
    paths[:, 0] = case.start
    for step in range(case.n_days):
        like = days.nearest[paths[:, step]]
        may = leads_on[like] & (like >= 0)
        rank = np.cumsum(may, axis=-1)
        weight = weights[np.where(may & (rank <= case.n_near), rank, 0)]
        date = day_of_year[case.start] + step + 1
        apart = np.abs(next_day_of_year[like] - date[:, np.newaxis])
        weight = weight * np.where(
            np.minimum(apart, 366 - apart) <= half_window, 1, 1e-12
        )
        passed = np.cumsum(weight, axis=-1)
        place = (passed < luck[:, [step]] * passed[:, -1:]).sum(axis=-1)
        paths[:, step + 1] = like[np.arange(len(like)), place] + 1
    return paths


def stook_share(case, paths):
    """What the stooks of each cutting day bring home: (draw, cut). [0–1]"""
    rain, stook, drying = case.rain, case.losses.stook, case.losses.drying
    dry, fit = dry_basis(drying.equilibrium), dry_basis(drying.fit_to_carry)
    taken = rain_loss(rain, stook)
    at = np.add.outer(np.arange(len(paths)) * paths.shape[1], np.arange(case.n_cuts))
    at, days = at.ravel(), paths.ravel()
    share = np.full(at.size, stook.never_carted)
    stands, lost = np.arange(at.size), np.zeros(at.size)
    moisture, before = np.full(at.size, dry_basis(drying.at_cutting)), days[at]
    for out in range(1, stook.longest_days + 1):
        today = days[at + out]
        soaked = rain[before] >= drying.soaking_mm
        rate = case.rate[today] * np.where(soaked, AFTER_SOAKING, 1.0)
        moisture = np.where(
            rain[today] >= drying.wet_day_mm,
            moisture + drying.wet_day_gain_dry_basis,
            dry + (moisture - dry) * np.exp(-rate),
        )
        lost = (
            lost
            + taken[today]
            + (stook.late_loss_share if out > stook.free_days else 0)
        )
        carted = (
            (moisture <= fit)
            & (rain[today] < drying.carrying_rain_mm)
            & (rain[before] < drying.carrying_rain_before_mm)
        )
        share[stands[carted]] = np.maximum(stook.floor, 1 - lost[carted])
        left = ~carted
        stands, at, before = stands[left], at[left], today[left]
        moisture, lost = moisture[left], lost[left]
    return share.reshape(len(paths), case.n_cuts)
