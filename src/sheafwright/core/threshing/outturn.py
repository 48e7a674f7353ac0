"""Outturn: what shares of the sheaves came out as what, and which are unusual."""

import numpy as np


def outturn_shares(products, sheaves):
    """Share of the sheaves' mass that each product is. [1]

    Parameters
    ----------
    products : array_like, shape (..., product)
        [kg]
    sheaves : array_like, shape (...)
        Mass that went into the drum; none of it leaves the shares unknown. [kg]
    """
    sheaves = np.asarray(sheaves, dtype=float)[..., np.newaxis]
    return np.asarray(products) / np.where(sheaves > 0, sheaves, np.nan)


def outside(shares, lowest, highest):
    """-1 where a share is below its usual range, 1 above, else 0. [1]

    Parameters
    ----------
    shares : array_like, shape (..., product)
        Not known is not unusual. [1]
    lowest, highest : array_like, shape (product,)
        Usual range, its ends included. [1]
    """
    shares = np.asarray(shares, dtype=float)
    return (shares > highest).astype(int) - (shares < lowest)
