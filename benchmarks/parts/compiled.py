"""The engine's two steps as loops compiled by Numba, with all that is done once kept.

The fairest form that we found: it is given the same lists of followers, and what each
day does to the stooks, as the engine makes them.
"""

import dataclasses

import numpy as np
from numba import njit

from sheafwright.core.chance.futures import nearness_weights
from sheafwright.core.drying.stook import AFTER_SOAKING, rain_loss
from sheafwright.core.moisture.basis import dry_basis
from sheafwright.core.season.worth import cutting_worth, days_over, ripeness_worth

kernel = njit(cache=True, nogil=True, error_model="numpy")


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
    followers = dataclasses.replace(case.days).followers(case.n_near)
    weights = nearness_weights(case.n_near)
    paths = np.empty((len(case.start), case.n_days + 1), dtype=np.int32)
    paths[:, 0] = case.start
    _walk(paths, followers, weights, *case.days.calendar, case.luck)
    return paths


def stook_share(case, paths):
    """What the stooks of each cutting day bring home: (draw, cut). [0–1]"""
    rain, stook, drying = case.rain, case.losses.stook, case.losses.drying
    wet, soaked = rain >= drying.wet_day_mm, rain >= drying.soaking_mm
    pace = np.where(soaked, AFTER_SOAKING, 1.0)
    before, today = paths[:, :-1], paths[:, 1:]
    dry = dry_basis(drying.equilibrium)
    share = np.full((len(paths), case.n_cuts), stook.never_carted)
    carries = (rain < drying.carrying_rain_mm)[today]
    carries &= (rain < drying.carrying_rain_before_mm)[before]
    _stand(
        share,
        np.exp(-pace[before] * (case.rate * ~wet)[today]),
        (wet * drying.wet_day_gain_dry_basis)[today],
        rain_loss(rain, stook)[today],
        carries,
        (dry_basis(drying.at_cutting) - dry, dry_basis(drying.fit_to_carry) - dry),
        (stook.longest_days, stook.free_days, stook.late_loss_share, stook.floor),
    )
    return share


@kernel
def _walk(paths, followers, weights, day_of_year, half_window, luck):
    n_near = weights.size
    passed = np.empty(n_near)
    for draw in range(luck.shape[0]):
        for step in range(luck.shape[1]):
            here, total = paths[draw, step], 0.0
            date = (day_of_year[paths[draw, 0]] + step) % 366 + 1
            for place in range(n_near):
                apart = abs(day_of_year[followers[here, place]] - date)
                near = apart <= half_window or apart >= 366 - half_window
                total += weights[place] * (1.0 if near else 1e-12)
                passed[place] = total
            place = 0
            while place < n_near - 1 and passed[place] < luck[draw, step] * total:
                place += 1
            paths[draw, step + 1] = followers[here, place]


@kernel
def _stand(share, keeps, gains, takes, carries, moistures, stook):
    (excess_at_cutting, fit), (longest, free_days, late, floor) = moistures, stook
    for draw in range(share.shape[0]):
        for cutting in range(share.shape[1]):
            excess, lost = excess_at_cutting, 0.0
            for out in range(longest):
                day = cutting + out
                excess = excess * keeps[draw, day] + gains[draw, day]
                lost += takes[draw, day]
                if out >= free_days:
                    lost += late
                if carries[draw, day] and excess <= fit:
                    share[draw, cutting] = max(floor, 1 - lost)
                    break
