"""What have past harvests of this sowing been, and what can be learned from them?

The one preparation that the advice for today and its replay share: the record made
ready to draw summers from, and the harvests that a crop sown on the same day of each
year would have had.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers.wording import month_day
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.core.chance.time_of_year import DAYS, days_after
from sheafwright.core.decide.harvests import (
    GROWING_DAYS,
    Harvests,
    grown,
    harvests,
    taken,
)
from sheafwright.core.decide.learn import Past, Weather, in_season, prepare
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.core.inputs.crop import GrainFilling, Phases
from sheafwright.core.weather.day_length import day_length
from sheafwright.core.weather.thermal_time import thermal_time
from sheafwright.feeds import crop, decision
from sheafwright.feeds.sowing import AUTUMN_FROM, dates_in
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, say

CLASSES = {
    "end-january": mark("end-january"),
    "mid-february": mark("mid-february"),
    "end-february": mark("end-february"),
    "alternative": mark("alternative"),
    "spring": mark("spring"),
}
"""Of varieties, by how late they may be sown, in words."""
RIPE_AT = 0.95
"""Ripeness on the day called the ripe date. [1]"""
BEFORE_HARVEST, HARVEST_DAYS = 15, 80
"""Past days counted begin so long before the usual first fit day, for so long. [d]"""
MARGIN = 20
"""Summers are drawn from so long before the earliest fit day. [d]"""
LEAST_AHEAD = 14
"""Cutting days looked at, however late it is. [d]"""


@dataclasses.dataclass(frozen=True)
class Variety:
    """What was sown: a class of variety, and the crop that the book makes of it."""

    name: str
    phases: Phases
    filling: GrainFilling
    """The likelier form."""
    step: Step
    """Why this class."""


@dataclasses.dataclass(frozen=True)
class RefusedHarvest:
    """A harvest on record that can't be used."""

    harvest_year: int
    why: str


@dataclasses.dataclass(frozen=True)
class SeasonPast:
    """A record made ready, and its whole harvests."""

    past: Past
    harvests: Harvests
    """The whole ones."""
    refused: tuple[RefusedHarvest, ...]
    """Harvest years within the record that are not whole, and why."""
    counted: np.ndarray
    """Days of past harvests from which the stooks' share is learned, (day,) of bool."""
    days_ahead: int = 0
    """Days after today until the latest harvest has its stooks in. [d]"""


def variety(variety_class, month, day):
    """The `Variety` sown on a day of the year.

    Parameters
    ----------
    variety_class : str or None
        With none given, the class most in need of cold that may be sown so late.
    month, day : int
        Of sowing.
    """
    name = variety_class or _class_for(month, day)
    phases = crop.phases(name)
    says = say("Class of variety {name}, as given.", name=say(CLASSES[name]))
    if not variety_class:
        says = say(
            "No class of variety given, so {name}: the one most in need of cold that "
            "may still be sown on {day}.",
            name=say(CLASSES[name]),
            day=month_day((month, day)),
        )
    forms, weights = crop.grain_filling_forms(), crop.doubt_prior().form_weights
    latest = shipped("vernalisation")["latest_sowing"][name]
    likelier = forms[int(np.argmax(weights))]
    return Variety(name, phases, likelier, step_from_rows(says, latest))


def season_past(
    record,
    weather,
    latitude,
    sown_on,
    variety,
    losses,
    correlation,
    rng,
    today=None,
    signals=None,
):
    """The `SeasonPast` of a record and a sowing day.

    Parameters
    ----------
    record : sheafwright.feeds.weather.record.WeatherRecord
    weather : sheafwright.answers.daily.DailyWeather
        Of that record.
    latitude : float
        North positive. [°]
    sown_on : pair of int
        Month and day of sowing, in every year.
    variety : Variety
    losses : sheafwright.core.inputs.losses.Losses
    correlation : array_like, shape (lead,)
        Skill of forecasts, as `core.chance.foretelling` has it; empty for none. [0–1]
    rng : numpy.random.Generator
        For the forecasts issued in the past.
    today : pair of int, optional
        Day of the year, and days since sowing, from which summers must be drawn too.
    signals : array_like, shape (day, lead), optional
        Forecasts as issued in the past; made from what came if not given.
    """
    light = day_length(latitude, weather.day_of_year)
    sown, years = _sowings(record, *sown_on)
    ripe = grown(
        weather.tmin, weather.tmax, light, sown, variety.phases, variety.filling
    )
    settings = decision.settings()
    fit_day = _fit_days(ripe, sown, weather.day_of_year, losses)
    _refuse_few(record, len(fit_day), settings)
    reach = losses.stook.longest_days + len(correlation)
    usual, season = _season(fit_day, settings.futures.cutting_days + reach)
    ahead = 0
    if today is not None:
        season, ahead = _from_today(season, *today, LEAST_AHEAD + reach)
    counted = in_season(weather.day_of_year, usual - BEFORE_HARVEST, HARVEST_DAYS)
    if signals is None and not len(correlation):
        # Without forecasts nothing was ever issued, and no wetness need be scored.
        signals = np.empty((record.days, 0))
    past = prepare(
        _weather(record, weather, variety.filling),
        losses,
        settings,
        season,
        counted,
        correlation,
        rng,
        signals,
    )
    found = harvests(past, sown, ripe, RIPE_AT)
    whole = taken(found, found.complete)
    _refuse_few(record, len(whole.complete), settings)
    refused = _refused(weather, whole, sown, years, ripe)
    return SeasonPast(past, whole, refused, counted, ahead)


