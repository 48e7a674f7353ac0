"""What an allotment is worth, from who gets what alone."""

import math

CRUMB = 1e-4
"""Rounding of the solver's. [kg]"""


def worth(problem, given):
    """Price, promises kept and old lots gone, less haulage and handling. [GBP]

    Parameters
    ----------
    problem : Problem
    given : mapping
        (order, lot) to what it gets. [kg]
    """
    return sum(_of_want(problem, want, given) for want in problem.wants)


def per_kg(want, stock):
    """Its price, as likely as the lot comes and is graded right, and no more ageing.

    Returns
    -------
    float
        [GBP kg⁻¹]
    """
    likely = stock.chance * stock.sure(want)
    return want.gbp_per_kg * likely + stock.ageing_gbp_per_kg


def _of_want(problem, want, given):
    rates, total, won = problem.rates, 0.0, 0.0
    for stock in problem.stocks:
        kg = given.get((want.name, stock.name), 0.0)
        if kg > CRUMB:
            total += kg
            won += kg * per_kg(want, stock) - rates.lot_gbp
    loads = math.ceil(total / rates.load_kg - CRUMB)
    won -= 2 * want.distance * rates.haulage_gbp_per_km * loads
    kept = want.promised and total >= want.kg - CRUMB
    return won + (rates.promise_gbp * want.weight if kept else 0.0)
