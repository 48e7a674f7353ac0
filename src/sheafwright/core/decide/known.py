"""What is known on a day that tells how stooks cut on it will fare.

The day's own weather, a fading memory of the days before it, and what the forecast
issued on it expects; nothing of any later day.
"""

import dataclasses

import numpy as np

from sheafwright.core.chance.foretelling import issue

USUAL_PRESSURE = 1013.0
"""Where pressure is not on record it says nothing. [hPa]"""
SINGLE_LEADS = 5
"""Leads that count for themselves; later ones are summed. [d]"""
NOTHING = 1e-20
"""A share too small to alter a sum. [1]"""


@dataclasses.dataclass(frozen=True)
class Memory:
    """How fast the days before fade from the state of the weather."""

    rain: float
    """Share of the memory of rain that is today's. [1]"""
    pressure: float
    """As much for pressure. [1]"""
    warmth: float
    """As much for the day's highest temperature. [1]"""


@dataclasses.dataclass(frozen=True)
class Sky:
    """A record's days as the state of the weather sees them, each (day,)."""

    season: np.ndarray
    """Day of the year about the middle of harvest, in months. [1]"""
    rain: np.ndarray
    """Logarithm of 1 mm and the rain. [1]"""
    pressure: np.ndarray
    """Above the usual. [10 hPa]"""
    warmth: np.ndarray
    """Highest temperature. [10 °C]"""
    evapotranspiration: np.ndarray
    """[mm d⁻¹]"""


def sky(day_of_year, rain, tmax, evapotranspiration, pressure=None):
    """`Sky` of a record.

    Parameters
    ----------
    day_of_year, rain, tmax, evapotranspiration : array_like, shape (day,)
        In the record's units. [1–366, mm d⁻¹, °C, mm d⁻¹]
    pressure : array_like, shape (day,), optional
        [hPa]
    """
    high = np.zeros(np.shape(rain))
    if pressure is not None:
        high = np.nan_to_num((np.asarray(pressure) - USUAL_PRESSURE) / 10)
    return Sky(
        season=(np.asarray(day_of_year) - 220) / 30,
        rain=np.log1p(rain),
        pressure=high,
        warmth=np.asarray(tmax) / 10,
        evapotranspiration=np.asarray(evapotranspiration),
    )


def fading(values, share, start):
    """Memory of values, today's share and the rest from before: (..., day).

    Parameters
    ----------
    values : array_like, shape (..., day)
    share : float
        Today's share. [0–1]
    start : array_like, shape (...)
        The memory before the first day.
    """
    memory = share * np.asarray(values, dtype=float)
    memory[..., 0] += (1 - share) * np.asarray(start)
    days, faded = 1, 1 - share
    while days < memory.shape[-1] and faded > NOTHING:
        # Each pass remembers twice as many days.
        memory[..., days:] += faded * memory[..., :-days]
        days, faded = 2 * days, faded**2
    return memory


def memories(sky, memory):
    """Memory of rain, pressure and warmth on each day of a record: (day, 3).

    Missing days are taken as the days before them had been.

    Parameters
    ----------
    sky : Sky
    memory : Memory
    """
    pairs = (
        (sky.rain, memory.rain),
        (sky.pressure, memory.pressure),
        (sky.warmth, memory.warmth),
    )
    columns = [np.nan_to_num(v, nan=np.nanmean(v[:365])) for v, _ in pairs]
    kept = [
        fading(column, share, column[0])
        for column, (_, share) in zip(columns, pairs, strict=True)
    ]
    return np.stack(kept, axis=-1)


def likeness(sky, memories):
    """State by which days are called alike, (day, variable), about 1 apart. [1]

    Parameters
    ----------
    sky : Sky
    memories : array_like, shape (day, 3)
        From `memories`.
    """
    rising = np.diff(sky.pressure, prepend=sky.pressure[:1])
    columns = (
        sky.rain / 0.9,
        memories[:, 0] / 0.4,
        sky.pressure / 0.86,
        rising / 1.0,
        sky.evapotranspiration / 1.6,
    )
    return np.stack(columns, axis=-1)


def known_on_record(sky, memories):
    """What is known on each day of a record, forecasts apart: (day, feature).

    Parameters
    ----------
    sky : Sky
    memories : array_like, shape (day, 3)
        From `memories`.
    """
    rising = np.diff(sky.pressure, prepend=sky.pressure[:1])
    return _features(sky.season, sky.rain, sky.pressure, rising, memories)


def known_on_paths(sky, memories, memory, paths):
    """What is known on each day of possible summers, forecasts apart.

    Shape (draw, day, feature); the paths' first day is the last one known.

    Parameters
    ----------
    sky : Sky
    memories : array_like, shape (record day, 3)
        From `memories`.
    memory : Memory
    paths : array_like of int, shape (draw, 1 + day)
        Positions in the record.
    """
    first, later = paths[:, 0], paths[:, 1:]
    pressure = sky.pressure[paths]
    kept = [
        fading(each[later], share, memories[first, place])
        for place, (each, share) in enumerate(
            (
                (sky.rain, memory.rain),
                (sky.pressure, memory.pressure),
                (sky.warmth, memory.warmth),
            )
        )
    ]
    return _features(
        sky.season[later],
        sky.rain[later],
        pressure[:, 1:],
        np.diff(pressure, axis=-1),
        np.stack(kept, axis=-1),
    )


def foretold(signal, correlation):
    """What a forecast adds to what is known, (..., feature).

    Parameters
    ----------
    signal : array_like, shape (..., lead)
        Signals issued that day. [1]
    correlation : array_like, shape (lead,)
        Skill by lead. [0–1]
    """
    expected = np.asarray(signal) * correlation
    near, far = expected[..., :SINGLE_LEADS], expected[..., SINGLE_LEADS:]
    wet = np.maximum(expected, 0).sum(axis=-1)
    sums = [far[..., :2].sum(axis=-1), far[..., 2:].sum(axis=-1), wet]
    return np.concatenate([near, np.stack(sums, axis=-1)], axis=-1)


def foretold_on_paths(wetness, paths, correlation, rng):
    """What forecasts will add on each day of possible summers, (draw, day, feature).

    A summer that may come will have its forecasts too, as good and as bad as real
    ones; a value of waiting that forgot them would be too low. The last days, whose
    forecasts would reach past the path, are NaN.

    Parameters
    ----------
    wetness : array_like, shape (record day,)
        [1]
    paths : array_like of int, shape (draw, 1 + day)
        Positions in the record.
    correlation : array_like, shape (lead,)
        Skill by lead. [0–1]
    rng : numpy.random.Generator
    """
    signals = issue(np.asarray(wetness)[paths[:, 1:]], correlation, rng)
    return foretold(signals, correlation)


def _features(season, rain, pressure, rising, memories):
    columns = (np.ones_like(rain), season, rain, pressure, rising)
    return np.concatenate([np.stack(columns, axis=-1), memories], axis=-1)
