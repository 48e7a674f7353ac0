"""What a crop is sold as."""

from typing import NamedTuple

import numpy as np


class Products(NamedTuple):
    """By area. [t ha⁻¹]"""

    reed: np.ndarray
    spoilt: np.ndarray
    """Straw that was combed or would have been, and is sold for less."""
    grain: np.ndarray


def products(crop, reed_share, grain_share, kept):
    """`Products` of a crop.

    Parameters
    ----------
    crop : array_like
        Sheaves. [t ha⁻¹]
    reed_share, grain_share : array_like
        Of them, at the drum. [0–1]
    kept : array_like
        Of the reed, that comes through the weather as reed. [0–1]
    """
    combed = np.multiply(crop, reed_share)
    return Products(combed * kept, combed * np.subtract(1, kept), crop * grain_share)


def margin(tonnes, price, other_income, costs):
    """What another use of the field leaves. [£ ha⁻¹]

    Parameters
    ----------
    tonnes : array_like
        [t ha⁻¹]
    price : array_like
        [£ t⁻¹]
    other_income, costs : array_like
        [£ ha⁻¹]
    """
    return np.multiply(tonnes, price) + other_income - costs
