"""What does each day's weather come to for the crop and the stooks?

Evapotranspiration takes, day by day, the best source that the record has for
humidity, radiation and wind, and says in its working which it took, and how often.
"""

import dataclasses

import numpy as np

from sheafwright.answers.working import MEASURED, Step, step_from_rows
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.inputs.evapotranspiration import Substitutes
from sheafwright.core.weather.evapotranspiration import reference_evapotranspiration
from sheafwright.core.weather.humidity import (
    saturation_vapour_pressure,
    vapour_pressure_from_extremes,
    vapour_pressure_from_mean,
)
from sheafwright.core.weather.radiation import (
    daylight_hours,
    extraterrestrial_radiation,
    radiation_from_sunshine,
)
from sheafwright.core.weather.substitutes import (
    first_known,
    radiation_from_temperature,
    vapour_pressure_from_tmin,
)
from sheafwright.core.weather.wind import wind_at_two_metres
from sheafwright.feeds.tables import build, shipped
from sheafwright.feeds.telling import listed, mark, measured, say
from sheafwright.feeds.weather.variables import VARIABLES

NEEDED = {
    "tmin": mark("lowest temperature"),
    "tmax": mark("highest temperature"),
    "rain": mark("rain"),
}
IF_KNOWN = ("pressure", "humidity", "dewpoint", "sunshine", "wind")
FURTHEST_NORTH = 66.0
LOWEST, HIGHEST = -430.0, 5000.0
PENMAN_MONTEITH = Step(
    mark(
        "Evapotranspiration of short grass by Penman and Monteith's equation, on every "
        "day with its temperatures."
    ),
    "Allen et al. 1998 (FAO-56), eq. 6",
    "published",
)


@dataclasses.dataclass(frozen=True)
class DailyWeather:
    """A record made ready for the season: arrays of shape (day,), NaN where missing."""

    day_of_year: np.ndarray
    """1 to 366."""
    tmin: np.ndarray
    """[°C]"""
    tmax: np.ndarray
    """[°C]"""
    rain: np.ndarray
    """[mm d⁻¹]"""
    evapotranspiration: np.ndarray
    """Of short grass, never below zero. [mm d⁻¹]"""
    vapour_pressure: np.ndarray
    """By the surest source of the day. [kPa]"""
    steps: tuple[Step, ...]
    """Which sources the evapotranspiration rests on, and on how many days."""
    pressure: np.ndarray | None = None
    """At sea level, if in the record. [hPa]"""
    humidity: np.ndarray | None = None
    """Daily mean, if in the record. [0–1]"""
    dewpoint: np.ndarray | None = None
    """Daily mean, if in the record. [°C]"""
    sunshine: np.ndarray | None = None
    """If in the record. [h]"""
    wind: np.ndarray | None = None
    """At 10 m, if in the record. [m s⁻¹]"""


def daily_weather(record, latitude, altitude):
    """The record's days with their evapotranspiration.

    Parameters
    ----------
    record : sheafwright.feeds.weather.record.WeatherRecord
        Daily weather.
    latitude : float
        North positive. [°]
    altitude : float
        Height above the sea. [m]
    """
    _refuse_impossible_place(latitude, altitude)
    _refuse_unfit(record)
    evapotranspiration, vapour_pressure, steps = _evapotranspiration(
        record, latitude, altitude
    )
    kept = {n: record.values[n] for n in (*NEEDED, *IF_KNOWN) if n in record.values}
    return DailyWeather(
        day_of_year=record.day_of_year,
        evapotranspiration=evapotranspiration,
        vapour_pressure=vapour_pressure,
        steps=steps,
        **kept,
    )


def _refuse_impossible_place(latitude, altitude):
    if not -FURTHEST_NORTH <= latitude <= FURTHEST_NORTH:
        raise OutOfRange(
            "A latitude of {latitude:g}° can't be worked with; it should be between "
            "-{furthest:g} and {furthest:g}, where the sun sets every day.",
            latitude=latitude,
            furthest=FURTHEST_NORTH,
        )
    if not LOWEST <= altitude <= HIGHEST:
        raise OutOfRange(
            "No wheat grows at {altitude}; the height above the sea should be between "
            "{lowest} and {highest}.",
            altitude=measured(altitude, "m"),
            lowest=measured(LOWEST, "m"),
            highest=measured(HIGHEST, "m"),
        )


def _refuse_unfit(record):
    lacking = [say(NEEDED[name]) for name in NEEDED if name not in record.values]
    if lacking:
        raise NotEnoughWeather(
            "The weather record of {station} has no {lacking}; every day needs its "
            "lowest and highest temperature and its rain.",
            station=record.station,
            lacking=listed(lacking, "or"),
        )


