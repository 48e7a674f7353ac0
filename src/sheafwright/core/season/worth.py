"""Worth of a cutting day: how ripe the crop was, times what the stooks brought home."""

import numpy as np


def days_over(ripeness, full_to, before=-1):
    """Days after the day that passed full ripeness, 0 up to it, (..., day). [d]

    Parameters
    ----------
    ripeness : array_like, shape (..., day)
        Thermal time since flowering over that to hard dough. [1]
    full_to : float
        Ripeness up to which the crop keeps its full worth. [1]
    before : int or array_like, shape (...)
        Days over on the day before the first; -1 where it was not yet passed. [d]
    """
    passed = np.cumsum(np.asarray(ripeness) >= full_to, axis=-1)
    return np.maximum(passed + np.expand_dims(before, -1), 0)


def ripeness_worth(ripeness, over, table):
    """Share of a perfect crop that ripeness at cutting leaves, same shape. [1]

    Parameters
    ----------
    ripeness : array_like, shape (..., day)
        [1]
    over : array_like, shape (..., day)
        From `days_over`. [d]
    table : Ripeness
    """
    ripeness, over = np.asarray(ripeness), np.asarray(over)
    short = np.maximum(table.full_from - ripeness, 0)
    late = table.over_ripe_loss * over + table.over_ripe_loss_squared * over**2
    return 1 - table.under_ripe_loss * short - late


def cutting_worth(ripeness_worth, stook_share, stook):
    """Worth of cutting, as a share of a perfect crop, same shape. [0–1]

    Parameters
    ----------
    ripeness_worth, stook_share : array_like
        From `ripeness_worth` and `stooks`. [1]
    stook : StookLosses
    """
    return np.maximum(np.multiply(ripeness_worth, stook_share), stook.floor)


def can_cut(ripeness, rain, table):
    """Whether the crop can be cut at all on a day, same shape as ripeness.

    Parameters
    ----------
    ripeness : array_like
        [1]
    rain : array_like
        Rain of that day. [mm d⁻¹]
    table : Ripeness
    """
    ripe = np.asarray(ripeness) >= table.fit_from
    return ripe & (np.asarray(rain) < table.cutting_rain)
