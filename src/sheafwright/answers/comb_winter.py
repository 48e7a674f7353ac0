"""Which weeks of the winter are fit for the comb, and when will the ricks be done?

Counted from the winters on record, each whole: what stands in the ricks is threshed in
every one of them.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, iso
from sheafwright.answers.daily import daily_weather
from sheafwright.answers.known_days import altitude_of, latitude_of
from sheafwright.answers.working import (
    GIVEN,
    MEASURED,
    THE_RECORD,
    YOU,
    Step,
    step_from_rows,
    steps_to_json,
)
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.threshing.fit_days import (
    daytime_temperature,
    done_after,
    fit,
    hindrances,
)
from sheafwright.core.weather.humidity import relative_humidity
from sheafwright.feeds import outturns
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say, say_n
from sheafwright.feeds.threshing import threshing
from sheafwright.feeds.weather import read
from sheafwright.feeds.weather.checks import shipped_checks

OCTOBER, LAST = (10, 1), (3, 31)
"""Month and day that the winter's work opens on, and ends on."""
WEEK = 7
SPOILERS = ("damp", "dry", "rain", "frost")
"""As `core.threshing.fit_days.hindrances` has them."""
CALLED = {
    "damp": mark("air too damp"),
    "dry": mark("air too dry"),
    "rain": mark("rain"),
    "frost": mark("frost"),
}
LEAST_RUNS = 3
"""Days of one's own from which a rate is taken."""
MOST_KG = 5e6
CAUTION = mark(
    "Dust of drum and comb harms lungs for good: masks that fit, doors open to the "
    "wind. Local codes and trained people first."
)


@dataclasses.dataclass(frozen=True)
class WinterQuestion:
    """What stands, and where."""

    weather: object
    """Path of the weather record."""
    columns: object = None
    """Path of its columns file, if it needs one."""
    latitude: float | None = None
    altitude: float | None = None
    as_of: datetime.date | None = None
    """Nothing after it is looked at; the record's last day if it isn't given."""
    kg: float = 0.0
    """Of sheaves in the ricks. [kg]"""
    own_days: tuple[float, ...] = ()
    """Sheaves that went through the drum on each of one's own days. [kg]"""


@dataclasses.dataclass(frozen=True)
class Week:
    """Seven days of the winter ahead."""

    begins: datetime.date
    fit: tuple[float, float, float]
    """Days fit to be worked: few, likely, many. [d]"""
    spoiled: dict[str, float]
    """Of ``SPOILERS``: share of days that each spoils. [0–1]"""


