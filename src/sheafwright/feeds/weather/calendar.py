"""Dates as files write them, to days; and years in two digits to years."""

import datetime
import re

import numpy as np

MONTHS = {"jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6}
MONTHS |= {"jul": 7, "aug": 8, "sep": 9, "oct": 10, "nov": 11, "dec": 12}
# No thermometer or rain gauge was read daily before.
FIRST_YEAR, LAST_YEAR = 1650, 2200
DIRECTIVES = {
    "%Y": r"(?P<year>\d{4})",
    "%y": r"(?P<short_year>\d\d)",
    "%b": r"(?P<month_name>[A-Za-z]{3})",
    "%m": r"(?P<month>\d\d?)",
    "%d": r"(?P<day>\d\d?)",
}
NEEDED = ({"year", "short_year"}, {"month", "month_name"}, {"day"})


def date_pattern(date_format):
    """The regular expression for a date format, or None if it is no such format."""
    pattern = re.escape(date_format)
    for directive, expression in DIRECTIVES.items():
        pattern = pattern.replace(directive, expression, 1)
    groups = set(re.findall(r"\?P<(\w+)>", pattern))
    if "%" in pattern or any(len(groups & each) != 1 for each in NEEDED):
        return None
    if "%m%d" in date_format:
        # Without a mark between them each number must have its two digits.
        pattern = pattern.replace(r"\d\d?", r"\d\d")
    return re.compile(rf"^[ \t]*{pattern}[ \t]*$", re.MULTILINE | re.ASCII)


def to_days(cells, date_format):
    """Days of the cells, and the row of the first that is no date (or None).

    Returns
    -------
    days : ndarray of datetime64[D], shape (row,)
    wrong : int or None
    """
    pattern = date_pattern(date_format)
    found = pattern.findall("\n".join(cells))
    if len(found) != len(cells):
        return None, next(n for n, cell in enumerate(cells) if not pattern.match(cell))
    parts = dict(zip(pattern.groupindex, zip(*found, strict=True), strict=True))
    return calendar_days(_years(parts), _months(parts), np.array(parts["day"], int))


def calendar_days(year, month, day):
    """Days from their parts, and the row of the first that is no date (or None)."""
    months = (12 * (year - 1970) + month - 1).astype("datetime64[M]")
    days = months.astype("datetime64[D]") + (day - 1)
    wrong = (month < 1) | (month > 12) | (days.astype("datetime64[M]") != months)
    wrong |= (year < FIRST_YEAR) | (year > LAST_YEAR)
    return days, int(np.argmax(wrong)) if wrong.any() else None


def _years(parts):
    if "year" in parts:
        return np.array(parts["year"], int)
    return with_century(np.array(parts["short_year"], int), datetime.date.today().year)


def _months(parts):
    if "month" in parts:
        return np.array(parts["month"], int)
    names = parts["month_name"]
    numbers = {name: MONTHS.get(name.lower(), 0) for name in set(names)}
    return np.array([numbers[name] for name in names])


def with_century(short_years, latest):
    """Two-digit years as years, each the last that isn't after the year ``latest``."""
    return latest - (latest - short_years) % 100
