"""Twine that a binder takes, and sheaves that it leaves untied."""

import numpy as np


def sheaf_twine(diameter, spare):
    """Twine about one sheaf. [m]

    Parameters
    ----------
    diameter : array_like
        Of the sheaf at its band. [m]
    spare : array_like
        For the knot and its ends. [m]
    """
    return np.pi * np.asarray(diameter) + spare


def untied(sheaves, mis_ties):
    """Sheaves to tie by hand. [1]

    Parameters
    ----------
    sheaves : array_like
        [1]
    mis_ties : array_like
        That come untied. [in 100]
    """
    return np.multiply(sheaves, mis_ties) / 100


def tying_hours(untied, minutes):
    """Hours of hands that tying takes. [h]

    Parameters
    ----------
    untied : array_like
        Sheaves. [1]
    minutes : array_like
        Of one. [min]
    """
    return np.multiply(untied, minutes) / 60
