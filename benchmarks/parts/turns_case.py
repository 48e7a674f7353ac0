"""Invented harvests, planned by what roll-outs say of leaving a field, or by the guess.

Both plans are made by the same solver from the same expectations, and both are then
followed by the plain rule through fresh possible summers.
"""

import dataclasses
import datetime
import random
from typing import NamedTuple

import numpy as np

from parts.case import DEMO
from sheafwright.answers.crew import crew
from sheafwright.answers.known_days import known_weather, since_sown
from sheafwright.answers.season_past import variety
from sheafwright.answers.turns import TurnsQuestion, turns
from sheafwright.answers.turns_plan import (
    SURE_90,
    cut_by_plan,
    gains_of,
    pieces_of,
    wanting_hours,
)
from sheafwright.answers.turns_summers import turns_summers
from sheafwright.core.crop.development import develop
from sheafwright.core.decide.stopping import takings
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.season.worth import cutting_worth
from sheafwright.feeds.crew_day import (
    HALVES,
    BinderAsked,
    Comes,
    CrewQuestion,
    HalfAsked,
    Standing,
    if_left,
)
from sheafwright.feeds.turns import Harvest, Waiting

PLAN_DAYS = 3
FRESH = 1000
"""Added to the seed for the summers that plans are judged in."""
FARMS = 3
SOWN = {
    "end-january": (9, 25, 50),
    "mid-february": (10, 10, 60),
    "alternative": (2, 1, 35),
}
"""Class to the first month and day of sowing, and days in which it is sown."""


class Interval(NamedTuple):
    """A mean, and between what it lies 9 times in 10."""

    mean: float
    low: float
    high: float


def interval(gains):
    """`Interval` of the mean of harvests' gains."""
    mean = float(np.mean(gains))
    error = SURE_90 * float(np.std(gains)) / np.sqrt(len(gains))
    return Interval(mean, mean - error, mean + error)


class Judged(NamedTuple):
    """What plans bring over the plain rule from the start, each (draw,). [1]"""

    guess: np.ndarray
    roll_outs: np.ndarray


def asked(seed, summers=200, fields=(8, 16)):
    """A harvest drawn by chance, on a day when much is ripe or nearly: a question.

    Parameters
    ----------
    seed : int
    summers : int
        From which it is planned.
    fields : pair of int
        The fewest and the most.
    """
    rng = random.Random(seed)
    year, n = rng.randint(2015, 2024), rng.randint(*fields)
    as_of = datetime.date(year, 7, 25) + datetime.timedelta(rng.randint(0, 35))
    farms = [f"Farm {number}" for number in range(FARMS)]
    question = TurnsQuestion(
        weather=str(DEMO / "weather.csv.gz"),
        columns=str(DEMO / "columns.toml"),
        as_of=as_of,
        harvest=Harvest(
            fields=tuple(_waiting(rng, k, year, farms) for k in range(n)),
            hands=rng.randint(6, 14),
            binders=(BinderAsked("The binder", farms[0]),),
        ),
        seed=seed,
        summers=summers,
    )
    known = known_weather(question)
    seen = tuple(_flowered(each, known) for each in question.harvest.fields)
    harvest = dataclasses.replace(question.harvest, fields=seen)
    return dataclasses.replace(question, harvest=harvest)


def _flowered(field, known):
    """The field, seen in flower on the day that the likeliest crop was."""
    grown = since_sown(known, field.sown)
    sort = variety(field.variety_class, field.sown.month, field.sown.day)
    days = grown.growing
    stages = develop(
        days.tmin, days.tmax, days.day_length, 0, sort.phases, sort.filling
    )
    if not np.isfinite(stages.gs61):
        return field
    day = field.sown + datetime.timedelta(int(stages.gs61))
    return dataclasses.replace(field, seen={"flowering": day})


