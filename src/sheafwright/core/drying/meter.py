"""The drying rate of these stooks, learned from a moisture meter.

Every rate that may be is followed from cutting through the days' weather; those that
come near the readings are believed, in proportion to their chance (Bayes on a grid).
Before any reading the rate is log-normal about the table's.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.weights import from_logs
from sheafwright.core.drying.sheaf import moisture_by_day

REACH = 5.0
"""Rates followed lie within so many standard deviations of the logarithm."""
N_RATES = 1001
"""Rates followed: one in three hundred apart at the usual doubt."""


class Rate(NamedTuple):
    """What is believed of the rate per dry day. [d⁻¹]"""

    mean: float
    sd: float
    """Standard deviation."""


def possible_rates(mean, cv):
    """Rates that may be, and the chance of each before any reading, both (rate,).

    Parameters
    ----------
    mean : float
        Mean of the log-normal. [d⁻¹]
    cv : float
        Its standard deviation over its mean. [1]
    """
    z = np.linspace(-REACH, REACH, N_RATES)
    return rates_at(Rate(mean, cv * mean), z), from_logs(-(z**2) / 2)


def rates_at(rate, z):
    """Rates that lie so many standard deviations out, of the logarithm. [d⁻¹]

    Parameters
    ----------
    rate : Rate
        What is believed, log-normal.
    z : array_like
        Normal scores, broadcast against it. [1]
    """
    variance = np.log1p(np.divide(rate.sd, rate.mean) ** 2)
    return rate.mean * np.exp(z * np.sqrt(variance) - variance / 2)


def believed(rates, chance, predicted, readings, error):
    """The `Rate` believed once the readings are known.

    Parameters
    ----------
    rates, chance : array_like, shape (rate,)
        From `possible_rates`. [d⁻¹], [1]
    predicted : array_like, shape (rate, day)
        Moisture that each rate leads to, wet basis. [0–1]
    readings : array_like, shape (day,)
        Moisture read, wet basis; NaN on days without a reading. [0–1]
    error : float
        Standard deviation of a reading. [1]
    """
    missed = np.where(np.isnan(readings), 0.0, (predicted - readings) / error)
    log_weight = np.log(chance) - 0.5 * np.sum(missed**2, axis=-1)
    weight = from_logs(log_weight)
    mean = np.average(rates, weights=weight)
    return Rate(mean, np.sqrt(np.average((rates - mean) ** 2, weights=weight)))


def rate_from_readings(weather, equilibrium, readings, drying, dew, meter):
    """The `Rate` of stooks since cutting, to put in place of ``rate_per_dry_day``.

    A reading on the day of cutting says nothing of the rate: it belongs in the place of
    ``drying.at_cutting``. A reading after a day without weather leaves the rate NaN.

    Parameters
    ----------
    weather : tuple of array_like, each of shape (day,)
        Rain [mm d⁻¹], evapotranspiration [mm d⁻¹] and dew (from `sheaf.dew_falls`);
        the first day is that of cutting.
    equilibrium : array_like, shape (day,)
        Of each day's air, wet basis. [0–1]
    readings : array_like, shape (day,)
        Moisture read, wet basis; NaN on days without a reading. [0–1]
    drying : Drying
        Of what was read: the grain or the straw.
    dew : Dew
    meter : Meter
    """
    rates, chance = possible_rates(drying.rate_per_dry_day, meter.rate_cv)
    each = dataclasses.replace(drying, rate_per_dry_day=rates[:, np.newaxis])
    predicted = moisture_by_day(*weather, equilibrium, each, dew)
    return believed(rates, chance, predicted, readings, meter.reading_error)
