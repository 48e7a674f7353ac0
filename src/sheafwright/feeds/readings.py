"""The grower's own notebook: what was read in the field, and past seasons' dates.

Readings are a CSV of ``date``, ``rain_mm``, ``tmin_c``, ``tmax_c``; seasons one of
``sown``, ``flowered``, ``cut`` and perhaps ``variety``. Blanks are allowed wherever
something was not read.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.core.errors import UnreadableInput
from sheafwright.core.inputs.place import PlacePrior
from sheafwright.core.weather.place import Days
from sheafwright.feeds import plain_csv, tables
from sheafwright.feeds.telling import say

READINGS = ("rain_mm", "tmin_c", "tmax_c")
SEASON = ("sown", "flowered", "cut")
LONGEST_SEASON = datetime.timedelta(days=500)


@dataclasses.dataclass(frozen=True)
class OwnReadings:
    """Every day from the first read to the last; NaN where nothing was read."""

    first: datetime.date
    days: Days
    """Each of shape (day,)."""

    def aligned(self, first, n_days):
        """The ``n_days`` from ``first`` on, such as those of a station's record."""
        offset = (self.first - first).days
        return Days(*(_shifted(values, offset, n_days) for values in self.days))


@dataclasses.dataclass(frozen=True)
class PastSeason:
    """The dates of one crop."""

    sown: datetime.date
    flowered: datetime.date | None
    cut: datetime.date | None
    variety: str = ""


def own_readings(path):
    """The `OwnReadings` in a file."""
    lines = plain_csv.rows(plain_csv.file_bytes(path), str(path), ("date",), READINGS)
    values = {}
    for line in lines:
        date = line.required("date", line.date("date"))
        if date in values:
            raise line.refusal("date", say("given once"))
        values[date] = (line.rain(), *line.temperatures())
    if not np.isfinite(list(values.values())).any():
        raise UnreadableInput(
            "{path} holds no reading of rain or temperature.", path=str(path)
        )
    first, last = min(values), max(values)
    days = np.full((len(READINGS), (last - first).days + 1), np.nan)
    for date, read in values.items():
        days[:, (date - first).days] = read
    return OwnReadings(first, Days(*days))


def past_seasons(path):
    """The `PastSeason` of each line of a file."""
    lines = plain_csv.rows(plain_csv.file_bytes(path), str(path), SEASON, ("variety",))
    return [_season(line) for line in lines]


def place_prior():
    """`PlacePrior` before any reading of the field's own."""
    rows = tables.shipped("place")["prior"]
    return tables.build(PlacePrior, rows, "place.toml [prior]")


def _season(line):
    line.required("sown", line.text("sown"))
    sown, flowered, cut = (line.date(column) for column in SEASON)
    after = sown
    for column, date in (("flowered", flowered), ("cut", cut)):
        if date and not after < date <= sown + LONGEST_SEASON:
            wanted = say(
                "after {after} and within {days} days of sowing",
                after=str(after),
                days=LONGEST_SEASON.days,
            )
            raise line.refusal(column, wanted)
        after = date or after
    return PastSeason(sown, flowered, cut, line.text("variety"))


def _shifted(values, offset, n_days):
    """Values of shape (day,) that begin ``offset`` days on in a span of ``n_days``."""
    shifted = np.full(n_days, np.nan)
    begin, end = max(offset, 0), min(offset + len(values), n_days)
    if begin < end:
        shifted[begin:end] = values[begin - offset : end - offset]
    return shifted