@dataclasses.dataclass(frozen=True)
class CombWinter:
    """The answer."""

    station: str
    begins: datetime.date
    ends: datetime.date
    winters: int
    """Counted."""
    weeks: tuple[Week, ...]
    kg: float
    needed: tuple[float, float, float]
    """Days at the drum: few, likely, many. [d]"""
    own_days: int
    """That the rate was taken from; 0 for the tables'."""
    done: tuple[datetime.date | None, ...]
    """Early, likely, late; None for not before the winter's end."""
    chance_done: float
    """By the winter's end. [0–1]"""
    humidity_step: Step
    """Where the air's humidity comes from."""

    @property
    def spoiled(self):
        """Share of the winter's days that each of ``SPOILERS`` spoils. [0–1]"""
        n = len(self.weeks)
        return {
            name: sum(week.spoiled[name] for week in self.weeks) / n
            for name in SPOILERS
        }

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(self._fit(), self._done() if self.kg else self._nothing())

    def _fit(self):
        total = sum(week.fit[1] for week in self.weeks)
        worst = max(self.spoiled, key=self.spoiled.get)
        return joined(
            say(
                "About {fit:.0f} days are fit to comb from {begins} to {ends}.",
                fit=total,
                begins=wording.near_date(self.begins),
                ends=wording.near_date(self.ends),
            ),
            say(
                "Most are lost to {worst}, {share:.0%} of all days.",
                worst=say(CALLED[worst]),
                share=self.spoiled[worst],
            ),
        )

    def _nothing(self):
        return say("Nothing stands in the ricks.")

    def _done(self):
        few, likely, many = self.needed
        takes = say(
            "The {mass} in the ricks take {likely:.0f} days at the drum ({few:.0f} to "
            "{many:.0f}).",
            mass=measured(self.kg, "kg", ",.0f"),
            few=few,
            likely=likely,
            many=many,
        )
        return joined(takes, self._by())

    def _by(self):
        _early, likely, late = self.done
        if likely is None:
            return say(
                "That is not likely done by {ends}: {odds}.",
                ends=wording.near_date(self.ends),
                odds=wording.odds(self.chance_done),
            )
        if late is None:
            return say(
                "Done about {likely}; {odds} that it is done by {ends}.",
                likely=wording.near_date(likely),
                odds=wording.odds(self.chance_done),
                ends=wording.near_date(self.ends),
            )
        return say(
            "Done about {likely}; {odds} that it is by {late}.",
            likely=wording.near_date(likely),
            odds=wording.odds(BAND[-1]),
            late=wording.near_date(late),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        rows, day = shipped("threshing")["comb_day"], threshing().comb_day
        says = say(
            "{station}: {winters} winters, each counted whole.",
            station=self.station,
            winters=self.winters,
        )
        yield Step(says, THE_RECORD, MEASURED)
        low, high = day.humidity
        says = say(
            "The comb works between {low:.0%} and {high:.0%} of humidity in the hours "
            "of work.",
            low=low,
            high=high,
        )
        yield step_from_rows(says, rows["humidity"])
        yield self.humidity_step
        says = say(
            "And on days with no more than {rain} of rain, of {warmth:g} °C or more.",
            rain=measured(day.most_rain, "mm"),
            warmth=day.least_warmth,
        )
        yield step_from_rows(says, rows["most_rain"], rows["least_warmth"])
        says = say("It is worked on {days:g} days a week.", days=day.days_a_week)
        yield step_from_rows(says, rows["days_a_week"])
        yield self._rate()

    def _rate(self):
        if self.own_days:
            says = say_n(
                "What goes through the drum in a day is as on your own {n} day.",
                "What goes through the drum in a day is as on your own {n} days.",
                self.own_days,
            )
            return Step(says, YOU, GIVEN)
        low, high = threshing().drum_day.reed_a_day
        says = say(
            "A day at the drum gives {low} to {high} of reed.",
            low=measured(low, "t"),
            high=measured(high, "t"),
        )
        reed = outturns.usual_rows(combed=True)["reed"]
        return step_from_rows(
            says, shipped("threshing")["drum_day"]["reed_a_day"], reed
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        few, likely, many = self.needed
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "station": self.station,
            "begins": self.begins.isoformat(),
            "ends": self.ends.isoformat(),
            "winters": self.winters,
            "sheaves_kg": round(self.kg, 1),
            "needed_d_p10": round(few, 2),
            "needed_d_p50": round(likely, 2),
            "needed_d_p90": round(many, 2),
            "own_days": self.own_days,
            "done_p10": iso(self.done[0]),
            "done_p50": iso(self.done[1]),
            "done_p90": iso(self.done[2]),
            "chance_done": round(self.chance_done, 4),
            "weeks": [_week(each) for each in self.weeks],
            "working": steps_to_json(self.working),
        }


def comb_winter(question):
    """The `CombWinter` of a `WinterQuestion`."""
    _check(question)
    record = read(question.weather, question.columns, question.as_of)
    as_of = question.as_of or record.last
    begins, ends = _season(as_of)
    days, humidity_step = _days(record, question)
    winters = _winters(record, days, begins, (ends - begins).days + 1)
    own = len(question.own_days) if len(question.own_days) >= LEAST_RUNS else 0
    needed = question.kg / np.array(_rates(question.own_days if own else ()))
    done, chance = _done(winters, needed, begins)
    return CombWinter(
        station=record.station,
        begins=begins,
        ends=ends,
        winters=winters.shape[1],
        weeks=tuple(_weeks(winters, begins)),
        kg=question.kg,
        needed=tuple(float(x) for x in np.quantile(needed, BAND)),
        own_days=own,
        done=done,
        chance_done=chance,
        humidity_step=humidity_step,
    )


def _check(question):
    for mass in (question.kg, *question.own_days):
        # Written so that NaN is refused too.
        if not 0 <= mass <= MOST_KG:
            raise OutOfRange(
                "{mass} of sheaves can't be right; it should be from {least} to "
                "{most}.",
                mass=measured(mass, "kg", ",.9g"),
                least=measured(0, "kg"),
                most=measured(MOST_KG, "kg", ",.0f"),
            )


def _season(as_of):
    """The first day of the winter's work that is left, and its last."""
    year = as_of.year + (as_of > datetime.date(as_of.year, *LAST))
    ends = datetime.date(year, *LAST)
    return max(as_of, datetime.date(year - 1, *OCTOBER)), ends


def _days(record, question):
    """Whether each day is spoiled by each thing, then fit: (spoiler + 1, day)."""
    altitude, _assumed = altitude_of(record, question.altitude)
    latitude = latitude_of(record, question.latitude)
    weather = daily_weather(record, latitude, altitude)
    humidity = relative_humidity(
        weather.vapour_pressure, daytime_temperature(weather.tmin, weather.tmax)
    )
    day = threshing().comb_day
    hindered = hindrances(humidity, weather.rain, weather.tmax, day)
    share = day.days_a_week / WEEK
    counted = np.concatenate([hindered, [fit(hindered) * share]])
    return counted, weather.steps[0]


def _winters(record, days, begins, n_days):
    """Those days of each winter that is whole enough: (spoiler + 1, winter, day)."""
    starts = [
        (_in_year(begins, year) - record.first).days
        for year in range(record.first.year, record.last.year + 1)
    ]
    inside = [at for at in starts if 0 <= at <= record.days - n_days]
    found = [days[:, at : at + n_days] for at in inside]
    enough = shipped_checks().enough
    whole = [each for each in found if _known(each[-1]) >= enough.share_present]
    if len(whole) < enough.seasons_for_odds:
        raise NotEnoughWeather(
            "{station} has {winters} winters with the weather of {share:.0%} of days "
            "or more; odds of a winter's days should come of at least {least}.",
            station=record.station,
            winters=len(whole),
            share=enough.share_present,
            least=enough.seasons_for_odds,
        )
    return np.stack([_filled(each) for each in whole], axis=1)


def _in_year(day, year):
    # A winter that begins on 29 February begins a day later in other years.
    month, of_month = (
        (3, 1) if (day.month, day.day) == (2, 29) else (day.month, day.day)
    )
    return datetime.date(year, month, of_month)


def _known(fit_days):
    return np.isfinite(fit_days).mean()


def _filled(winter):
    """A day that is missing is taken to be as the winter's others."""
    usual = np.nanmean(winter, axis=-1, keepdims=True)
    return np.where(np.isnan(winter), usual, winter)


def _rates(own_days):
    """Sheaves that a day at the drum may take, (rate,). [kg]"""
    if own_days:
        return own_days
    reed = np.mean(outturns.usual_shares(combed=True)["reed"])
    low, high = threshing().drum_day.reed_a_day
    return tuple(1000 * np.linspace(low, high, 5) / reed)


def _done(winters, needed, begins):
    after = done_after(winters[-1], needed)
    after = np.sort(np.where(np.isnan(after), np.inf, after), axis=None)
    at = [after[round(p * (after.size - 1))] for p in BAND]
    days = tuple(
        begins + datetime.timedelta(float(n) - 1) if np.isfinite(n) else None
        for n in at
    )
    return days, float(np.isfinite(after).mean())


def _weeks(winters, begins):
    for first in range(0, winters.shape[-1] - WEEK + 1, WEEK):
        days = winters[..., first : first + WEEK]
        few, many = np.quantile(days[-1].sum(axis=-1), (BAND[0], BAND[-1]))
        yield Week(
            begins=begins + datetime.timedelta(first),
            fit=(float(few), float(days[-1].sum(axis=-1).mean()), float(many)),
            spoiled={name: float(days[at].mean()) for at, name in enumerate(SPOILERS)},
        )


def _week(week):
    few, likely, many = week.fit
    return {
        "begins": week.begins.isoformat(),
        "fit_d_p10": round(few, 2),
        "fit_d_mean": round(likely, 2),
        "fit_d_p90": round(many, 2),
        **{f"{name}_share": round(share, 4) for name, share in week.spoiled.items()},
    }
