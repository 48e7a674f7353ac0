"""A grower's next half-days made a problem to solve, or refused in one sentence."""

import datetime
from typing import NamedTuple

import numpy as np

from sheafwright.answers.advice import NOT_FIT, TOO_LATE
from sheafwright.answers.crew_checks import check
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.core.rick.shape import sheaves_in
from sheafwright.core.work.carting import (
    carting_hours,
    loads,
    pitching_hours,
    trip_hours,
)
from sheafwright.core.work.field import field_capacity, hand_hours
from sheafwright.core.work.twine import tying_hours, untied
from sheafwright.feeds import ricks
from sheafwright.feeds.crew_day import (
    AFTERNOON,
    BINDING,
    CARTING,
    MORNING,
    half_day,
    is_within,
)
from sheafwright.feeds.decision import losses
from sheafwright.feeds.sheaves import sheaves
from sheafwright.feeds.work import work_rates
from sheafwright.planning.crew.problem import (
    Binder,
    HalfDay,
    Job,
    Person,
    Problem,
    Rates,
)


class Winning(NamedTuple):
    """What a job wins."""

    by_half_day: tuple[float, ...]
    """0 where it can't be done. [GBP ha⁻¹]"""
    can: tuple[bool, ...]
    """Whether the crop, or the stooks, are fit for it."""


def problem_of(question):
    """The `Problem` of a `sheafwright.feeds.crew_day.CrewQuestion`."""
    check(question)
    rates = work_rates()
    return Problem(
        half_days=tuple(fit_half_days(question, rates)),
        people=tuple(
            Person(each.name, frozenset(each.may), _names(question, each.away))
            for each in question.people
        ),
        binders=tuple(
            Binder(each.name, each.farm, _names(question, each.broken))
            for each in question.binders
        ),
        jobs=tuple(_jobs(question, rates)),
        rates=rates_of(question, rates),
    )


def fit_half_days(question, rates):
    """Each `HalfDay`, with the hours that are fit on it."""
    longest = {MORNING: rates.half_day.morning_fit,
               AFTERNOON: rates.half_day.afternoon_fit}  # fmt: skip
    for each in question.half_days:
        fit = longest[each.half] if each.fit_hours is None else each.fit_hours
        if each.half == AFTERNOON and half_day(each.day, MORNING) in question.showers:
            fit *= rates.half_day.after_shower
        if not is_dry(each, question, rates):
            fit = 0.0
        yield HalfDay(each.name, fit, fit, rates.day.hand_hours / 2)


def is_dry(half, question, rates):
    """Whether a half-day is planned on at all."""
    likely = half.dry_chance >= rates.half_day.least_chance
    return likely and half.name not in question.showers


