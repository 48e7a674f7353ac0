"""The best allocation, and what another would cost."""

import math

from sheafwright.core.errors import NoPlan
from sheafwright.feeds.telling import mark, say
from sheafwright.planning.allocation.model import Model
from sheafwright.planning.allocation.problem import Plan
from sheafwright.planning.allocation.worth import CRUMB, worth

GAP = 0.002
"""How near to the best that can be is good enough. [1]"""
SECONDS, SECONDS_OF_A_COST = 1.5, 0.4
"""For a plan, and for what another would cost. [s]"""
NONE = mark(
    "No allotment keeps what is reserved: more is reserved of some lot than it holds, "
    "or than its order takes. Give up a reservation first."
)
NONE_IN_TIME = mark(
    "No allotment was found in the time; close orders that are done, and ask again."
)


class NoPlanInTime(NoPlan):
    """There may be a plan, but none was found."""


def solve(problem, gap=GAP, seconds=SECONDS):
    """The best `Plan`, within a gap or in the time.

    Parameters
    ----------
    problem : Problem
    gap : float
        [1]
    seconds : float

    Raises
    ------
    NoPlan
        Where what is reserved can't be kept, or nothing was found in time.
    """
    plan = _solve(problem, (), gap, seconds)
    if plan is None:
        raise NoPlan(say(NONE))
    return plan


def cost_of_filling(problem, plan, want, gap=GAP, seconds=SECONDS_OF_A_COST):
    """What filling one more order would cost the rest. [GBP]

    None if nothing can fill it; NaN if that was not found out in time.
    """
    try:
        other = _solve(problem, (want,), gap, seconds)
    except NoPlanInTime:
        return math.nan
    return None if other is None else max(0.0, plan.worth - other.worth)


def _solve(problem, must_fill, gap, seconds):
    model = Model(problem, must_fill)
    if not model.program.worths:
        return Plan({}, 0.0, 0.0)
    found = model.program.run(seconds, gap)
    if found.impossible:
        return None
    if found.values is None:
        raise NoPlanInTime(say(NONE_IN_TIME))
    given = {
        key: found.values[column]
        for key, column in model.kg.items()
        if found.values[column] > CRUMB
    }
    # A run that is cut short may leave the columns of promises and loads loose.
    won = worth(problem, given)
    return Plan(given, won, max(found.bound, won))
