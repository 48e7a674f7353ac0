"""The fields that stand, in the same possible summers, and the binder and hands there.

Every field ripens in its own crop draws along common days, so that a wet week is wet
for all of them.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers.crew_problem import rates_of
from sheafwright.answers.crop_draws import crop_draws, weighed_by_dates
from sheafwright.answers.days_ahead import DaysAhead, days_ahead
from sheafwright.answers.field_season import ahead_of
from sheafwright.answers.known_days import KnownWeather, known_weather, since_sown
from sheafwright.answers.question import Question
from sheafwright.answers.season_past import variety
from sheafwright.core.decide import gang_day
from sheafwright.core.drying.stook import drying_rate
from sheafwright.core.inputs.losses import Losses
from sheafwright.feeds import decision
from sheafwright.feeds.crew_day import Comes, CrewQuestion
from sheafwright.feeds.work import work_rates

CUTTING_DAYS = 45
"""From the first day of the plan on which may be cut. [d]"""


@dataclasses.dataclass(frozen=True)
class TurnsSummers:
    """Possible summers from the first day of the plan on."""

    known: KnownWeather
    drawn: DaysAhead
    first: datetime.date
    until: datetime.date
    """First and last day of the plan."""
    ahead: gang_day.Ahead
    fields: gang_day.Fields
    at: int
    """Farm where the binder stands."""
    gang: gang_day.Gang
    losses: Losses

    @property
    def plan_days(self):
        """Days of the plan."""
        return (self.until - self.first).days + 1


def turns_summers(question, first, until, known=None):
    """`TurnsSummers` of a question whose days and fields have been looked at.

    Parameters
    ----------
    question : sheafwright.answers.turns.TurnsQuestion
    first, until : datetime.date
    known : KnownWeather, optional
        What is known of the weather, where that was read already.
    """
    known = known_weather(question) if known is None else known
    losses, harvest = decision.losses(question.losses), question.harvest
    for_days, *for_crops = np.random.default_rng(question.seed).spawn(
        1 + len(harvest.fields)
    )
    skip, reach = (first - known.as_of).days, losses.stook.longest_days
    n_days = skip + CUTTING_DAYS + reach
    drawn = days_ahead(known, question.forecast, question.summers, n_days, for_days)
    by_class, crops = {}, []
    for field, rng in zip(harvest.fields, for_crops, strict=True):
        asked = _asked(field, question)
        grown = since_sown(known, field.sown)
        crop = _crop(asked, grown, by_class, rng)
        crops.append(_ripening(asked, grown, crop, drawn.paths, losses))
    ripe, over = (np.stack(each, axis=1) for each in zip(*crops, strict=True))
    gang, rain = gang_of(harvest), known.weather.rain
    passed = (ripe[..., :skip] >= losses.ripeness.full_to).sum(axis=-1)
    before = np.full((len(ripe), 1), known.today - 1)
    ahead = gang_day.ahead(
        np.hstack([before, drawn.paths])[:, skip:],
        ripe[..., skip:],
        over + passed,
        rain,
        drying_rate(known.weather.evapotranspiration, losses.drying),
        losses,
        gang,
    )
    fields, at = _fields(harvest)
    return TurnsSummers(
        known, drawn, first, until, ahead, fields, at, gang, losses
    )  # fmt: skip


def _asked(field, question):
    """The `Question` of one of the fields."""
    return Question(
        weather=question.weather,
        sown=field.sown,
        variety_class=field.variety_class,
        area=field.area_ha,
        seen=field.seen,
        signs=field.signs,
        own_seasons=question.own_seasons,
        summers=question.summers,
    )


def _crop(asked, grown, by_class, rng):
    """Its `CropDraws`; what past dates say is asked once of each class of variety."""
    sown = asked.sown
    name = variety(asked.variety_class, sown.month, sown.day).name
    if name not in by_class:
        by_class[name] = weighed_by_dates(asked, grown, rng)
    return crop_draws(asked, grown, rng, by_class[name])


def _ripening(asked, grown, crop, paths, losses):
    """Ripeness from today on, and days over before: (draw, day), (draw,)."""
    reach, today = losses.stook.longest_days, grown.since_sowing
    seen = asked.seen_by(grown.as_of)
    ripe = ahead_of(grown, crop, paths, reach, seen).ripeness
    over = (ripe[:, :today] >= losses.ripeness.full_to).sum(axis=-1) - 1
    return ripe[:, today : today + paths.shape[1] - reach], over


def gang_of(harvest):
    """The `Gang` that a harvest's binders and hands make, all together.

    Binders are taken as one that is so many times as fast.
    """
    rates, n = work_rates(), len(harvest.binders)
    people = tuple(Comes(str(number)) for number in range(harvest.hands))
    planned = rates_of(
        CrewQuestion(
            (), people=people, distance_km=harvest.distance_km, carts=harvest.carts
        ),
        rates,
    )
    return gang_day.Gang(
        binder=n * planned.binder,
        move=planned.move,
        fit_hours=rates.day.fit_hours,
        fit_hours_after_rain=rates.day.fit_hours_after_rain,
        wet_from=rates.day.wet_from,
        hands=harvest.hands * rates.day.hand_hours,
        cutting=planned.binder_hands / planned.binder + planned.stooking,
        carting=planned.carting,
        most_fields=n * gang_day.MOST_FIELDS,
    )


def _fields(harvest):
    """The core's `Fields`, and the farm where the first binder stands."""
    farms = sorted({each.farm for each in (*harvest.fields, *harvest.binders)})
    area = np.array([each.area_ha for each in harvest.fields], dtype=float)
    farm = np.array([farms.index(each.farm) for each in harvest.fields])
    return gang_day.Fields(area, farm), farms.index(harvest.binders[0].farm)
