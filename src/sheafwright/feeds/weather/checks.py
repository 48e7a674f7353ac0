"""Named checks: what no weather could be is left out, what is odd is reported.

A column that is wrong as a whole (Fahrenheit, another quantity) refuses the file.
"""

import dataclasses
from collections.abc import Callable, Iterable
from functools import cache

import numpy as np

from sheafwright.core.inputs.weather import (
    Doubts,
    Enough,
    Ranges,
    WeatherChecks,
)
from sheafwright.core.weather import quality
from sheafwright.feeds import tables
from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.suspects import suspects
from sheafwright.feeds.weather.variables import ORDERED, outside

AIR = ("tmin", "tmax", "tmean")
JUMPS = {
    "tmin": "jump_air",
    "tmax": "jump_air",
    "tmean": "jump_air",
    "soil_temperature": "jump_soil",
    "pressure": "jump_pressure",
}
BELL_SHAPED = (*AIR, "dewpoint", "soil_temperature", "pressure")
# Days without sun, full saturation and published evapotranspiration in tenths
# come in long runs of one value by nature; so do days without rain.
NEVER_STUCK = {"sunshine", "humidity", "humidity_min", "humidity_max", "pe"}
REPEATED = ("tmin", "tmax", "rain")
DAYS_OF_A_YEAR, DAYS_FROM_MARCH, SHORTEST_MONTH = 365, 306, 28


@dataclasses.dataclass(frozen=True)
class Found:
    """Days of one variable that a check marks."""

    variable: str
    mask: np.ndarray
    """(day,) of bool."""
    says: str
    values: np.ndarray | None = None
    """What to show instead of the day's own value: (day,)."""


@dataclasses.dataclass(frozen=True)
class Check:
    """A check by name; it may also raise ``refusal(said)`` against the file."""

    name: str
    marks: Callable[..., Iterable[Found]]
    refused: bool
    """What it marks is turned to missing."""


@cache
def shipped_checks():
    """The package's own limits."""
    sections = {"range": Ranges, "doubt": Doubts, "enough": Enough}
    return WeatherChecks(
        **{
            name: tables.build_shipped(kind, "weather_checks", name)
            for name, kind in sections.items()
        }
    )


def check(record, limits, text):
    """The record without its impossible values, and all that the checks found."""
    record, found = _measured(record, text), []
    for each in CHECKS:
        marked = list(each.marks(record, limits, text.refusal))
        for one in marked:
            found += suspects(
                each.name,
                one.variable,
                record.dates,
                one.mask,
                one.says,
                each.refused,
                record.values[one.variable] if one.values is None else one.values,
            )
        if each.refused:
            record = _measured(_without(record, marked), text)
    return record, found


def _without(record, marked):
    values = dict(record.values)
    for one in marked:
        values[one.variable] = np.where(one.mask, np.nan, values[one.variable])
    return dataclasses.replace(record, values=values)


def _measured(record, text):
    """The record of those variables that still have a value."""
    values = {n: v for n, v in record.values.items() if not np.isnan(v).all()}
    if not values:
        raise text.refusal(
            say("it should hold weather, and holds no value that can be used.")
        )
    return dataclasses.replace(record, values=values)


def _condemned(mask, values, limits):
    """So many days are impossible that the column is; a single day never is."""
    share = quality.share_of_known(mask, values)
    return mask.sum() > 1 and share >= limits.doubt.whole_column


def fahrenheit(record, limits, refusal):
    """Temperatures that only make sense in degrees Fahrenheit."""
    for name in AIR:
        if name in record.values:
            middle = np.nanmedian(record.values[name])
            if middle > limits.doubt.fahrenheit_median:
                says = say(
                    "{column} has a median of {middle:.0f}, which looks like degrees "
                    "Fahrenheit; it should be in degrees Celsius, or have its unit "
                    "declared in a columns file.",
                    column=outside(name),
                    middle=middle,
                )
                raise refusal(says)
    return ()


def value_range(record, limits, refusal):
    """Values that no day has."""
    for name, values in record.values.items():
        lowest, highest = getattr(limits.range, name)
        mask = quality.outside_range(values, lowest, highest)
        if _condemned(mask, values, limits):
            day = np.argmax(mask)
            says = say(
                "{column} is impossible on {days:,} days, first with {value:g} on "
                "{day}; it should lie from {lowest:g} to {highest:g}, so this looks "
                "like another column or unit.",
                column=outside(name),
                days=mask.sum(),
                value=values[day],
                day=str(record.dates[day]),
                lowest=lowest,
                highest=highest,
            )
            raise refusal(says)
        says = say("Outside {lowest:g} to {highest:g}.", lowest=lowest, highest=highest)
        yield Found(name, mask, says)


def order(record, limits, refusal):
    """Pairs of which the lower is the higher; neither can be trusted."""
    for lower, upper in ORDERED:
        if not {lower, upper} <= set(record.values):
            continue
        mask = quality.out_of_order(record.values[lower], record.values[upper])
        if _condemned(mask, record.values[lower] + record.values[upper], limits):
            says = say(
                "{lower} is above {upper} on {days:,} days, first on {day}; it should "
                "be below, so the columns look swapped.",
                lower=outside(lower),
                upper=outside(upper),
                days=mask.sum(),
                day=str(record.dates[np.argmax(mask)]),
            )
            raise refusal(says)
        says = say(
            "{lower} is above {upper}.", lower=outside(lower), upper=outside(upper)
        )
        yield Found(lower, mask, says)
        yield Found(upper, mask, says)


