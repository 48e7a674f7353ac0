"""Days on which straw can be combed, and when so many of them have come."""

import numpy as np


def daytime_temperature(tmin, tmax):
    """Temperature of the hours of work: half-way from the mean to the highest. [°C]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        [°C]

    References
    ----------
    .. [1] J. Goudriaan and H. H. van Laar, Modelling Potential Crop Growth Processes,
       1994: the daytime temperature of crop models.
    """
    return 0.25 * np.asarray(tmin, dtype=float) + 0.75 * np.asarray(tmax, dtype=float)


def hindrances(humidity, rain, tmax, limits):
    """What keeps the comb idle, day by day: (hindrance, ..., day); NaN where unknown.

    Too damp, too dry, rain, frost, in this order; 1 where it is so, else 0.

    Parameters
    ----------
    humidity : array_like, shape (..., day)
        In the hours of work. [0–1]
    rain : array_like, shape (..., day)
        [mm d⁻¹]
    tmax : array_like, shape (..., day)
        [°C]
    limits : sheafwright.core.inputs.threshing.CombDay
    """
    driest, dampest = limits.humidity
    humidity, rain, tmax = (np.asarray(x, dtype=float) for x in (humidity, rain, tmax))
    pairs = (
        (humidity > dampest, humidity),
        (humidity < driest, humidity),
        (rain > limits.most_rain, rain),
        (tmax < limits.least_warmth, tmax),
    )
    return np.stack([np.where(np.isnan(seen), np.nan, so) for so, seen in pairs])


def fit(hindered):
    """Whether nothing hinders on a day, (..., day); NaN where something is unknown.

    Parameters
    ----------
    hindered : array_like, shape (hindrance, ..., day)
        As `hindrances` gives them.
    """
    # A day that one thing spoils is spoiled whatever the rest, known or not.
    worst = np.fmax.reduce(hindered, axis=0)
    unknown = np.isnan(hindered).any(axis=0) & (worst != 1)
    return np.where(unknown, np.nan, 1 - worst)


def done_after(fit_days, needed):
    """Days until so many fit ones have come; NaN if they never do, (..., need). [d]

    Parameters
    ----------
    fit_days : array_like, shape (..., day)
        Share of each day that may be worked. [0–1]
    needed : array_like, shape (need,)
        Days of work. [d]
    """
    come = np.cumsum(fit_days, axis=-1)[..., np.newaxis, :]
    # A little less will do: a sum of shares of days is never quite whole.
    enough = come >= np.asarray(needed, dtype=float)[:, np.newaxis] - 1e-9
    return np.where(enough.any(axis=-1), enough.argmax(axis=-1) + 1.0, np.nan)
