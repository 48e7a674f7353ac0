"""The station is not the field: what a grower's own readings say of the difference.

Three differences are taken as constant and learned by Bayes from the days on which
field and station were both read: the ratio of their rain, on the log scale, and the
offsets of their lowest and highest temperatures.

References
----------
.. [1] The normal mean with known spread and a normal prior: a standard result, for
   instance A. Gelman et al., Bayesian Data Analysis, section 2.5 (from memory).
"""

from typing import NamedTuple

import numpy as np


class Belief(NamedTuple):
    """A normal belief about one constant of the place, each of shape (...)."""

    mean: np.ndarray
    sd: np.ndarray


class Days(NamedTuple):
    """Daily weather at one place, each of shape (..., day); NaN where not read."""

    rain: np.ndarray
    """[mm d⁻¹]"""
    tmin: np.ndarray
    """[°C]"""
    tmax: np.ndarray
    """[°C]"""


class Place(NamedTuple):
    """What is believed of a field against its station."""

    log_rain_ratio: Belief
    """Logarithm of field over station. [1]"""
    tmin_offset: Belief
    """Field less station. [°C]"""
    tmax_offset: Belief
    """Field less station. [°C]"""


class PlaceDraws(NamedTuple):
    """Possible differences of a field from its station, each of shape (..., draw)."""

    rain_ratio: np.ndarray
    """[1]"""
    tmin_offset: np.ndarray
    """[°C]"""
    tmax_offset: np.ndarray
    """[°C]"""


def posterior_of_mean(mean_reading, n_readings, prior_sd, reading_sd):
    """Belief about a mean, with a prior mean of zero, after some readings.

    Parameters
    ----------
    mean_reading : array_like, shape (...)
        NaN where nothing was read: the prior then stands.
    n_readings : array_like, shape (...)
        How many readings are in it. [1]
    prior_sd, reading_sd : float
        Of the mean before any reading, and of one reading about the mean, both in
        the unit of the readings.
    """
    known = np.isfinite(mean_reading)
    weight = np.where(known, n_readings, 0) / reading_sd**2
    precision = weight + 1 / prior_sd**2
    mean = np.where(known, mean_reading, 0.0) * weight / precision
    return Belief(mean, 1 / np.sqrt(precision))


def log_rain_ratio(field_rain, station_rain):
    """Logarithm of field over station for all that fell on days read at both. [1]

    Totals, since the mean of daily ratios leaves out the days dry at either place,
    and is thrown by a gauge that is read at another hour. NaN where either is none.

    Parameters
    ----------
    field_rain, station_rain : array_like, shape (..., day)
        NaN where not read. [mm d⁻¹]
    """
    either_missing = np.isnan(np.add(field_rain, station_rain))
    field, station = (
        np.where(either_missing, 0.0, rain).sum(axis=-1)
        for rain in (field_rain, station_rain)
    )
    fell = (field > 0) & (station > 0)
    field, station = (np.where(fell, total, np.nan) for total in (field, station))
    return np.log(field) - np.log(station)


def wet_days_read(field_rain, station_rain, wet_from):
    """Number of days read at both and wet at the station. [1]

    Parameters
    ----------
    field_rain, station_rain : array_like, shape (..., day)
        NaN where not read. [mm d⁻¹]
    wet_from : float
        Least rain of a wet day. [mm]
    """
    wet = np.greater_equal(station_rain, wet_from)
    return (wet & np.isfinite(field_rain)).sum(axis=-1)


def mean_offset(field, station):
    """Mean of field less station over the days read at both, and their number.

    Parameters
    ----------
    field, station : array_like, shape (..., day)
        NaN where not read. [°C]
    """
    offsets = np.subtract(field, station)
    n_days = np.isfinite(offsets).sum(axis=-1)
    return np.nansum(offsets, axis=-1) / np.where(n_days, n_days, np.nan), n_days


def learn_place(field, station, prior):
    """What the days read at both places say of the field against the station.

    Parameters
    ----------
    field, station : Days
        The same days at both, day by day.
    prior : PlacePrior
    """
    ratio = log_rain_ratio(field.rain, station.rain)
    n_wet = wet_days_read(field.rain, station.rain, prior.wet_from_mm)
    colder = mean_offset(field.tmin, station.tmin)
    warmer = mean_offset(field.tmax, station.tmax)
    return Place(
        posterior_of_mean(ratio, n_wet, prior.rain_log_ratio_sd, prior.rain_wet_day_sd),
        posterior_of_mean(*colder, prior.tmin_offset_sd_c, prior.tmin_day_sd_c),
        posterior_of_mean(*warmer, prior.tmax_offset_sd_c, prior.tmax_day_sd_c),
    )


def draw_place(place, n_draws, rng):
    """Possible differences, as wide as the belief: a `PlaceDraws` of ``n_draws``."""
    log_ratio, tmin_offset, tmax_offset = (_draws(b, n_draws, rng) for b in place)
    return PlaceDraws(np.exp(log_ratio), tmin_offset, tmax_offset)


def _draws(belief, n_draws, rng):
    mean, sd = (np.asarray(each)[..., np.newaxis] for each in belief)
    return mean + sd * rng.standard_normal((*np.shape(belief.mean), n_draws))


def correct(station, draws):
    """The field's weather from the station's, for each possible difference.

    Parameters
    ----------
    station : Days, shape (day,) or (..., draw, day)
        As recorded, or possible summers drawn from the record.
    draws : PlaceDraws, shape (..., draw)

    Returns
    -------
    Days, shape (..., draw, day)
    """
    ratio, colder, warmer = (np.asarray(each)[..., np.newaxis] for each in draws)
    tmin, tmax = station.tmin + colder, station.tmax + warmer
    # Two offsets drawn apart may cross on a dull day, whose range is small.
    return Days(station.rain * ratio, np.minimum(tmin, tmax), np.maximum(tmin, tmax))