def dry_share(record, limits, refusal):
    """Rain that falls almost every day, or in a year or more never."""
    rain = record.values.get("rain", np.full(1, np.nan))
    known = ~np.isnan(rain)
    if known.sum() < DAYS_OF_A_YEAR:
        return
    dry = quality.share_of_known(rain == 0, rain)
    if dry < limits.doubt.fewest_dry_days:
        says = say(
            "rain_mm is above zero on {wet:.0%} of days, which no rain gauge reports; "
            "this looks like another column.",
            wet=1 - dry,
        )
        raise refusal(says)
    yield Found("rain", known & (dry == 1), say("No rain at all: not measured."))


def stuck(record, limits, refusal):
    """An instrument that gives one value for days on end."""
    days = limits.doubt.stuck_days
    for name, values in record.values.items():
        if name in NEVER_STUCK:
            continue
        moving = np.where(values == 0, np.nan, values) if name == "rain" else values
        mask = quality.stuck(moving, days)
        says = say("The same value for {days} days or more.", days=days)
        yield Found(name, mask, says)


def repeated_years(record, limits, refusal):
    """A calendar year that is an earlier one over again."""
    # From March on, so that a leap day in one of the two hides nothing.
    months = record.dates.astype("datetime64[M]")
    first_of_march = (record.month == 3) & (months == record.dates)
    starts = np.flatnonzero(first_of_march)
    starts = starts[starts + DAYS_FROM_MARCH <= record.days]
    for name in filter(record.values.__contains__, REPEATED):
        rows = record.values[name][starts[:, np.newaxis] + np.arange(DAYS_FROM_MARCH)]
        measured = np.isnan(rows).mean(axis=-1) < 0.5
        again = starts[measured][quality.repeats_earlier(rows[measured])]
        mask = np.isin(record.year, record.year[again])
        yield Found(name, mask, say("The same as an earlier year, day for day."))


def season(record, limits, refusal):
    """Values far from what is usual in their month, such as a spell in Fahrenheit."""
    month = record.month
    limit = limits.doubt.month_value
    enough = limits.doubt.month_years * SHORTEST_MONTH
    for name in filter(record.values.__contains__, BELL_SHAPED):
        mask = quality.far_from_usual(record.values[name], month, limit, enough)
        yield Found(name, mask, say("Far from all that is usual in its month."))


def spikes(record, limits, refusal):
    """A change that weather seldom makes, and back again the next day."""
    for name, largest in _largest_changes(record, limits):
        mask = quality.spikes(record.values[name], largest)
        says = say("Over {most:g} from the days before and after.", most=largest)
        yield Found(name, mask, says)


def jumps(record, limits, refusal):
    """A change from one day to the next that weather seldom makes."""
    for name, largest in _largest_changes(record, limits):
        mask = quality.jumps(record.values[name], largest)
        says = say("Over {most:g} from the day before.", most=largest)
        yield Found(name, mask, says)


def _largest_changes(record, limits):
    for name in filter(record.values.__contains__, JUMPS):
        yield name, getattr(limits.doubt, JUMPS[name])


def month_rain(record, limits, refusal):
    """A month whose rain is unlike that of the same month in other years."""
    if "rain" not in record.values:
        return
    doubt = limits.doubt
    totals, month_of_day = _month_totals(record)
    for says, marked in (
        (
            say("The month's rain is far from that of the same month in other years."),
            quality.unlike_own_month(totals, doubt.month_rain, doubt.month_years),
        ),
        (
            say("No rain in a month that hardly ever has none."),
            quality.seldom_rainless(totals, doubt.rainless_months),
        ),
    ):
        mask = marked.ravel()[month_of_day]
        yield Found("rain", mask, says, totals.ravel()[month_of_day])


def _month_totals(record):
    """Rain of every month, and which month each day is of: (year, 12), (day,)."""
    months = record.dates.astype("datetime64[M]").astype(int)
    first = months[0] - months[0] % 12
    at = months - first
    whole = 12 * (at[-1] // 12 + 1)
    # A month with a missing day has no total; nor has one that is cut off.
    totals = np.bincount(at, record.values["rain"], whole)
    totals[np.bincount(at, minlength=whole) < _lengths(first, whole)] = np.nan
    return totals.reshape(-1, 12), at


def _lengths(first, count):
    """Days in each month, counted from January 1970."""
    starts = np.arange(first, first + count + 1).astype("datetime64[M]")
    return np.diff(starts.astype("datetime64[D]").astype(int))


def year_rain(record, limits, refusal):
    """Rain of a usual year that fits another unit better."""
    rain = record.values.get("rain", np.full(1, np.nan))
    known = ~np.isnan(rain)
    if known.sum() < DAYS_OF_A_YEAR:
        return
    year = DAYS_OF_A_YEAR * np.nanmean(rain)
    odd = quality.outside_range(year, *limits.doubt.year_rain)
    says = say("So much rain a year fits another unit better.")
    yield Found("rain", known & odd, says, np.full_like(rain, year))


CHECKS = (
    Check("fahrenheit", fahrenheit, refused=True),
    Check("range", value_range, refused=True),
    Check("order", order, refused=True),
    Check("dry_share", dry_share, refused=True),
    Check("stuck", stuck, refused=True),
    Check("repeated_year", repeated_years, refused=True),
    Check("season", season, refused=True),
    Check("spike", spikes, refused=True),
    Check("jump", jumps, refused=False),
    Check("month_rain", month_rain, refused=False),
    Check("year_rain", year_rain, refused=False),
)
