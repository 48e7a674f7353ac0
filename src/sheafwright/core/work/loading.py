"""Bundles on a deck, and the shortest way round the drops."""

import itertools

import numpy as np


def room(length, width, height, filled):
    """Volume of bundles that a deck holds. [m³]

    Parameters
    ----------
    length, width : array_like
        Of the deck. [m]
    height : array_like
        Above it. [m]
    filled : array_like
        Share that round bundles fill. [0–1]
    """
    return np.multiply(length, width) * height * filled


def bundles_aboard(room, payload, density, bundle):
    """Whole bundles that one load carries, by room and by weight. [1]

    Parameters
    ----------
    room : array_like
        [m³]
    payload : array_like
        [kg]
    density : array_like
        Of a bundle. [kg m⁻³]
    bundle : array_like
        [kg]
    """
    by_room = np.multiply(room, density) / bundle
    by_weight = np.divide(payload, bundle)
    # What comes out whole but for rounding is whole.
    return np.floor(np.minimum(by_room, by_weight) + 1e-9)


def shared_out(wanted, aboard):
    """Bundles of each drop on each load, the loads filled one after another.

    Parameters
    ----------
    wanted : array_like of int, shape (drop,)
        [1]
    aboard : int
        That one load carries. [1]

    Returns
    -------
    ndarray of int, shape (load, drop)
    """
    ends = np.cumsum(wanted)
    loads = int(np.ceil(ends[-1] / aboard)) if len(ends) else 0
    edges = aboard * np.arange(loads + 1)[:, np.newaxis]
    gone = np.clip(edges - (ends - wanted), 0, wanted)
    return np.diff(gone, axis=0).astype(int)


def shortest_round(places):
    """Order of the drops that makes the shortest way round, from the origin and back.

    Every order is tried: for a day's few drops. Straight lines stand for roads.

    Parameters
    ----------
    places : array_like, shape (drop, 2)
        East and north of the origin. [km]

    Returns
    -------
    tuple of int
        Of the two ways round, the one that comes first to the drop listed first.
    """
    places = np.asarray(places, dtype=float).reshape(-1, 2)
    orders = itertools.permutations(range(len(places)))
    return min(
        orders, key=lambda order: (round(way_round(places[list(order)]), 9), order)
    )


def way_round(places):
    """From the origin past places in their order, and back. [km]

    Parameters
    ----------
    places : array_like, shape (drop, 2)
        [km]
    """
    stops = np.vstack([np.zeros(2), np.reshape(places, (-1, 2)), np.zeros(2)])
    return float(np.hypot(*np.diff(stops, axis=0).T).sum())