def _class_for(month, day):
    """The class most in need of cold whose latest sowing allows the day."""
    if month >= AUTUMN_FROM:
        return crop.variety_classes()[0]
    # In a year without a leap day, as the table counts.
    asked = datetime.date(2001, month, min(day, 28 if month == 2 else day))
    allowed = [
        name
        for name in crop.variety_classes()
        if crop.latest_sowing(name) >= asked.timetuple().tm_yday
    ]
    return allowed[0] if allowed else crop.variety_classes()[-1]


def _sowings(record, month, day):
    """Record positions of sowing, and the years of their harvests."""
    years = np.arange(record.first.year, record.last.year + 2)
    sown = (dates_in(years, month, day) - record.dates[0]).astype(int)
    within = (sown >= 0) & (sown < record.days)
    return sown[within], years[within].tolist()


def _weather(record, weather, filling):
    warmth = thermal_time(weather.tmin, weather.tmax, filling.base_temperature)
    return Weather(
        day_of_year=weather.day_of_year,
        year=record.year,
        tmax=weather.tmax,
        rain=weather.rain,
        evapotranspiration=weather.evapotranspiration,
        pressure=weather.pressure,
        gain=warmth / filling.thermal_sum,
    )


def _fit_days(ripe, sown, day_of_year, losses):
    """Day of the year on which each crop was first fit to cut, (season,)."""
    fit = ripe >= losses.ripeness.fit_from
    reached = fit.any(axis=-1)
    return day_of_year[sown[reached] + fit[reached].argmax(axis=-1)]


def _season(fit_day, reach):
    """The usual fit day, and first day and length of the time summers come from."""
    # Harvests may lie on both sides of New Year: their days are counted from one.
    apart = days_after(fit_day, fit_day[0])
    first = int(fit_day[0] + apart.min()) - MARGIN
    length = int(np.ptp(apart)) + MARGIN + reach
    return int(fit_day[0] + np.median(apart)), (first, length)


def _from_today(season, day_of_year, since_sowing, least):
    """The season, begun no later than today, and the days left of it."""
    first, length = season
    begun = (day_of_year - first) % DAYS
    if begun > since_sowing:
        ahead = length + DAYS - begun
        return (day_of_year, min(ahead, DAYS)), ahead
    ahead = max(length - begun, least)
    return (first, min(begun + ahead, DAYS)), ahead


def _refuse_few(record, n_seasons, settings):
    least = settings.futures.least_years
    if n_seasons < least:
        raise NotEnoughWeather(
            "{station} has {harvests} whole harvests of this sowing between {first} "
            "and {last}; it should have at least {least} to draw possible summers "
            "from.",
            station=record.station,
            harvests=n_seasons,
            first=str(record.first),
            last=str(record.last),
            least=least,
        )


def _refused(weather, whole, sown, years, ripe):
    """Harvests that are not whole: those still open at the record's end aside."""
    kept = set(whole.harvest_year.tolist())
    end = len(weather.rain)
    return tuple(
        RefusedHarvest(year, _why(weather, start, each))
        for start, year, each in zip(sown, years, ripe, strict=True)
        if year not in kept and start + GROWING_DAYS <= end
    )


def _why(weather, start, ripe):
    if (ripe >= RIPE_AT).any():
        return say("rain, or what dries the stooks, is missing in its harvest")
    growing = slice(start, start + GROWING_DAYS)
    missing = np.isnan(weather.tmin[growing] + weather.tmax[growing])
    if missing.any():
        return say(
            "temperatures are missing on {days} of its days",
            days=np.count_nonzero(missing),
        )
    return say("the crop never ripened, for want of cold or of warmth")
