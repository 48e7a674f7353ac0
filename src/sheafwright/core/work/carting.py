"""Loads, and the hours in which carts bring them home."""

import numpy as np


def loads(sheaves, a_load):
    """Loads that sheaves make, the last one perhaps part of one. [1]

    Parameters
    ----------
    sheaves, a_load : array_like
        [1]
    """
    return np.ceil(np.divide(sheaves, a_load))


def pitching_hours(sheaves, pitchers, sheaves_an_hour):
    """Time in which pitchers move sheaves. [h]

    Parameters
    ----------
    sheaves : array_like
        [1]
    pitchers : array_like
        [1]
    sheaves_an_hour : array_like
        That one pitches. [h⁻¹]
    """
    return np.divide(sheaves, np.multiply(pitchers, sheaves_an_hour))


def trip_hours(distance, speed, roping):
    """Time on the road, there and back, the load roped and gates opened. [h]

    Parameters
    ----------
    distance : array_like
        From field to rick. [km]
    speed : array_like
        [km h⁻¹]
    roping : array_like
        Of each trip. [h]
    """
    return 2 * np.divide(distance, speed) + roping


def carting_hours(loads, loading, unloading, trip, carts):
    """Time until every load is home and the last cart back, carts taking turns. [h]

    One cart is loaded at a time, and one unloaded. A round of all carts takes as long
    as one cart's own round, or as they all take at the slower of the two ends.

    Parameters
    ----------
    loads : array_like
        At least one. [1]
    loading, unloading : array_like
        Of one load. [h]
    trip : array_like
        There and back. [h]
    carts : array_like
        [1]
    """
    slower = np.maximum(loading, unloading)
    own_round = np.add(loading, unloading) + trip
    rounds, rest = np.divmod(np.subtract(loads, 1), carts)
    return rounds * np.maximum(own_round, carts * slower) + rest * slower + own_round
