"""Nitrogen that ground supplies a crop, by the field assessment method.

Tables give an index by soil, rain and what grew before; this is how it is read.
"""

from typing import NamedTuple

import numpy as np


class Supply(NamedTuple):
    """Between what and what the supply lies. [kg ha⁻¹]"""

    low: float
    high: float


def rain_range(rain, up_to):
    """Position of a year's rain among the ranges, from the driest, 0, on.

    Parameters
    ----------
    rain : array_like
        Of a usual year. [mm]
    up_to : array_like, shape (range - 1,)
        Most rain of each range but the wettest, itself included. [mm]
    """
    return np.searchsorted(up_to, rain, side="left")


def ley_index(by_year, years_since):
    """Index that a ploughed ley leaves; NaN once the table has run out.

    Parameters
    ----------
    by_year : array_like, shape (year,)
        Index of the first, second, … crop after ploughing.
    years_since : array_like
        1 for the first crop after ploughing. [a]
    """
    years_since = np.asarray(years_since)
    lasting = np.concatenate([np.asarray(by_year, dtype=float), [np.nan]])
    return lasting[np.minimum(years_since, len(lasting)) - 1]


def higher_index(last_crop, ley):
    """The higher index of the two; where one is NaN, the other.

    Parameters
    ----------
    last_crop, ley : array_like
        Index that each leaves.
    """
    return np.fmax(last_crop, ley)


def supply_of(index, bands):
    """`Supply` that an index stands for.

    Parameters
    ----------
    index : array_like of int
    bands : IndexBands
    """
    ends = np.array([bands.least, *bands.up_to, bands.most])
    return Supply(ends[index], ends[np.asarray(index) + 1])


def index_of(supply, bands):
    """Index that a measured supply falls in.

    Parameters
    ----------
    supply : array_like
        [kg ha⁻¹]
    bands : IndexBands
    """
    return np.searchsorted(bands.up_to, supply, side="left")


def manure_nitrogen(rate, manure):
    """Nitrogen that a dressing of manure gives this year's crop. [kg ha⁻¹]

    Parameters
    ----------
    rate : array_like
        Spread since the last harvest. [t ha⁻¹]
    manure : Manure
    """
    return np.asarray(rate) * manure.nitrogen_kg_per_t * manure.available


def beside_sound(supply, sound):
    """-1 for ground that is too poor for tall straw, 1 for too rich, else 0.

    Ground is too rich as soon as its supply may pass the highest: what lodges is lost,
    and what is thin can still be bundled.

    Parameters
    ----------
    supply : Supply
    sound : SoundSupply
    """
    too_rich = np.asarray(supply.high) > sound.highest
    too_poor = np.asarray(supply.high) <= sound.lowest
    return too_rich.astype(int) - too_poor
