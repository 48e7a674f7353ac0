"""What is known of the field's weather up to the day of the question?

Nothing later is read. The record is brought from its station to the field, and refused
where it cannot carry an answer.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.daily import NEEDED, DailyWeather, daily_weather
from sheafwright.answers.place import at_place
from sheafwright.answers.working import MEASURED, THE_RECORD, Step
from sheafwright.core.decide.harvests import GROWING_DAYS
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.weather.day_length import day_length
from sheafwright.core.weather.place import Place
from sheafwright.feeds.telling import mark
from sheafwright.feeds.weather import read
from sheafwright.feeds.weather.checks import shipped_checks
from sheafwright.feeds.weather.record import WeatherRecord

USUAL_ALTITUDE = 50.0
"""Where neither the record nor the grower gives one. [m]"""


@dataclasses.dataclass(frozen=True)
class GrowingDays:
    """The days of a crop from sowing on, of shape (..., day)."""

    tmin: np.ndarray
    """[°C]"""
    tmax: np.ndarray
    """[°C]"""
    day_length: np.ndarray
    """[h]"""


@dataclasses.dataclass(frozen=True)
class KnownWeather:
    """The field's weather up to the last day known."""

    record: WeatherRecord
    """Brought to the field."""
    weather: DailyWeather
    doubt: Place
    """How the field may differ still."""
    latitude: float
    altitude: float
    steps: tuple[Step, ...]

    @property
    def as_of(self):
        """The last day known."""
        return self.record.last

    @property
    def today(self):
        """Its position in the record."""
        return self.record.days - 1


@dataclasses.dataclass(frozen=True)
class KnownDays(KnownWeather):
    """The same, for a crop."""

    sown: datetime.date

    @property
    def since_sowing(self):
        """Days from sowing to it."""
        return (self.as_of - self.sown).days

    @property
    def growing(self):
        """The `GrowingDays` of the crop so far."""
        since = slice(self.today - self.since_sowing, None)
        light = day_length(self.latitude, self.weather.day_of_year[since])
        return GrowingDays(self.weather.tmin[since], self.weather.tmax[since], light)

    def day_length_from_sowing(self, n_days):
        """Day length on so many days from sowing on, (day,). [h]"""
        dates = np.datetime64(self.sown, "D") + np.arange(n_days)
        day_of_year = (dates - dates.astype("datetime64[Y]")).astype(int) + 1
        return day_length(self.latitude, day_of_year)


def known_days(question):
    """The `KnownDays` of a `Question`."""
    return since_sown(known_weather(question), question.sown)


def since_sown(known, sown):
    """The `KnownDays` of a crop sown on a day, of a `KnownWeather`."""
    known = KnownDays(**vars(known), sown=sown)
    _refuse_sowing(known)
    _refuse_gap(known)
    return known


def known_weather(question):
    """The `KnownWeather` of a question, whatever is asked of it.

    Parameters
    ----------
    question : object
        With a `Question`'s ``weather``, ``columns``, ``as_of``, ``latitude``,
        ``altitude`` and ``own_readings``.
    """
    record = read(question.weather, question.columns, until=question.as_of)
    last = _last_whole_day(record, question.as_of)
    latitude = latitude_of(record, question.latitude)
    altitude, assumed = altitude_of(record, question.altitude)
    there = at_place(record.upto(last), question.own_readings)
    weather = daily_weather(there.record, latitude, altitude)
    says = wording.record(record.station, record.first, last, question.as_of)
    return KnownWeather(
        record=there.record,
        weather=weather,
        doubt=there.doubt,
        latitude=latitude,
        altitude=altitude,
        steps=(
            Step(says, THE_RECORD, MEASURED),
            *assumed,
            *weather.steps,
            there.step,
        ),
    )


def latitude_of(record, given):
    """Latitude as given, or else the record's own. [°]"""
    if given is not None:
        return given
    if record.latitude is None:
        raise OutOfRange(
            "{station} does not say where it is; the latitude should be given in "
            "degrees north, such as {example}.",
            station=record.station,
            example=53.4,
        )
    return record.latitude


def altitude_of(record, given):
    """Height above the sea, and the step that says so where it is assumed. [m]"""
    for altitude in (given, record.altitude):
        if altitude is not None:
            return altitude, ()
    says = wording.altitude_assumed(USUAL_ALTITUDE)
    return USUAL_ALTITUDE, (Step(says, mark("The tool"), "assumed"),)


def _last_whole_day(record, as_of):
    """The last day with its rain and temperatures measured."""
    nothing = np.ones(record.days, dtype=bool)
    missing = np.any(
        [record.missing(n) if n in record.values else nothing for n in NEEDED], axis=0
    )
    if missing.all():
        raise NotEnoughWeather(
            "{station} has no day with its rain, its lowest and its highest "
            "temperature; every day needs the three.",
            station=record.station,
        )
    last = record.first + datetime.timedelta(int(np.flatnonzero(~missing)[-1]))
    asked, late = as_of or record.last, shipped_checks().enough.bridged_days
    if (asked - last).days > late:
        raise NotEnoughWeather(
            "The last day with rain and temperatures of {station} is {last}; for "
            "advice on {asked} it should be at most {late} days before.",
            station=record.station,
            last=str(last),
            asked=str(asked),
            late=late,
        )
    return last


def _refuse_sowing(known):
    sown, record, last = known.sown, known.record, known.as_of
    if sown > last:
        raise OutOfRange(
            "Sown on {sown}, the crop is not in the ground on {last}, the last day "
            "known; the day of sowing should come first.",
            sown=str(sown),
            last=str(last),
        )
    if sown < record.first:
        raise NotEnoughWeather(
            "{station} begins on {first}; it should begin on {sown}, the day of "
            "sowing, or before.",
            station=record.station,
            first=str(record.first),
            sown=str(sown),
        )
    if (last - sown).days > GROWING_DAYS:
        raise OutOfRange(
            "A crop sown on {sown} is long off the field on {last}; the day of sowing "
            "should be at most {days} days before.",
            sown=str(sown),
            last=str(last),
            days=GROWING_DAYS,
        )


def _refuse_gap(known):
    days = known.growing
    missing = np.flatnonzero(np.isnan(days.tmin + days.tmax))
    if missing.size:
        first = known.sown + datetime.timedelta(int(missing[0]))
        raise NotEnoughWeather(
            "{station} lacks the temperatures of {days} days since sowing, the first "
            "on {first}; a crop's stages need every day's.",
            station=known.record.station,
            days=missing.size,
            first=str(first),
        )
