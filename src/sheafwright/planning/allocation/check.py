"""Proof that an allotment can be carried out: plain sums, nothing of the model's."""

import math

from sheafwright.feeds.telling import say

SLACK = 1e-3
"""[kg]"""


def broken_rules(problem, plan):
    """Every rule that an allotment breaks, in words; none for one that holds.

    Parameters
    ----------
    problem : Problem
    plan : Plan
    """
    reserved = {}
    for pin in problem.pins:
        key = pin.want, pin.stock
        reserved[key] = reserved.get(key, 0.0) + pin.kg
    yield from _lots(problem, plan)
    yield from _reserved(problem, plan, reserved)
    for want in problem.wants:
        yield from _order(problem, plan, want, reserved)
    yield from _first_refusals(problem, plan, reserved)
    worth = worth_of(problem, plan.given)
    if abs(worth - plan.worth) > 0.01 + 1e-6 * abs(worth):
        yield say("it is worth {worth}, not {said}", worth=worth, said=plan.worth)


def worth_of(problem, given):
    """What an allotment is worth. [GBP]"""
    rates, worth = problem.rates, 0.0
    for want in problem.wants:
        got = [(s, given.get((want.name, s.name), 0.0)) for s in problem.stocks]
        total = math.fsum(kg for _, kg in got)
        for stock, kg in got:
            likely = stock.chance * _as_graded(want, stock)
            worth += kg * (want.gbp_per_kg * likely + stock.ageing_gbp_per_kg)
            worth -= rates.lot_gbp if kg > SLACK else 0.0
        loads = math.ceil(total / rates.load_kg - SLACK)
        worth -= loads * 2 * want.distance * rates.haulage_gbp_per_km
        if want.promised and total >= want.kg - SLACK:
            worth += rates.promise_gbp * want.weight
    return worth


def _lots(problem, plan):
    for stock in problem.stocks:
        gone = math.fsum(kg for (_, s), kg in plan.given.items() if s == stock.name)
        if gone > stock.kg + SLACK:
            yield say(
                "{gone} kg of {lot}, which has {there}",
                gone=gone,
                lot=stock.name,
                there=stock.kg,
            )
    known = {stock.name for stock in problem.stocks}
    for (_, name), kg in plan.given.items():
        if name not in known or kg < 0:
            yield say("{kg} kg of {lot}", kg=kg, lot=name)


def _reserved(problem, plan, reserved):
    sizes = {stock.name: stock.kg for stock in problem.stocks}
    asked = {want.name: want.kg for want in problem.wants}
    for (want, lot), kg in reserved.items():
        least = min(kg, sizes.get(lot, 0.0), asked.get(want, 0.0))
        if plan.given.get((want, lot), 0.0) < least - SLACK:
            yield say("{lot} is reserved for {order}", lot=lot, order=want)


def _order(problem, plan, want, reserved):
    lots = {s.name: s for s in problem.stocks}
    got = {s: kg for (w, s), kg in plan.given.items() if w == want.name}
    total = math.fsum(got.values())
    if total > want.kg + SLACK:
        yield say("{order} gets {kg} kg", order=want.name, kg=total)
    if want.whole and SLACK < total < want.kg - SLACK:
        yield say("{order} gets a part, and takes all or none", order=want.name)
    if want.most_lots is not None and len(got) > want.most_lots:
        yield say("{order} is made up of {n} lots", order=want.name, n=len(got))
    for name, kg in got.items():
        kept = reserved.get((want.name, name), 0.0)
        if not suits(want, lots[name]) and kg > kept + SLACK:
            yield say("{lot} does not suit {order}", lot=name, order=want.name)


def suits(want, lot):
    """Whether a lot is what an order asks for."""
    if lot.kind != want.kind or lot.apart:
        return False
    measured = None not in (want.least_length, lot.length)
    if measured and lot.length + 1e-6 < want.least_length:
        return False
    if _as_graded(want, lot) < 0.5:
        return False
    if want.varieties and lot.variety not in want.varieties:
        return False
    if want.organic and not lot.organic:
        return False
    if want.by is not None and lot.ready > want.by:
        return False
    return not (want.whole and want.most_lots == 1 and lot.kg < want.kg - 1e-6)


def _as_graded(want, lot):
    """Chance that a lot is of a grade that is asked for, by whoever's rule holds."""
    found = lot.grades
    if want.customer in lot.grades_for:
        found = lot.grades_for[want.customer]
    chances = [found[grade] for grade in found if grade in want.grades]
    return max(chances, default=0.0) if want.grades else 1.0


def _first_refusals(problem, plan, reserved):
    for first in problem.wants:
        fit = [lot for lot in problem.stocks if suits(first, lot)]
        most = sorted((lot.kg for lot in fit), reverse=True)[: first.most_lots]
        if not first.first_refusal or sum(most) < first.kg - SLACK:
            continue
        got = sum(kg for (w, _), kg in plan.given.items() if w == first.name)
        if got >= first.kg - SLACK:
            continue
        others = {want.name for want in problem.wants if not want.first_refusal}
        others |= {w.name for w in problem.wants if not _could_fill(problem, w)}
        names = {lot.name for lot in fit}
        for want, lot in plan.given:
            if want in others and lot in names and (want, lot) not in reserved:
                yield say(
                    "{lot} goes to {order} before {first} is served",
                    lot=lot,
                    order=want,
                    first=first.name,
                )


def _could_fill(problem, want):
    fit = sorted((x.kg for x in problem.stocks if suits(want, x)), reverse=True)
    return sum(fit[: want.most_lots]) >= want.kg - SLACK