def _waiting(rng, number, year, farms):
    name = rng.choice(list(SOWN))
    month, day, spread = SOWN[name]
    sown = datetime.date(year - (month > 8), month, day)
    return Waiting(
        f"Field {number}",
        round(rng.uniform(0.8, 4.0), 1),
        sown + datetime.timedelta(rng.randrange(spread)),
        rng.choice(farms),
        name,
    )


def judge(seed, summers=200, fields=(8, 16), fresh=400, seconds=1.0):
    """`Judged` of one harvest, as a share of all its hectares.

    Parameters
    ----------
    seed, summers, fields : as in `asked`
    fresh : int
        Summers in which the plans are judged.
    seconds : float
        In which each plan is wanted. [s]
    """
    question = asked(seed, summers, fields)
    return judged(question, plans_of(question, seconds), fresh)


def plans_of(question, seconds):
    """The plan by the guess, and that by roll-outs: JSON of each.

    The plain rule goes out whenever it is dry, so the plans may count on every day,
    however likely wet; what rain then puts off waits for the plan's next day.
    """
    answer, harvest = turns(question), question.harvest
    made = answer.summers
    worth, dry = expected(made)
    days = [made.first + datetime.timedelta(k) for k in range(len(dry))]
    half_days = tuple(
        HalfAsked(day, half, max(0.5, float(dry[place])))
        for place, day in enumerate(days[:PLAN_DAYS])
        for half in HALVES
    )
    lost = {each.field: each.lost for each in answer.turns}
    standing = [
        Standing(
            field.name,
            field.area_ha,
            {
                day: float(each)
                for day, each in zip(days, by_day, strict=True)
                if np.isfinite(each)
            },
            field.farm,
        )
        for field, by_day in zip(harvest.fields, worth, strict=True)
    ]
    told = [
        dataclasses.replace(f, if_left=if_left(f.worth, lost[f.name], half_days))
        for f in standing
    ]
    plans = []
    for fields in (standing, told):
        asks = CrewQuestion(
            half_days=half_days,
            fields=tuple(fields),
            people=tuple(Comes(f"Hand {k}") for k in range(harvest.hands)),
            binders=harvest.binders,
        )
        plans.append(crew(asks, seconds=seconds).to_json())
    return plans


def judged(question, plans, fresh):
    """`Judged` of two plans in summers that they were not made from."""
    other = dataclasses.replace(question, seed=question.seed + FRESH, summers=fresh)
    first = question.as_of
    until = first + datetime.timedelta(PLAN_DAYS - 1)
    made = turns_summers(other, first, until, known_weather(other))
    fields, found = question.harvest.fields, []
    for plan in plans:
        pieces = pieces_of(made, fields, cut_by_plan(plan), wanting_hours(plan))
        planned, ruled = gains_of(made, pieces)
        found.append((planned - ruled) / made.fields.area.sum())
    return Judged(*found)


def expected(made):
    """Worth of aiming for each day, NaN where few can be cut, (field, day); and the
    chance of each day to be dry enough, (day,). [0–1]"""
    ahead, losses, skip = made.ahead, made.losses, (made.first - made.known.as_of).days
    paths = made.drawn.paths[:, skip:]
    weather = made.known.weather
    rate = drying_rate(weather.evapotranspiration, losses.drying)
    n_days = ahead.ripeness.shape[-1]
    share, _ = stooks(paths, weather.rain, rate, n_days, losses)
    worth = cutting_worth(ahead.worth, share[:, np.newaxis], losses.stook)
    fit = ahead.ripeness >= losses.ripeness.fit_from
    some = (fit & (ahead.worth > losses.stook.never_cut)).mean(axis=0) >= 0.1
    by_field = [
        takings(worth[:, f], ahead.can_cut[:, f], np.ones_like(fit[:, f]),
                losses.stook.never_cut)[:, :-1].mean(axis=0)
        for f in range(worth.shape[1])
    ]  # fmt: skip
    rain = weather.rain[paths[:, :n_days]]
    dry = (rain < losses.ripeness.cutting_rain).mean(axis=0)
    return np.where(some, by_field, np.nan), dry
