"""MET Norway's open Locationforecast 2.0, ``compact`` or ``complete``, as whole days.

The series is hourly for two or three days and six-hourly after. Each time says
what falls in the next hour, the next six hours or both, so a day is made of the
periods that just reach the next time: none is counted twice.
"""

import dataclasses
import datetime
import json
from itertools import pairwise

import numpy as np

from sheafwright.core.errors import NotEnoughWeather, OutOfRange, UnreadableInput
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.plain_csv import FIRST_YEAR, LAST_YEAR, limits
from sheafwright.feeds.telling import say

PERIODS = {1: "next_1_hours", 6: "next_6_hours"}
# Lower, middle and upper: the outer two are the 10 and 90 percentile, or near.
RAIN = (
    "precipitation_amount_min",
    "precipitation_amount",
    "precipitation_amount_max",
)
TEMPERATURE = (
    "air_temperature_percentile_10",
    "air_temperature",
    "air_temperature_percentile_90",
)
UNITS = dict.fromkeys(RAIN, "mm") | dict.fromkeys(TEMPERATURE, "celsius")
ALWAYS_THERE = ("precipitation_amount", "air_temperature")
ONE_HOUR = datetime.timedelta(hours=1)
LONGEST_DAYS = 60


@dataclasses.dataclass(frozen=True)
class Node:
    """A part of the document that knows its path, so that a refusal can name it."""

    value: object
    where: str
    path: str = ""

    def has(self, name):
        """Whether it has a part of this name."""
        return isinstance(self.value, dict) and name in self.value

    def part(self, *names):
        """The part found by going down by these names."""
        node = self
        for name in names:
            path = f"{node.path}.{name}".lstrip(".")
            if not node.has(name):
                raise UnreadableInput(
                    "{where}: {path} is missing.", where=self.where, path=path
                )
            node = Node(node.value[name], self.where, path)
        return node

    def items(self):
        """The parts of a list."""
        if not isinstance(self.value, list) or not self.value:
            raise self.refusal(say("a list that is not empty"))
        return [
            Node(value, self.where, f"{self.path}[{n}]")
            for n, value in enumerate(self.value)
        ]

    def number(self, possible):
        """A number within these limits."""
        lowest, highest = possible
        # In Python true and false are numbers too.
        is_number = type(self.value) in (int, float)
        if not (is_number and lowest <= self.value <= highest):
            wanted = say(
                "a number from {lowest:g} to {highest:g}",
                lowest=lowest,
                highest=highest,
            )
            raise self.refusal(wanted)
        return float(self.value)

    def time(self):
        """A time in UTC."""
        try:
            time = datetime.datetime.fromisoformat(self.value)
            if time.tzinfo is None or not FIRST_YEAR < time.year < LAST_YEAR:
                raise ValueError
            return time.astimezone(datetime.UTC)
        except (TypeError, ValueError):
            wanted = say("a time such as {example}", example="2026-08-05T10:00:00Z")
            raise self.refusal(wanted) from None

    def refusal(self, wanted):
        """The sentence that says what this part should be; ``wanted`` is said."""
        return UnreadableInput(
            "{where}: {name} is {value}; it should be {wanted}.",
            where=self.where,
            name=self.path,
            value=repr(self.value)[:40],
            wanted=wanted,
        )


@dataclasses.dataclass(frozen=True)
class Step:
    """One period of the series, each quantity lower, middle and upper."""

    hour: int
    """Hours from the first local midnight to its start."""
    hours: int
    """Its length."""
    rain: np.ndarray
    """What falls in it. [mm]"""
    low: np.ndarray
    """Its lowest temperature. [°C]"""
    high: np.ndarray
    """Its highest temperature. [°C]"""


def parse(content, where, utc_offset_hours=0):
    """The forecast in a document's bytes; ``where`` is its name.

    Days run from midnight to midnight at ``utc_offset_hours`` from UTC. The default
    of none suits the service: its six-hourly steps start at 0, 6, 12 and 18 UTC, so
    that no step lies across midnight. With another offset the rain of a step across
    midnight is shared by the hour. Days that the series does not wholly cover are
    left out.

    Where the document gives percentiles, rain and temperature each have three
    paths (lower, middle, upper) and every pair of them is a member, since the
    service does not say which go together.
    """
    if not -12 <= utc_offset_hours <= 14:
        raise OutOfRange(
            "The offset from UTC is {hours} h; it should be -12 to 14.",
            hours=utc_offset_hours,
        )
    properties = Node(_loaded(content, where), where).part("properties")
    _check_units(properties.part("meta", "units"))
    offset = utc_offset_hours * ONE_HOUR
    updated = properties.part("meta", "updated_at").time() + offset
    entries = _entries(properties.part("timeseries"), offset)
    start = entries[0][0]
    rain, tmin, tmax = _whole_days(list(_steps(entries)))
    # A series is cut at the hour it was asked for, which may be a day after the run.
    issued = max(updated, start).date()
    kept = _ahead(~np.isnan(rain[0]), (issued - start.date()).days, where)
    members = _crossed(*(levels[:, kept] for levels in (rain, tmin, tmax)))
    first = start.date() + datetime.timedelta(days=kept.start)
    source = say(
        "data from MET Norway, made {time} UTC, {where}",
        time=f"{updated - offset:%Y-%m-%d %H:%M}",
        where=where,
    )
    return Forecast(issued, first, *members, source)


