"""What the three forms of GHCN-Daily share: elements, quality flags, one station.

All are in whole tenths (sunshine in minutes, humidity in per cent). A value that
failed one of the archive's own checks carries a quality flag and isn't used.
"""

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.reading import Reading, Series
from sheafwright.feeds.weather.suspects import suspects
from sheafwright.feeds.weather.text import several_stations, shown
from sheafwright.feeds.weather.variables import inside

ELEMENTS = {
    "TMIN": ("tmin", "0.1 degC"),
    "TMAX": ("tmax", "0.1 degC"),
    "TAVG": ("tmean", "0.1 degC"),
    "PRCP": ("rain", "0.1 mm"),
    "AWND": ("wind", "0.1 m/s"),
    "WSFG": ("gust", "0.1 m/s"),
    "TSUN": ("sunshine", "min"),
    "RHAV": ("humidity", "%"),
    "RHMN": ("humidity_min", "%"),
    "RHMX": ("humidity_max", "%"),
    "ASLP": ("pressure", "0.1 hPa"),
    "ADPT": ("dewpoint", "0.1 degC"),
}


class Elements:
    """The elements of one station, gathered one by one."""

    def __init__(self, layout, station, **place):
        self._about = {"layout": layout, "station": station, **place}
        self._series, self._flagged = {}, []

    def add(self, element, days, numbers, flagged):
        """Days, whole numbers and quality flags of one element, each (row,)."""
        variable, unit = ELEMENTS[element]
        values = inside(variable, unit, numbers, element)
        self._series[variable] = Series(days, np.where(flagged, np.nan, values))
        if flagged.any():
            self._flagged += _flagged(variable, days[flagged], values[flagged])

    def reading(self):
        """What was gathered."""
        about = self._about | {"suspects": tuple(self._flagged)}
        return Reading(series=self._series, **about)


def _flagged(variable, days, values):
    dates = np.arange(days.min(), days.max() + 1)
    mask, laid = np.zeros(len(dates), dtype=bool), np.full(len(dates), np.nan)
    at = (days - dates[0]).astype(int)
    mask[at], laid[at] = True, values
    says = say("The archive's own checks flag it.")
    return suspects("archive_flag", variable, dates, mask, says, values=laid)


def matches(text, pattern, first_line):
    """Each row that isn't blank, by line; one of another form refuses the file."""
    for line, row in enumerate(text.lines[first_line - 1 :], first_line):
        if match := pattern.fullmatch(row):
            yield line, match
        elif row.strip():
            says = say(
                "{row} is cut off or of another form than the lines above.",
                row=shown(row),
            )
            raise text.refusal(says, line)


def only_station(text, stations):
    """The one station that a file should hold."""
    if len(stations) == 1:
        return next(iter(stations))
    raise several_stations(text, sorted(stations))
