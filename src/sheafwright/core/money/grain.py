"""What grain brings by what is found in it, and what it brings milled."""

import numpy as np


def deduction(found, full, pounds_per_unit):
    """What a buyer takes off for what falls short of full quality. [£ t⁻¹]

    Parameters
    ----------
    found, full : array_like
        In the unit of the test; more than full earns nothing.
    pounds_per_unit : array_like
        [£ t⁻¹ per unit]
    """
    return np.maximum(np.subtract(full, found), 0) * pounds_per_unit


def flour(grain, extraction, lost):
    """Flour and offal of clean grain. [t]

    Parameters
    ----------
    grain : array_like
        [t]
    extraction : array_like
        Flour, of what leaves the stones. [0–1]
    lost : array_like
        Of the grain, at the stones. [0–1]
    """
    ground = np.multiply(grain, np.subtract(1, lost))
    return np.multiply(ground, extraction), ground * np.subtract(1, extraction)


def grain_for(flour_wanted, extraction, lost):
    """Clean grain that so much flour takes. [t]

    Parameters
    ----------
    flour_wanted : array_like
        [t]
    extraction, lost : array_like
        As in `flour`. [0–1]
    """
    return np.divide(flour_wanted, np.multiply(extraction, np.subtract(1, lost)))
