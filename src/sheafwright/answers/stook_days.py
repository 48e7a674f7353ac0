"""How do these stooks dry: since they were cut, and in each summer that may come?

The drying rate is learned from the grower's readings under every curve by which the
air may be judged, and each possible summer takes one of them.
"""

import dataclasses
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from sheafwright.core.drying import sheaf
from sheafwright.core.drying.meter import Rate, rate_from_readings, rates_at
from sheafwright.core.inputs.losses import Drying
from sheafwright.core.weather.place import draw_place
from sheafwright.feeds import decision, stooks


class Kind(NamedTuple):
    """Grain or straw, as the tables have it."""

    drying: Drying
    curves: tuple
    """Each a form and its constants."""


class Luck(NamedTuple):
    """What each possible summer draws besides its weather, (draw,)."""

    rate: np.ndarray
    """Normal score of the drying rate: straw dries fast where its grain does. [1]"""
    curve: Mapping[str, np.ndarray]
    """Place among its curves, of grain and of straw."""
    rain_ratio: np.ndarray
    """Of the field's rain against its station's. [1]"""


@dataclasses.dataclass(frozen=True)
class StookDays:
    """The stooks on each day from cutting on, each (draw, day)."""

    rain: np.ndarray
    """[mm d⁻¹]"""
    moisture: Mapping[str, np.ndarray]
    """Of grain and of straw, wet basis. [0–1]"""
    rate: Mapping[str, np.ndarray]
    """Of grain and of straw, (draw,). [d⁻¹]"""
    fit: np.ndarray
    """Whether they may be carried, of bool."""


def kinds():
    """A `Kind` for grain and one for straw."""
    grain = decision.losses().drying
    return {
        "grain": Kind(grain, stooks.grain_curves()),
        "straw": Kind(stooks.straw_drying(grain), stooks.straw_curves()),
    }


def draw_luck(known, n_draws, rng):
    """`Luck` of so many possible summers.

    Parameters
    ----------
    known : sheafwright.answers.known_days.KnownWeather
    n_draws : int
    rng : numpy.random.Generator
    """
    return Luck(
        rate=rng.standard_normal(n_draws),
        curve={
            name: rng.integers(len(kind.curves), size=n_draws)
            for name, kind in kinds().items()
        },
        rain_ratio=draw_place(known.doubt, n_draws, rng).rain_ratio,
    )


def stook_days(known, since, paths, readings, luck, rate_times=1.0):
    """`StookDays` of a field.

    Parameters
    ----------
    known : sheafwright.answers.known_days.KnownWeather
    since : int
        Days from cutting to the last day known. [d]
    paths : array_like of int, shape (draw, 1 + day)
        Record positions from that day on.
    readings : mapping
        Of grain and of straw, from cutting to that day, wet basis; NaN where nothing
        was read: (1 + since,). [0–1]
    luck : Luck
    rate_times : float
        The table's drying rates are taken so many times as fast. [1]
    """
    past = np.arange(known.today - since, known.today + 1)
    so_far = np.broadcast_to(past, (len(paths), len(past)))
    days = np.concatenate([so_far, paths[:, 1:]], axis=-1)
    dew, dewy = stooks.dew(), dew_lies(known)
    record = known.weather.rain, known.weather.evapotranspiration, dewy
    rain, *drying_power = (each[days] for each in record)
    # What has fallen was measured; the station's doubt is of what is to come.
    rain[:, len(past) :] *= luck.rain_ratio[:, np.newaxis]
    moisture, rate = {}, {}
    for name, kind in kinds().items():
        drying = _as_cut(kind.drying, readings[name], rate_times)
        air, curve = equilibria(known, kind.curves), luck.curve[name]
        so_far = [each[past] for each in record]
        believed = _believed(so_far, air[:, past], readings[name], drying)
        rate[name] = rates_at(Rate(*believed[:, curve]), luck.rate)
        each = dataclasses.replace(drying, rate_per_dry_day=rate[name][:, np.newaxis])
        settles = air[curve[:, np.newaxis], days]
        moisture[name] = sheaf.moisture_by_day(rain, *drying_power, settles, each, dew)
    return StookDays(rain, moisture, rate, _fit(moisture, rain, *drying_power))


def dew_lies(known):
    """Whether dew lies on each morning of the record, (day,). [1]"""
    weather, nothing = known.weather, np.full(known.record.days, np.nan)
    humidity = nothing if weather.humidity is None else weather.humidity
    dewpoint = nothing if weather.dewpoint is None else weather.dewpoint
    falls = sheaf.dew_falls(humidity, weather.tmin, dewpoint, stooks.dew())
    # Where no sign of it is measured, a damp climate's night ends at its dewpoint.
    return np.nan_to_num(falls, nan=1.0)


def equilibria(known, curves):
    """Moisture that each curve makes of each day's air, (curve, day). [0–1]"""
    weather, dampest = known.weather, stooks.dampest_air()
    air = sheaf.drying_air(
        weather.tmin, weather.tmax, weather.vapour_pressure, stooks.drying_warmth()
    )
    return np.stack(
        [
            sheaf.equilibrium(form, *air, constants, dampest)
            for form, constants in curves
        ]
    )


def _as_cut(drying, readings, rate_times):
    """`Drying` that begins where the meter found it on the day of cutting."""
    first = drying.at_cutting if np.isnan(readings[0]) else float(readings[0])
    rate = drying.rate_per_dry_day * rate_times
    return dataclasses.replace(drying, at_cutting=first, rate_per_dry_day=rate)


def _believed(so_far, air, readings, drying):
    """Mean and standard deviation of the rate under each curve, (2, curve). [d⁻¹]"""
    told = readings, drying, stooks.dew(), stooks.meter()
    return np.transpose([rate_from_readings(so_far, each, *told) for each in air])


def _fit(moisture, rain, demand, dewy):
    """Whether the sheaves may be carried, (draw, day) of bool."""
    grain, straw = (kind.drying for kind in kinds().values())
    water = sheaf.water_lies(rain, demand, dewy, grain, stooks.dew())
    limits = grain.fit_to_carry, straw.fit_to_carry
    return sheaf.fit_to_carry(*moisture.values(), water, *limits) == 1
