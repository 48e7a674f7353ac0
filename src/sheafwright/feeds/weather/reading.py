"""What a file says, in the order it says it, laid out on the calendar."""

import dataclasses
import datetime
from collections.abc import Mapping

import numpy as np

from sheafwright.feeds.telling import mark, say
from sheafwright.feeds.weather.record import WeatherRecord
from sheafwright.feeds.weather.suspects import Suspect, suspects

PLACES = {"latitude": (-90, 90), "longitude": (-180, 180), "altitude": (-500, 9000)}
PLACE_NAMES = {
    "latitude": mark("latitude"),
    "longitude": mark("longitude"),
    "altitude": mark("altitude"),
}
LONGEST_NAME = 60


@dataclasses.dataclass(frozen=True)
class Series:
    """One variable as a file has it, in any order and perhaps twice."""

    days: np.ndarray
    """(row,) of datetime64[D]."""
    values: np.ndarray
    """(row,), in our unit."""


@dataclasses.dataclass(frozen=True)
class Reading:
    """All that a layout's reader takes from a file."""

    station: str
    layout: str
    series: Mapping[str, Series]
    latitude: float | None = None
    longitude: float | None = None
    altitude: float | None = None
    suspects: tuple[Suspect, ...] = ()
    """What the file's own marks say against its values."""


def rows_as_series(days, values):
    """Series of variables that share one column of days."""
    return {name: Series(days, column) for name, column in values.items()}


def upto(reading, until, text):
    """The reading without any day after ``until``."""
    series = {}
    for name, each in reading.series.items():
        kept = each.days <= np.datetime64(until)
        series[name] = Series(each.days[kept], each.values[kept])
    if not any(len(each.days) for each in series.values()):
        says = say(
            "it should hold days up to {until}, and begins later.", until=str(until)
        )
        raise text.refusal(says)
    marks = tuple(each for each in reading.suspects if each.first <= until)
    return dataclasses.replace(reading, series=series, suspects=marks)


def on_calendar(reading, text):
    """The record of a reading, with what is wrong with its calendar."""
    place = {name: getattr(reading, name) for name in PLACES}
    check_place(text, **place)
    if not reading.series:
        says = say("it should hold weather that we know, and holds none.")
        raise text.refusal(says)
    # Columns of one table share their days, so these are placed once.
    distinct = {id(each.days): each.days for each in reading.series.values()}
    # Every row counts, whatever it holds: an empty day is still a day of the record.
    seen = np.unique(np.concatenate(list(distinct.values())))
    dates = np.arange(seen[0], seen[-1] + 1)
    placings = {key: _placing(days, dates) for key, days in distinct.items()}
    laid = {
        name: _laid_out(each.values, placings[id(each.days)], len(dates))
        for name, each in reading.series.items()
    }
    record = WeatherRecord(
        station=_short(reading.station),
        layout=reading.layout,
        first=dates[0].astype(datetime.date),
        values={name: values for name, (values, _, _) in laid.items()},
        **place,
    )
    found = [*reading.suspects, *_calendar_suspects(dates, seen, laid)]
    return record, found


def _short(name):
    # A slice would forget what was said.
    return name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME]


def check_place(text, **place):
    """Refuse a place that is not on this earth."""
    for name, number in place.items():
        lowest, highest = PLACES[name]
        if number is not None and not lowest <= number <= highest:
            says = say(
                "{name} {number:g} should lie from {lowest:g} to {highest:g}.",
                name=say(PLACE_NAMES[name]),
                number=number,
                lowest=lowest,
                highest=highest,
            )
            raise text.refusal(says)


def _placing(days, dates):
    """The order that sorts rows, where each day's begin, their number, its place."""
    order = np.argsort(days, kind="stable")
    each, firsts, counts = np.unique(days[order], return_index=True, return_counts=True)
    return order, firsts, counts, (each - dates[0]).astype(int)


def _laid_out(values, placing, n_days):
    """Values by date, days given more than once, and those where they disagree."""
    order, firsts, counts, at = placing
    # fmin and fmax pass over a missing value where the other row has one.
    lowest = np.fmin.reduceat(values[order], firsts)
    disagree = lowest != np.fmax.reduceat(values[order], firsts)
    disagree &= ~np.isnan(lowest)
    return (
        _scattered(np.where(disagree, np.nan, lowest), at, n_days, np.nan),
        _scattered(counts > 1, at, n_days, False),
        _scattered(disagree, at, n_days, False),
    )


def _scattered(values, at, count, elsewhere):
    laid = np.full(count, elsewhere)
    laid[at] = values
    return laid


def _calendar_suspects(dates, seen, laid):
    absent = ~np.isin(dates, seen, assume_unique=True)
    says = say("The file leaves these days out.")
    yield from suspects("missing_days", "date", dates, absent, says, refused=False)
    twice = np.any([twice for _, twice, _ in laid.values()], axis=0)
    yield from suspects(
        "duplicated_days",
        "date",
        dates,
        twice,
        say("The file has these days more than once; they count once."),
        refused=False,
    )
    for name, (_, _, disagree) in laid.items():
        yield from suspects(
            "duplicated_days",
            name,
            dates,
            disagree,
            say("The file gives different values for the same day."),
        )
    ahead = dates > np.datetime64(datetime.date.today())
    says = say("These days are still to come.")
    yield from suspects("days_ahead", "date", dates, ahead, says, refused=False)