def _loaded(content, where):
    def refuse(name):
        raise UnreadableInput(
            "{where} holds {name}, which is not a number.", where=where, name=name
        )

    try:
        return json.loads(content.decode("utf-8-sig"), parse_constant=refuse)
    except json.JSONDecodeError as error:
        raise UnreadableInput(
            "{where}, line {line}, column {column}: the JSON is cut short or damaged.",
            where=where,
            line=error.lineno,
            column=error.colno,
        ) from None
    except (ValueError, RecursionError):
        raise UnreadableInput(
            "{where} is not JSON in UTF-8 such as the service sends.", where=where
        ) from None


def _check_units(units):
    for name, wanted in UNITS.items():
        if name not in ALWAYS_THERE and not units.has(name):
            continue
        unit = units.part(name)
        if unit.value != wanted:
            raise unit.refusal(wanted)


def _entries(timeseries, offset):
    """(local time, data) of each time in the series, in order."""
    nodes = timeseries.items()
    entries = [(n.part("time").time() + offset, n.part("data")) for n in nodes]
    for node, (time, _) in zip(nodes, entries, strict=True):
        if time.minute or time.second or time.microsecond:
            raise node.part("time").refusal(say("on the hour"))
    for node, ((before, _), (time, _)) in zip(
        nodes[1:], pairwise(entries), strict=True
    ):
        if time <= before:
            wanted = say("later than the time before it")
            raise node.part("time").refusal(wanted)
    if (entries[-1][0] - entries[0][0]).days > LONGEST_DAYS:
        wanted = say("within {days} days of the first", days=LONGEST_DAYS)
        raise nodes[-1].part("time").refusal(wanted)
    return entries


def _steps(entries):
    midnight = entries[0][0].replace(hour=0)
    for (time, data), (following, _) in pairwise([*entries, (None, None)]):
        hours = _length(data, following and (following - time) // ONE_HOUR)
        if hours:
            yield _step((time - midnight) // ONE_HOUR, hours, data)


def _length(data, gap):
    """Hours of the period that just reaches the next time; at the end, the longest."""
    offered = [hours for hours, name in PERIODS.items() if data.has(name)]
    return max((hours for hours in offered if gap in (None, hours)), default=None)


def _step(hour, hours, data):
    period = data.part(PERIODS[hours], "details")
    possible = limits("tmin")[0], limits("tmax")[1]
    warmth = _levels(data.part("instant", "details"), TEMPERATURE, possible)
    # Six hours hold lower and higher temperatures than that of their first moment.
    extremes = [
        period.part(name).number(possible) if period.has(name) else warmth[1]
        for name in ("air_temperature_min", "air_temperature_max")
    ]
    spread = warmth - warmth[1]
    low = min(extremes[0], warmth[1]) + spread
    high = max(extremes[1], warmth[1]) + spread
    return Step(hour, hours, _levels(period, RAIN, limits("rain")), low, high)


def _levels(details, names, possible):
    """Lower, middle and upper; the middle stands in for one that is not given."""
    middle = details.part(names[1]).number(possible)
    given = [
        details.part(n).number(possible) if details.has(n) else middle for n in names
    ]
    return np.array(given)


def _whole_days(steps):
    """Rain, tmin and tmax, each (level, day); NaN where a day is not wholly covered."""
    end = max((step.hour + step.hours for step in steps), default=0)
    hourly = np.full((3, len(RAIN), 24 * (end // 24 + 1)), np.nan)
    for step in steps:
        values = np.stack([step.rain / step.hours, step.low, step.high])
        hourly[..., step.hour : step.hour + step.hours] = values[..., np.newaxis]
    rain, low, high = hourly.reshape(3, len(RAIN), -1, 24)
    return rain.sum(axis=-1), low.min(axis=-1), high.max(axis=-1)


def _ahead(covered, issued, where):
    """The unbroken run of covered days from that of issue, or the day after, on."""
    first = issued if covered[issued : issued + 1].any() else issued + 1
    length = int(np.argmin([*covered[first:], False]))
    if not length:
        raise NotEnoughWeather(
            "{where} covers neither the whole of the day it was issued on nor the "
            "whole of the next.",
            where=where,
        )
    return slice(first, first + length)


def _crossed(rain, tmin, tmax):
    """Every path of rain with every path of temperature: (member, lead_day) each."""
    wet = _paths(rain)
    warm = _paths(np.concatenate([tmin, tmax], axis=-1))
    wet, warm = (each.ravel() for each in np.meshgrid(wet, warm, indexing="ij"))
    return rain[wet], tmin[warm], tmax[warm]


def _paths(levels):
    """Which levels to keep: all, or the middle alone where they do not differ."""
    return np.arange(len(levels)) if np.ptp(levels, axis=0).any() else np.array([1])
