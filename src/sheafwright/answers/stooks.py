"""Can I cart? When straw and grain in the stook should be dry enough."""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, BAND_NAMES, banded, iso, short
from sheafwright.answers.days_ahead import DaysAhead, days_ahead
from sheafwright.answers.known_days import KnownWeather, known_weather
from sheafwright.answers.limits import MOISTURES, check_moisture
from sheafwright.answers.stook_days import StookDays, draw_luck, kinds, stook_days
from sheafwright.answers.stooks_working import stooks_steps, telling_steps
from sheafwright.answers.working import steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.drying.sheaf import dry_days_needed
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.telling import joined, say, say_n

CART, WAIT, NOT_IN_SIGHT = "cart", "wait", "not_in_sight"
ENOUGH_TENTHS = 7
"""A day is named once so many chances in 10 are spoken that they are fit by then."""
DAYS_AHEAD = 21
LONGEST = 120
"""Days after cutting at which nobody asks any more. [d]"""
CHANGES = {"halves": 0.5, "doubles": 2.0}


@dataclasses.dataclass(frozen=True)
class Reading:
    """A moisture meter's, of a few sheaves of one field, wet basis."""

    date: datetime.date
    grain: float | None = None
    """[0–1]"""
    straw: float | None = None
    """[0–1]"""

    def __post_init__(self):
        read = say("read on {day}", day=wording.date(self.date))
        for what in MOISTURES:
            check_moisture(what, read, getattr(self, what))


@dataclasses.dataclass(frozen=True)
class StooksQuestion:
    """The stooks of one field."""

    weather: str
    """Path of the weather record."""
    cut: datetime.date
    """The day that they were cut and set up."""
    field: str = ""
    """Its name, where the answer should say it."""
    columns: str | None = None
    """Path of a columns file for it."""
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""
    readings: tuple[Reading, ...] = ()
    as_of: datetime.date | None = None
    """The last day of the record if not given."""
    forecast: Forecast | None = None
    own_readings: str | None = None
    """Path of the field's own gauge and thermometer."""
    seed: int = 1
    summers: int = 1000
    """Possible summers drawn."""

    def read_by(self, known):
        """What the meter read of each, from cutting to the last day known.

        Wet basis, NaN where nothing was read: (day,) of grain and of straw. [0–1]
        """
        last = self.as_of or known.as_of
        for reading in self.readings:
            if not self.cut <= reading.date <= last:
                raise OutOfRange(
                    "A reading is said to be of {day}; it should be from {first}, the "
                    "day of cutting, to {last}, the day of the question.",
                    day=wording.date(reading.date),
                    first=wording.date(self.cut),
                    last=wording.date(last),
                )
        return {what: self._mean_of_days(what, known.as_of) for what in MOISTURES}

    def _mean_of_days(self, what, last):
        days = (last - self.cut).days
        read = [[] for _ in range(days + 1)]
        for reading in self.readings:
            if getattr(reading, what) is not None:
                # The weather record may lag behind the meter.
                day = min((reading.date - self.cut).days, days)
                read[day].append(getattr(reading, what))
        return np.array([np.mean(each) if each else np.nan for each in read])


