"""What many fields would bring at the most to one who knew all the weather to come.

A mixed-integer program of one harvest: hectares of each field cut on each day and
carted on each later one, within fit hours, hands, and moves between farms. It is a
little kinder than the harvest: a binder that visits several farms in a day does so in
the order that suits it, and stooks left until the thirteenth day on which they could
have come home need no hands. So its proven bound lies above whatever can be brought.
"""

from collections import defaultdict

import numpy as np

from sheafwright.core.moisture.basis import dry_basis
from sheafwright.planning.cropping.program import INFINITY, Program

SECONDS, GAP = 10.0, 0.002
"""For one harvest; and near enough. [s], [1]"""
CARTINGS = 12
"""Days on which hands are counted for a day's stooks."""


def most(ahead, season, fields, gang, losses, seconds=SECONDS):
    """Worth that no plan for a season passes, and that of the plan found. [0–1]

    Parameters
    ----------
    ahead : core.decide.gang_day.Ahead
        Seasons as they came, each a draw.
    season : int
    fields, gang, losses : as in `core.decide.gang_day`
    seconds : float
    """
    program, hands = Program(), defaultdict(dict)
    cut = _cuttings(program, hands, ahead, season, fields, gang, losses)
    for field, area in enumerate(fields.area):
        program.row(
            {column: 1.0 for (f, _), column in cut.items() if f == field}, upper=area
        )
    for used in hands.values():
        program.row(used, upper=gang.hands)
    _moves(program, cut, ahead.hours[season], fields, gang)
    found, area = program.run(seconds, GAP), np.sum(fields.area)
    left = losses.stook.never_cut
    return left + found.bound / area, left + found.worth / area


def _cuttings(program, hands, ahead, season, fields, gang, losses):
    """Columns of hectares cut, by field and day; what is cut is carted or given up."""
    cut, stook = {}, losses.stook
    can_cut, ripe = ahead.can_cut[season], ahead.worth[season]
    for day in np.flatnonzero(can_cut.any(axis=0)):
        ways = _ways_home(ahead, season, day, losses)
        for field in np.flatnonzero(can_cut[:, day]):
            column = cut[field, day] = program.column(upper=fields.area[field])
            hands[day][column] = gang.cutting
            home = {column: -1.0}
            for on, share in ways:
                worth = max(stook.floor, ripe[field, day] * share) - stook.never_cut
                carried = program.column(worth=worth)
                home[carried] = 1.0
                if on is not None:
                    hands[on][carried] = gang.carting
            program.row(home, 0.0, 0.0)
    return cut


def _ways_home(ahead, season, day, losses):
    """Days on which a day's stooks may be carted, and what they are then worth."""
    stook, drying = losses.stook, losses.drying
    dry = dry_basis(drying.equilibrium)
    moist, fit = (dry_basis(m) - dry for m in (drying.at_cutting, drying.fit_to_carry))
    lost, ways = 0.0, [(None, stook.never_carted)]
    for out in range(1, stook.longest_days + 1):
        on = day + out
        moist = moist * ahead.keeps[season, on] + ahead.gains[season, on]
        lost += ahead.takes[season, on]
        lost += stook.late_loss_share * (out > stook.free_days)
        if ahead.carries[season, on] and moist <= fit:
            ways.append((on, max(stook.floor, 1 - lost)))
            if len(ways) > CARTINGS + 1:
                # A day more, and hands are no longer asked for.
                ways[-1] = None, ways[-1][1]
                break
    return ways


def _moves(program, cut, hours, fields, gang):
    """Fit hours of each day: cutting, and going to another farm."""
    farms, stands = np.unique(fields.farm), None
    for day in sorted({day for _, day in cut}):
        there = {field: cut[field, day] for field in range(len(fields.area))
                 if (field, day) in cut}  # fmt: skip
        visits, ends = (
            {farm: program.column(upper=1.0, whole=True) for farm in farms}
            for _ in range(2)
        )
        goes = {farm: program.column(upper=1.0) for farm in farms}
        program.row(dict.fromkeys(ends.values(), 1.0), 1.0, 1.0)
        for farm in farms:
            # It begins the harvest on the first farm.
            at = {stands[farm]: 1.0} if stands else {}
            began = 1.0 if not stands and farm == farms[0] else 0.0
            minus = dict.fromkeys(at, -1.0)
            program.row({ends[farm]: 1.0, visits[farm]: -1.0, **minus}, upper=began)
            program.row({goes[farm]: 1.0, visits[farm]: -1.0, **at}, lower=-began)
        for field, column in there.items():
            most_there = min(fields.area[field], hours[day] * gang.binder)
            program.row(
                {column: 1.0, visits[fields.farm[field]]: -most_there}, upper=0.0
            )
        spent = dict.fromkeys(there.values(), 1 / gang.binder)
        spent |= dict.fromkeys(goes.values(), gang.move)
        program.row(spent, -INFINITY, hours[day])
        stands = ends