def rates_of(question, rates):
    """The planner's `Rates`."""
    taken, carts = sheaves(), question.carts or rates.cart.carts
    a_hectare = taken.crop_kg_per_ha / taken.kg_per_sheaf
    tying = tying_hours(untied(a_hectare, rates.twine.mis_ties), rates.twine.tying)
    day, binder = rates.day.hand_hours, rates.binder
    a_hand = np.mean(rates.stooking.area_a_day)
    crew = _crew(carts, rates.carting)
    may_cart = sum(CARTING in each.may for each in question.people)
    if crew > may_cart:
        # With too few for both ends, one cart goes back and forth with them all.
        carts, crew = 1, _crew(1, rates.carting)
    return Rates(
        binder=float(field_capacity(binder.width, binder.speed, binder.efficiency)),
        binder_hands=binder.hands,
        stooking=float(hand_hours(1.0, a_hand, day) + tying),
        carting=crew * _carted(question, carts, a_hectare, rates),
        carting_hands=crew,
        carts=max(1, carts // rates.cart.carts),
        move=rates.half_day.move,
    )


def _crew(carts, work):
    """The fewest hands; one crew goes with a single cart."""
    at_field, at_rick = work.pitchers + work.loaders[0], work.at_rick + work.stackers[0]
    return at_field + at_rick if carts > 1 else max(at_field, at_rick)


def _carted(question, carts, a_hectare, rates):
    """Hours in which a crew carts a hectare, of all that stands in stooks."""
    cart, work = rates.cart, rates.carting
    area = sum(each.area_ha for each in question.stooks) or 1.0
    loose, room = ricks.density(tight=False), cart.length * cart.width * cart.height
    middling = (loose.lightest + loose.heaviest) / 2
    a_load = np.floor(sheaves_in(room, middling, sheaves().kg_per_sheaf))
    loading, unloading = (
        pitching_hours(a_load, pitchers, work.sheaves_an_hour)
        for pitchers in (work.pitchers, work.at_rick)
    )
    trip = trip_hours(question.distance_km, work.speed, work.roping)
    together = min(carts, cart.carts)
    n_loads = loads(area * a_hectare, a_load)
    return float(carting_hours(n_loads, loading, unloading, trip, together)) / area


def _jobs(question, rates):
    for field in question.fields:
        won = cutting_wins(field, question, rates)
        if max(won.by_half_day) > 0:
            yield Job(field.name, field.farm, BINDING, field.area_ha, won.by_half_day)
    for stooked in question.stooks:
        won = carting_wins(stooked, question, rates)
        if max(won.by_half_day) > 0:
            yield Job(
                stooked.field, stooked.farm, CARTING, stooked.area_ha, won.by_half_day
            )


def cutting_wins(field, question, rates):
    """`Winning` by cutting a field, over leaving it until after the last half-day.

    Where the field's own advice thinks more of waiting than any one day to aim for
    brings, today has to win that, too.
    """
    first, left = question.half_days[0].day, _if_left(field, question, rates)
    ahead = [worth for day, worth in field.worth.items() if day > first]
    option = 0.0
    if field.waiting is not None and field.as_of == first and ahead:
        option = max(0.0, field.waiting - max(ahead))

    def gain(each):
        value = field.worth.get(each.day)
        if value is None or field.action == TOO_LATE:
            return None
        if each.day == field.as_of and field.action == NOT_FIT:
            return None
        return value - left - (option if each.day == field.as_of else 0.0)

    return _winning(gain, field.perfect_gbp_per_ha, question, rates)


def _if_left(field, question, rates):
    """Worth of leaving a field: by roll-outs, or by its place in the queue. [1]"""
    if field.if_left is not None:
        return field.if_left
    last = question.half_days[-1].day
    from_then = last + datetime.timedelta(1 + round(_queue(question, rates) / 2))
    later = [worth for day, worth in field.worth.items() if day >= from_then]
    return max(later, default=losses().stook.never_cut)


def _queue(question, rates):
    """Days that the binders want for what they can't cut in these half-days. [d]"""
    binder = rates.binder
    capacity = field_capacity(binder.width, binder.speed, binder.efficiency)
    an_hour = float(capacity) * max(1, len(question.binders))
    hours = sum(each.cutting_hours for each in fit_half_days(question, rates))
    area = sum(
        field.area_ha
        for field in question.fields
        if field.worth and field.action != TOO_LATE
    )
    return max(0.0, area / an_hour - hours) / rates.day.fit_hours


def carting_wins(stooked, question, rates):
    """`Winning` by carting stooks, over leaving them until a fit day after the last.

    Each day's rain on them takes what a shower does, and after a while so does time.
    """
    stook, least = losses().stook, rates.half_day.least_chance
    last = question.half_days[-1].day
    days = sorted(stooked.rain_chance.keys() | stooked.fit_chance.keys())
    after = [day for day in days if day > last]
    fit_again = [day for day in after if stooked.fit_chance.get(day, 0.0) >= least]
    until = (fit_again or after[-1:] or [last + datetime.timedelta(1)])[0]

    def takes(day):
        late = stooked.cut and (day - stooked.cut).days > stook.free_days
        rain = stooked.rain_chance.get(day, 0.0) * stook.rain_loss_share[0]
        return rain + (stook.late_loss_share if late else 0.0)

    def gain(each):
        fit = stooked.fit_chance.get(each.day, 0.0)
        if fit < least:
            return None
        out = range(1, (until - each.day).days + 1)
        return fit * sum(takes(each.day + datetime.timedelta(k)) for k in out)

    return _winning(gain, stooked.perfect_gbp_per_ha, question, rates)


def _winning(gain, perfect_gbp, question, rates):
    a_hectare = perfect_crop(1.0).gbp if perfect_gbp is None else perfect_gbp
    shares = [gain(each) for each in question.half_days]
    delay = rates.half_day.delay
    return Winning(
        tuple(
            0.0 if share is None else share * a_hectare - delay * place
            for place, share in enumerate(shares)
        ),
        tuple(share is not None for share in shares),
    )


def _names(question, said):
    """Names of the half-days that lie in the days, or half-days, that are said."""
    return frozenset(
        half.name
        for half in question.half_days
        for each in said
        if is_within(half.name, each)
    )