@dataclasses.dataclass(frozen=True)
class StooksAnswer:
    """The answer."""

    question: StooksQuestion
    known: KnownWeather
    ahead: DaysAhead
    days: StookDays
    cart_from: datetime.date | None
    """The first day by which they are likely enough fit; None for none in sight."""
    cart_from_if: dict[str, datetime.date | None]
    """The same under each of ``CHANGES``."""

    @property
    def action(self):
        """What to do on the day of the question."""
        if self.cart_from is None:
            return NOT_IN_SIGHT
        return CART if self.cart_from == self.known.as_of else WAIT

    @property
    def today(self):
        """Days from cutting to the last day known."""
        return (self.known.as_of - self.question.cut).days

    @property
    def last(self):
        """The last day looked at."""
        return self.known.as_of + datetime.timedelta(DAYS_AHEAD)

    @property
    def chance_fit(self):
        """That the stooks are fit on each day from the last day known: (1 + day,)."""
        return self.days.fit[:, self.today :].mean(axis=0)

    @property
    def chance_fit_by(self):
        """That they have been fit on some day from then to each: (1 + day,)."""
        return _chance_fit_by(self.days, self.today)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(
            self._says(),
            wording.moisture_now(self._moisture_now(), self._limits()),
            wording.drying_doubts(
                self.cart_from, *self.cart_from_if.values(), self.last
            ),
        )

    def _says(self):
        field, chances = self.question.field, self.chance_fit_by
        if self.action == CART:
            return wording.cart_now(self.known.as_of, field, float(chances[0]))
        if self.action == NOT_IN_SIGHT:
            return wording.cart_not_in_sight(self.last, field, float(chances[-1]))
        chance = float(chances[(self.cart_from - self.known.as_of).days])
        return wording.cart_from(self.cart_from, field, chance)

    def _moisture_now(self):
        return {
            name: float(np.median(each[:, self.today]))
            for name, each in self.days.moisture.items()
        }

    def _limits(self):
        return {name: kind.drying.fit_to_carry for name, kind in kinds().items()}

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return stooks_steps(self)

    @property
    def telling(self):
        """The few of those steps on which the day turns."""
        return telling_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "action": self.action,
            **self._about(),
            "cart_from": iso(self.cart_from),
            **{
                f"cart_from_if_drying_{name}": iso(day)
                for name, day in self.cart_from_if.items()
            },
            "limit_moisture_share": self._limits(),
            "drying_rate_per_d": {
                name: {"mean": short(rate.mean()), "sd": short(rate.std())}
                for name, rate in self.days.rate.items()
            },
            "fair_days_needed_d": self._fair_days_needed(),
            "readings": [
                {
                    "date": reading.date.isoformat(),
                    "grain_moisture_share": reading.grain,
                    "straw_moisture_share": reading.straw,
                }
                for reading in self.question.readings
            ],
            "moisture_by_day": self._moisture_by_day(),
            "carting_by_day": self._carting_by_day(),
            "working": steps_to_json(self.working),
        }

    def _about(self):
        question, known = self.question, self.known
        return {
            "field": question.field,
            "station": known.record.station,
            "latitude_deg": known.latitude,
            "altitude_m": known.altitude,
            "cut": question.cut.isoformat(),
            "as_of": known.as_of.isoformat(),
            "forecast_days": self.ahead.n_leads,
            "possible_summers": question.summers,
            "seed": question.seed,
        }

    def _fair_days_needed(self):
        """Fair dry days until each is at its limit; None where it never will be."""
        needed = {}
        for name, kind in kinds().items():
            drying, now = kind.drying, self.days.moisture[name][:, self.today]
            days = dry_days_needed(
                now, drying.fit_to_carry, drying.equilibrium, self.days.rate[name]
            )
            needed[name] = {
                at: day if np.isfinite(day) else None
                for at, day in banded(days).items()
            }
        return needed

    def _moisture_by_day(self):
        """From cutting on: moisture, and rain as it fell or as it may be expected."""
        rain, banded_by = self.days.rain.mean(axis=0), {}
        for name, moisture in self.days.moisture.items():
            banded_by[name] = weighted_quantiles(moisture.T, BAND)
        return [
            {
                "date": self._day(day),
                "known": day <= self.today,
                "rain_mm": short(rain[day]),
                **{
                    f"{name}_moisture_{at}_share": short(value)
                    for name, values in banded_by.items()
                    for at, value in zip(BAND_NAMES, values[day], strict=True)
                },
            }
            for day in range(len(rain))
        ]

    def _carting_by_day(self):
        """From the last day known on: the chance that they are fit."""
        too_wet = kinds()["grain"].drying.carrying_rain_mm
        rain = (self.days.rain[:, self.today :] >= too_wet).mean(axis=0)
        columns = zip(self.chance_fit, self.chance_fit_by, rain, strict=True)
        return [
            {
                "date": self._day(self.today + day),
                "chance_fit": short(fit),
                "chance_fit_by": short(fit_by),
                "chance_of_rain": short(wet),
            }
            for day, (fit, fit_by, wet) in enumerate(columns)
        ]

    def _day(self, since):
        return (self.question.cut + datetime.timedelta(since)).isoformat()


def stooks(question):
    """The answer to a `StooksQuestion`, `StooksAnswer`."""
    known = known_weather(question)
    since = (known.as_of - question.cut).days
    _refuse_day(question.cut, known, since)
    readings = question.read_by(known)
    for_summers, for_luck = np.random.default_rng(question.seed).spawn(2)
    ahead = days_ahead(
        known, question.forecast, question.summers, DAYS_AHEAD, for_summers
    )
    luck = draw_luck(known, question.summers, for_luck)
    asked = known, since, ahead.paths, readings, luck
    days = stook_days(*asked)
    return StooksAnswer(
        question=question,
        known=known,
        ahead=ahead,
        days=days,
        cart_from=_cart_from(days, known, since),
        cart_from_if={
            name: _cart_from(stook_days(*asked, times), known, since)
            for name, times in CHANGES.items()
        },
    )


def _cart_from(days, known, since):
    tenths = np.round(10 * _chance_fit_by(days, since))
    likely = np.flatnonzero(tenths >= ENOUGH_TENTHS)
    return known.as_of + datetime.timedelta(int(likely[0])) if likely.size else None


def _chance_fit_by(days, since):
    return np.maximum.accumulate(days.fit[:, since:], axis=-1).mean(axis=0)


def _refuse_day(cut, known, since):
    if since < 0:
        raise OutOfRange(
            "Cut on {cut}, nothing stands in stooks on {last}, the last day known; "
            "the day of cutting should come first.",
            cut=wording.date(cut),
            last=wording.date(known.as_of),
        )
    if since > LONGEST:
        raise OutOfRange(
            "Stooks cut on {cut} are long off the field on {last}; the day of cutting "
            "should be at most {longest} days before.",
            cut=wording.date(cut),
            last=wording.date(known.as_of),
            longest=LONGEST,
        )
    if cut < known.record.first:
        raise NotEnoughWeather(
            "{station} begins on {first}; it should begin on {cut}, the day of "
            "cutting, or before.",
            station=known.record.station,
            first=wording.date(known.record.first),
            cut=wording.date(cut),
        )
    weather = known.weather
    missing = np.isnan(weather.rain + weather.evapotranspiration)[-since - 1 :]
    if missing.any():
        first = cut + datetime.timedelta(int(missing.argmax()))
        raise NotEnoughWeather(
            "{station} lacks the rain or the temperatures of {days} since cutting, the "
            "first on {first}; stooks need every day's.",
            station=known.record.station,
            days=say_n("{n} day", "{n} days", int(missing.sum())),
            first=wording.date(first),
        )