def _evapotranspiration(record, latitude, altitude):
    rows = shipped("evapotranspiration")["substitutes"]
    usual = build(Substitutes, rows, "evapotranspiration.toml [substitutes]")
    # A variable that the record lacks is missing on every day.
    weather = dict.fromkeys(VARIABLES, np.full(record.days, np.nan)) | record.values
    sky = extraterrestrial_radiation(latitude, record.day_of_year)
    daylight = daylight_hours(latitude, record.day_of_year)
    vapour_pressure, damp = _best(_vapour_pressures(weather, usual, rows))
    radiation, sun = _best(_radiations(weather, daylight, sky, usual, rows))
    wind, air = _best(_winds(weather, usual, rows))
    ends = weather["tmin"], weather["tmax"]
    evapotranspiration = reference_evapotranspiration(
        *ends, vapour_pressure, radiation, wind, sky, altitude
    )
    steps = (*damp, *sun, *air, PENMAN_MONTEITH)
    return evapotranspiration, vapour_pressure, steps


def _vapour_pressures(weather, usual, rows):
    """Estimates of vapour pressure, the surest first, each with its step."""
    ends = weather["tmin"], weather["tmax"]
    extremes = weather["humidity_min"], weather["humidity_max"]
    yield (
        saturation_vapour_pressure(weather["dewpoint"]),
        _step(say("Humidity from the dewpoint"), 14),
    )
    yield (
        vapour_pressure_from_extremes(*ends, *extremes),
        _step(say("Humidity from its extremes"), 17),
    )
    yield (
        vapour_pressure_from_mean(*ends, weather["humidity"]),
        _step(say("Humidity from its daily mean"), 19),
    )
    below = rows["dewpoint_below_tmin"]
    yield (
        vapour_pressure_from_tmin(weather["tmin"], usual.dewpoint_below_tmin),
        step_from_rows(
            say(
                "Humidity not measured, so the dewpoint is taken as the night's lowest "
                "temperature less {below:g} °C",
                below=below.value,
            ),
            below,
        ),
    )


def _radiations(weather, daylight, sky, usual, rows):
    """Estimates of radiation, the surest first, each with its step."""
    a, b = rows["angstrom_a"], rows["angstrom_b"]
    k = rows["temperature_radiation"]
    yield (
        weather["radiation"],
        Step(
            say("Radiation as the station gives it"),
            mark("The weather record"),
            MEASURED,
        ),
    )
    yield (
        radiation_from_sunshine(
            weather["sunshine"], daylight, sky, usual.angstrom_a, usual.angstrom_b
        ),
        step_from_rows(
            say(
                "Radiation not measured, so from sunshine by Ångström's rule with "
                "{a:g} and {b:g}",
                a=a.value,
                b=b.value,
            ),
            a,
            b,
        ),
    )
    yield (
        radiation_from_temperature(
            weather["tmin"], weather["tmax"], sky, usual.temperature_radiation
        ),
        step_from_rows(
            say(
                "Neither radiation nor sunshine measured, so radiation from the day's "
                "range of temperature with {k:g} °C^-0.5",
                k=k.value,
            ),
            k,
        ),
    )


def _winds(weather, usual, rows):
    """Estimates of the wind at 2 m, the surest first, each with its step."""
    mast, low = measured(10, "m"), measured(2, "m")
    yield (
        wind_at_two_metres(weather["wind"]),
        _step(say("Wind brought from {mast} to {low}", mast=mast, low=low), 47),
    )
    wind = rows["wind"]
    yield (
        np.full_like(weather["wind"], usual.wind),
        step_from_rows(
            say(
                "Wind not measured, so {wind} taken at {low}",
                wind=measured(wind.value, "m/s"),
                low=low,
            ),
            wind,
        ),
    )


def _step(says, equation):
    """A step by one of the equations of FAO-56."""
    source = say("Allen et al. 1998 (FAO-56), eq. {n}", n=equation)
    return Step(says, source, "from memory")


def _best(estimates):
    """Day by day the surest estimate, and the steps of those that were taken."""
    values, steps = zip(*estimates, strict=True)
    value, choice = first_known(*values)
    taken = [np.count_nonzero(choice == place) for place in range(len(steps))]
    return value, [
        dataclasses.replace(step, says=_counted(step.says, count, choice.size))
        for step, count in zip(steps, taken, strict=True)
        if count
    ]


def _counted(source, count, days):
    if count == days:
        return say("{source}, on every day.", source=source)
    return say(
        "{source}, on {count:,} of {days:,} days.",
        source=source,
        count=count,
        days=days,
    )
