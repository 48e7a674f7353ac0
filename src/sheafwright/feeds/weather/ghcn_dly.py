"""GHCN-Daily's .dly: fixed width, a row a month of one element."""

import re

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.calendar import calendar_days
from sheafwright.feeds.weather.ghcn import ELEMENTS, Elements, matches, only_station

BEGINS = re.compile(r"[A-Z]{2}[\w-]{9}\d{6}[A-Z]\w{3}[ \d-]{5}", re.ASCII)
MONTH = re.compile(
    r"(?P<station>[A-Z]{2}[\w-]{9})(?P<year>\d{4})(?P<month>\d\d)(?P<element>[A-Z]\w{3})"
    # Thirty-one times a value and its three flags; the last flags may be trimmed.
    r"(?P<slots>(?:[ \d-]{5}...){30}[ \d-]{5}.{0,3})\s*",
    re.ASCII,
)
DAYS, SLOT, VALUE, FLAG = 31, 8, slice(0, 5), 6
MISSING = -9999


def first_line(text):
    """1 if this is the layout, else None."""
    return 1 if BEGINS.match(text.lines[0]) else None


def read(text, line):
    """The reading of a file that begins on ``line``."""
    rows = list(matches(text, MONTH, line))
    station = only_station(text, {row["station"] for _, row in rows})
    elements = Elements("GHCN-Daily .dly", station)
    for element in ELEMENTS:
        months = [(line, row) for line, row in rows if row["element"] == element]
        if months:
            elements.add(element, *_days(text, months))
    return elements.reading()


def _days(text, months):
    """Days, numbers and flags of one element's months, each (row,)."""
    parted = [_slots(text, line, row["slots"]) for line, row in months]
    numbers, flagged = (np.array(each) for each in zip(*parted, strict=True))
    month, slot = np.nonzero(numbers != MISSING)
    years = np.array([int(row["year"]) for _, row in months])
    of_year = np.array([int(row["month"]) for _, row in months])
    days, wrong = calendar_days(years[month], of_year[month], slot + 1)
    if wrong is not None:
        line = months[month[wrong]][0]
        says = say(
            "it has a value for day {day} of a month that has no such day; the "
            "calendar should be right.",
            day=slot[wrong] + 1,
        )
        raise text.refusal(says, line)
    return days, numbers[month, slot], flagged[month, slot]


def _slots(text, line, slots):
    """The numbers of a month, and whether each is flagged."""
    each = [slots.ljust(DAYS * SLOT)[i : i + SLOT] for i in range(0, DAYS * SLOT, SLOT)]
    try:
        return [float(slot[VALUE]) for slot in each], [
            slot[FLAG] != " " for slot in each
        ]
    except ValueError:
        says = say(
            "a value is not a whole number; missing should be {code}.", code=MISSING
        )
        raise text.refusal(says, line) from None
