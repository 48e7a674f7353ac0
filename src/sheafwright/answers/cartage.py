"""What carts make of so many sheaves: loads, hands and hours."""

from typing import NamedTuple

import numpy as np

from sheafwright.core.rick.shape import sheaves_in
from sheafwright.core.work.carting import (
    carting_hours,
    loads,
    pitching_hours,
    trip_hours,
)
from sheafwright.feeds import ricks
from sheafwright.feeds.sheaves import sheaves as sheaves_taken


class Band(NamedTuple):
    """The least and the most."""

    low: float
    high: float


class Cartage(NamedTuple):
    """Carting."""

    carts: int
    a_load: Band
    """Sheaves. [1]"""
    loads: Band
    """[1]"""
    crew: Band
    """A whole one. [1]"""
    hours: Band
    """With a whole crew. [h]"""
    days: Band
    """With the hands that come. [d]"""


def cartage(sheaves, distance, cart, rates, hands=None):
    """The `Cartage` of so many sheaves.

    Parameters
    ----------
    sheaves : int
    distance : float
        From field to rick. [km]
    cart : sheafwright.core.inputs.work.Cart
    rates : sheafwright.feeds.work.WorkRates
    hands : int, optional
        That come; a whole crew, if not given.
    """
    work, sheaf = rates.carting, sheaves_taken().kg_per_sheaf
    loose, room = ricks.density(tight=False), cart.length * cart.width * cart.height
    a_load = np.floor(sheaves_in(room, [loose.lightest, loose.heaviest], sheaf))
    n_loads = loads(sheaves, a_load)
    crew = _crew(cart.carts, work)
    # A crew too small for every place takes them in turn.
    slower = max(1.0, crew[0] / (hands or crew[0]))
    trip = trip_hours(distance, work.speed, work.roping)
    asked = n_loads, sheaves / n_loads, trip, cart.carts, work
    return Cartage(
        carts=cart.carts,
        a_load=band(a_load, int),
        loads=band(n_loads, int),
        crew=band(crew, int),
        hours=band(_carted(*asked)),
        days=band(_carted(*asked, slower) / rates.day.fit_hours),
    )


def _crew(carts, work):
    """Hands at both ends, the fewest and the most; one crew goes with a single cart."""
    at_field = np.add(work.pitchers, work.loaders)
    at_rick = np.add(work.at_rick, work.stackers)
    return at_field + at_rick if carts > 1 else np.maximum(at_field, at_rick)


def _carted(n_loads, a_load, trip, carts, work, slower=1.0):
    loading, unloading = (
        slower * pitching_hours(a_load, pitchers, work.sheaves_an_hour)
        for pitchers in (work.pitchers, work.at_rick)
    )
    return carting_hours(n_loads, loading, unloading, trip, carts)


def band(ends, kind=float):
    """The `Band` of two ends in whatever order."""
    # Fuller carts make fewer loads but not always fewer hours.
    return Band(*sorted(kind(end) for end in ends))
