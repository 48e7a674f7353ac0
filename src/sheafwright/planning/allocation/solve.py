"""The best allocation, and what another would cost."""

from sheafwright.core.errors import NoPlan
from sheafwright.feeds.telling import mark, say
from sheafwright.planning.allocation.model import LEAST_KG, Model
from sheafwright.planning.allocation.problem import Plan

SECONDS = 10.0
"""[s]"""
GAP = 1e-6
NONE = mark(
    "No allotment keeps what is reserved: more is reserved of some lot than it holds, "
    "or than its order takes. Give up a reservation first."
)
NONE_IN_TIME = mark(
    "No allotment was found in the time; close orders that are done, and ask again."
)


def solve(problem, seconds=SECONDS):
    """The best `Plan`.

    Parameters
    ----------
    problem : Problem
    seconds : float

    Raises
    ------
    NoPlan
        Where what is reserved can't be kept, or nothing was found in time.
    """
    plan = _solve(problem, (), seconds)
    if plan is None:
        raise NoPlan(say(NONE))
    return plan


def cost_of_filling(problem, plan, want, seconds=SECONDS):
    """What filling one more order would cost the rest, or None if nothing can. [GBP]"""
    other = _solve(problem, (want,), seconds)
    return None if other is None else max(0.0, plan.worth - other.worth)


def _solve(problem, must_fill, seconds):
    model = Model(problem, must_fill)
    if not model.program.worths:
        return Plan({}, 0.0, 0.0)
    found = model.program.run(seconds, GAP)
    if found.impossible:
        return None
    if found.values is None:
        raise NoPlan(say(NONE_IN_TIME))
    given = {
        key: found.values[column]
        for key, column in model.kg.items()
        if found.values[column] > LEAST_KG
    }
    return Plan(given, found.worth, max(found.bound, found.worth))
