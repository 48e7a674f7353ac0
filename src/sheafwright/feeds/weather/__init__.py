"""Weather files to one kind of record: recognised by content, checked, gaps filled."""

import dataclasses

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather import (
    dutch,
    epw,
    ghcn_dly,
    ghcn_long,
    ghcn_wide,
    irish,
    mapped,
    plain,
)
from sheafwright.feeds.weather.checks import check, shipped_checks
from sheafwright.feeds.weather.gaps import fill_short_gaps
from sheafwright.feeds.weather.reading import on_calendar, upto
from sheafwright.feeds.weather.record import WeatherRecord
from sheafwright.feeds.weather.suspects import Suspect
from sheafwright.feeds.weather.text import read_text

LAYOUTS = (irish, dutch, ghcn_dly, ghcn_long, ghcn_wide, epw, plain)


@dataclasses.dataclass(frozen=True)
class Examined:
    """A record fit for use, and what was found wrong with the file."""

    record: WeatherRecord
    suspects: tuple[Suspect, ...]


def read(path, columns=None, until=None):
    """The weather record of a file: impossible values missing, short gaps filled.

    Parameters
    ----------
    path : path of a file of any layout we know, plain or gzip
    columns : path of a columns file, for any other CSV
    until : datetime.date, optional
        Days after it are dropped before anything is judged or filled, so that they
        can change nothing.
    """
    return examine(path, columns, until).record


def examine(path, columns=None, until=None):
    """The record of a file, read as by ``read``, with all that the checks found."""
    limits = shipped_checks()
    text = read_text(path)
    reading = _reading(text, columns)
    if until is not None:
        reading = upto(reading, until, text)
    record, calendar = on_calendar(reading, text)
    record, found = check(record, limits, text)
    record = fill_short_gaps(record, limits.enough.bridged_days)
    return Examined(record, (*calendar, *found))


def _reading(text, columns):
    if columns is not None:
        return mapped.read(text, mapped.read_columns(columns))
    for layout in LAYOUTS:
        if line := layout.first_line(text):
            return layout.read(text, line)
    raise text.refusal(
        say(
            "no weather file we know begins like this (Irish or Dutch daily, "
            "GHCN-Daily, EPW); for any other CSV a columns file should say what its "
            "columns are."
        )
    )
