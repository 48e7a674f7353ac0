"""How much seed makes a stand: seeds, plants, and kilograms to the hectare.

Germination is the share of the seed that is alive, as a tray says; establishment is
the share of the live seed that makes a plant in the field. A published establishment
that counts plants from all seed sown is the product of both.
"""

import numpy as np


def seeds_for(plants, germination, establishment):
    """Seeds that leave a stand of plants. [m⁻²]

    Parameters
    ----------
    plants : array_like
        Wanted. [m⁻²]
    germination, establishment : array_like
        Of all seed; of live seed. [0–1]
    """
    return np.asarray(plants, dtype=float) / (germination * np.asarray(establishment))


def plants_from(seeds, germination, establishment):
    """Stand of plants that seeds leave: `seeds_for` the other way. [m⁻²]

    Parameters
    ----------
    seeds : array_like
        Sown. [m⁻²]
    germination, establishment : array_like
        Of all seed; of live seed. [0–1]
    """
    return np.asarray(seeds, dtype=float) * germination * np.asarray(establishment)


def rate_of(seeds, thousand_grain_weight):
    """Mass of seed on an area. [kg ha⁻¹]

    Parameters
    ----------
    seeds : array_like
        [m⁻²]
    thousand_grain_weight : array_like
        [g]

    Notes
    -----
    A gram a thousand is a milligram a seed; a milligram a square metre is a hundredth
    of a kilogram a hectare.
    """
    return np.asarray(seeds, dtype=float) * thousand_grain_weight / 100


def seeds_of(rate, thousand_grain_weight):
    """Seeds on an area: `rate_of` the other way. [m⁻²]

    Parameters
    ----------
    rate : array_like
        [kg ha⁻¹]
    thousand_grain_weight : array_like
        [g]
    """
    return 100 * np.asarray(rate, dtype=float) / thousand_grain_weight


def seeds_in_row(seeds, row_spacing):
    """Seeds along a row. [m⁻¹]

    Parameters
    ----------
    seeds : array_like
        [m⁻²]
    row_spacing : array_like
        [m]
    """
    return np.asarray(seeds, dtype=float) * row_spacing


def seed_needed(rate, area, spare):
    """Mass of seed to have ready. [kg]

    Parameters
    ----------
    rate : array_like
        [kg ha⁻¹]
    area : array_like
        [ha]
    spare : array_like
        Over what is drilled. [1]
    """
    return np.asarray(rate, dtype=float) * area * (1 + np.asarray(spare))


def grain_to_keep_back(seed, cleaning_loss, reserve):
    """Grain off the drum that leaves seed for next year. [kg]

    Parameters
    ----------
    seed : array_like
        That next year needs. [kg]
    cleaning_loss : array_like
        Share of the grain that cleaning takes out. [0–1]
    reserve : array_like
        Over the need. [1]
    """
    kept = np.asarray(seed, dtype=float) * (1 + np.asarray(reserve))
    return kept / (1 - np.asarray(cleaning_loss))


def sacks_for(seed, sack):
    """Whole sacks that hold a mass. [1]

    Parameters
    ----------
    seed : array_like
        [kg]
    sack : array_like
        Mass that one holds. [kg]
    """
    # A product of decimals may come out a hair above a whole number of sacks.
    return np.ceil(np.round(np.asarray(seed, dtype=float) / sack, 9))
