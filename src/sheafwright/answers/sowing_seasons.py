"""What would each sowing have made of every season on record?

The crops are grown, and harvested by one plain rule, in the weather as it was.
"""

import dataclasses

import numpy as np

from sheafwright.answers.cold import Cold
from sheafwright.answers.known_days import KnownWeather
from sheafwright.answers.season_past import RIPE_AT
from sheafwright.core.crop import vernalisation
from sheafwright.core.crop.progress import first_day
from sheafwright.core.decide.rules import running
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.season.sowings import (
    Growth,
    Harvest,
    growth,
    harvest,
    is_known,
    on_day,
    seasons_of,
)
from sheafwright.core.season.summers import came_through
from sheafwright.core.weather.day_length import day_length
from sheafwright.feeds import crop, decision, sowing_dates
from sheafwright.feeds.sowing import AUTUMN_FROM, dates_in

NEW_YEAR = (1, 1)
PLAIN_YEAR = np.array([2001])
"""Of a harvest without a leap day."""
HEADED_BY = 212
"""Day of the year after which warmth is not held against a crop short of cold."""
DRY_DAYS = 2
"""A binder goes on the last of so many days under 1 mm. [d]"""


@dataclasses.dataclass(frozen=True)
class SeasonDays:
    """The record cut into seasons, each begun on the first day sown."""

    known: KnownWeather
    years: np.ndarray
    """Harvest year, (season,)."""
    start: np.ndarray
    """Record position of each season's first day, (season,)."""
    n_days: int
    sowings: tuple[tuple[int, int], ...]
    """Month and day, in the order of the season."""

    def of(self, values):
        """A record's days by season, (season, day); NaN past its end."""
        return seasons_of(values, self.start, self.n_days)

    def position(self, month, day):
        """Day of each season on which a day of the calendar falls, (season,)."""
        first = np.datetime64(self.known.record.first, "D")
        return (dates_in(self.years, month, day) - first).astype(int) - self.start

    @property
    def sown(self):
        """Day of each sowing in each season, (sowing, season)."""
        return np.stack([self.position(*sowing) for sowing in self.sowings])

    def only(self, kept):
        """The same days of some seasons, (season,) of bool."""
        years, start = self.years[kept], self.start[kept]
        return dataclasses.replace(self, years=years, start=start)


@dataclasses.dataclass(frozen=True)
class Crops:
    """A crop of each sowing in each season that the record can tell the end of."""

    days: SeasonDays
    growth: Growth
    harvest: Harvest

    @property
    def ripe_dates(self):
        """Days after 1 March on which each was ripe; NaN for never."""
        ripe = first_day(self.growth.ripeness >= RIPE_AT)
        return ripe - self.days.position(3, 1)

    def only(self, kept):
        """The same crops in some seasons, (season,) of bool."""
        growth, harvest = (
            type(every)(*(each[:, kept] for each in every))
            for every in (self.growth, self.harvest)
        )
        return Crops(self.days.only(kept), growth, harvest)


def in_order(sowings):
    """Months and days, each once, in the order of the season."""
    return sorted(set(sowings), key=lambda sown: (sown[0] < AUTUMN_FROM, sown))


def plain_dates(sowings):
    """Months and days as dates of a season without a leap day."""
    return [dates_in(PLAIN_YEAR, *each)[0].item() for each in sowings]


def season_days(known, sowings):
    """`SeasonDays` of a record and of sowings in the order of the season.

    Parameters
    ----------
    known : KnownWeather
    sowings : sequence of pair of int
        Month and day.
    """
    years = np.arange(known.record.first.year, known.record.last.year + 1)
    first = np.datetime64(known.record.first, "D")
    start = (dates_in(years, *sowings[0]) - first).astype(int)
    years, start = years[start >= 0], start[start >= 0]
    days = SeasonDays(known, years, start, 0, tuple(sowings))
    end = days.position(*NEW_YEAR) + sowing_dates.sowing_rules().season_ends
    return dataclasses.replace(days, n_days=int(end.max(initial=0)))


def crops(days, phases, filling, losses):
    """`Crops` of every season whose end the record can tell.

    Parameters
    ----------
    days : SeasonDays
    phases : Phases
    filling : GrainFilling
    losses : Losses
    """
    weather = days.known.weather
    tmin, tmax, rain = map(days.of, (weather.tmin, weather.tmax, weather.rain))
    light = days.of(day_length(days.known.latitude, weather.day_of_year))
    window = crop.cutting_window()
    grew = growth(tmin, tmax, light, days.sown, phases, filling, window)
    share, through = map(days.of, _stooks(weather, losses))
    binder = days.of(_binder_days(weather, losses))
    made = harvest(grew, binder == 1, through == 1, share, losses)
    missing = np.isnan(tmin + tmax + rain)
    whole = is_known(missing, days.sown, grew, made).all(axis=0)
    return Crops(days, grew, made).only(whole)


def colds(crops, sort):
    """The `Cold` of each sowing.

    Parameters
    ----------
    crops : Crops
    sort : Variety
    """
    rule, days = crop.vernalisation_rule(), crops.days
    tmin, tmax = days.of(days.known.weather.tmin), days.of(days.known.weather.tmax)
    emergence, needs = crops.growth.emergence, sort.phases
    gathered = np.nan_to_num(
        vernalisation.vernal_days(tmin, tmax, emergence, needs.vernal_temperatures)
    )
    new_year = days.position(*NEW_YEAR)
    judged = new_year + rule.judged_on - 1
    chances = vernalisation.status_chances(
        on_day(gathered, np.broadcast_to(judged, emergence.shape)),
        needs.vernal_days_full,
        rule.safe_margin,
    )
    until = new_year.max() + HEADED_BY
    uneven = vernalisation.uneven_heading(
        vernalisation.vernal_factor(
            gathered[..., :until], needs.vernal_days_base, needs.vernal_days_full
        ),
        (tmin + tmax)[:, :until] / 2,
        new_year + rule.warm_from - 1,
        rule.warm_days,
        rule.warm_mean,
    )
    return [
        Cold(_capped(sort.name, sowing, shares), float(share))
        for sowing, shares, share in zip(
            days.sowings, chances, uneven.mean(axis=-1), strict=True
        )
    ]


def _capped(variety_class, sowing, chances):
    """Chances of each status, as the latest days of sowing allow them."""
    shares = dict(zip(vernalisation.STATUSES, map(float, chances), strict=True))
    if sowing[0] >= AUTUMN_FROM:
        return shares
    sown = plain_dates([sowing])[0].timetuple().tm_yday
    rules, latest = sowing_dates.sowing_rules(), crop.latest_sowing(variety_class)
    if latest < rules.winter_wheat_until < sown:
        return {"at_risk": 1.0, "marginal": 0.0, "safe": 0.0}
    if sown > latest:
        return shares | {"safe": 0.0, "marginal": shares["marginal"] + shares["safe"]}
    return shares


def _stooks(weather, losses):
    """What stooks cut on each day of the record brought home, and by a fit spell."""
    rate, fit = (
        drying_rate(weather.evapotranspiration, losses.drying),
        decision.fit_week(),
    )
    every_day = np.arange(len(rate))[np.newaxis]
    share, days_out = stooks(every_day, weather.rain, rate, len(rate), losses)
    return share[0], came_through(
        days_out[0], share[0], fit.longest_days, fit.least_share
    )


def _binder_days(weather, losses):
    """Whether a binder could go on each day of the record, the crop dry, of bool."""
    dry = running(weather.rain < 1) >= DRY_DAYS
    return dry & (weather.rain < losses.ripeness.cutting_rain)
