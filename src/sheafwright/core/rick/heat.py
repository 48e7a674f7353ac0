"""A rick's heat, from probe readings: how dangerous, how fast, and when to look again.

Hours run from any moment; readings are those of one rick, the last one last.
"""

import numpy as np

from sheafwright.core.constants import HOURS_PER_DAY


def step_reached(temperature, starts):
    """Step of danger that a temperature has reached, 0 for none. [1]

    Parameters
    ----------
    temperature : array_like
        [°C]
    starts : array_like, shape (step,)
        Temperatures at which a step begins, rising. [°C]
    """
    return np.searchsorted(starts, temperature, side="right")


def hottest_lately(hours, temperature, window):
    """Hottest of the last readings, wherever the probe stood. [°C]

    Parameters
    ----------
    hours, temperature : array_like, shape (reading,)
        [h], [°C]
    window : float
        Readings so long before the last one count. [h]
    """
    hours = np.asarray(hours, dtype=float)
    return np.max(np.asarray(temperature)[hours >= hours[-1] - window])


def rise_per_day(hours, temperature, window, least):
    """Rise of the last readings, by least squares; NaN if too close in time. [°C d⁻¹]

    Parameters
    ----------
    hours, temperature : array_like, shape (reading,)
        [h], [°C]
    window : float
        Readings so long before the last one count. [h]
    least : float
        Readings closer together than this tell nothing. [h]
    """
    hours, temperature = np.asarray(hours, float), np.asarray(temperature, float)
    lately = hours >= hours[-1] - window
    x, y = hours[lately], temperature[lately]
    if np.ptp(x) < least:
        return np.nan
    x = x - x.mean()
    return HOURS_PER_DAY * (x @ (y - y.mean())) / (x @ x)


def hours_until(temperature, target, rise):
    """Time until a temperature is reached at this rise; endless if it falls. [h]

    Parameters
    ----------
    temperature, target : float
        [°C]
    rise : float
        NaN if not known. [°C d⁻¹]
    """
    return HOURS_PER_DAY * (target - temperature) / rise if rise > 0 else np.inf


def hours_to_check(temperature, rise, starts, check_hours):
    """Time until the rick must be probed again. [h]

    That of its step, or sooner if the next step would be reached first; never sooner
    than the shortest there is, since the thermometer needs time to settle too.

    Parameters
    ----------
    temperature : float
        Hottest lately. [°C]
    rise : float
        NaN if not known. [°C d⁻¹]
    starts : array_like, shape (step,)
        Temperatures at which a step begins, rising. [°C]
    check_hours : array_like, shape (step + 1,)
        Of each step from none up; NaN in the last, where nobody should be near. [h]
    """
    step = step_reached(temperature, starts)
    if step == len(starts):
        return np.nan
    next_step = hours_until(temperature, starts[step], rise)
    return min(check_hours[step], max(next_step, np.nanmin(check_hours)))
