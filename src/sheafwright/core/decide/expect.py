"""What the stooks may be expected to bring home, from what is known at cutting.

A straight line in what is known, fitted to every dry day of the record's harvests.
Sums are kept by year, so that a year can be left out by taking its sums away.
"""

import dataclasses

import numpy as np


@dataclasses.dataclass(frozen=True)
class YearlySums:
    """Normal equations of each year."""

    years: np.ndarray
    """(year,)"""
    products: np.ndarray
    """Sums of products of the features: (year, feature, feature)."""
    moments: np.ndarray
    """Sums of features times share: (year, feature)."""


def yearly_sums(known, share, year, counted):
    """`YearlySums` over the days counted.

    Parameters
    ----------
    known : array_like, shape (day, feature)
        What is known on each day.
    share : array_like, shape (day,)
        What stooks cut that day then brought home. [1]
    year : array_like of int, shape (day,)
    counted : array_like of bool, shape (day,)
        Days on which could be cut, with every number known.
    """
    years = np.unique(year)
    rows = [np.flatnonzero(counted & (year == each)) for each in years]
    return YearlySums(
        years=years,
        products=np.stack([known[day].T @ known[day] for day in rows]),
        moments=np.stack([known[day].T @ share[day] for day in rows]),
    )


def line(sums, kept, ridge):
    """Coefficients fitted to the years kept, (feature,).

    Parameters
    ----------
    sums : YearlySums
    kept : array_like of bool, shape (year,)
        Years to learn from.
    ridge : float
        Pull of every coefficient towards nothing, in days of record. [d]
    """
    products = sums.products[kept].sum(axis=0)
    moments = sums.moments[kept].sum(axis=0)
    return np.linalg.solve(products + ridge * np.eye(len(moments)), moments)
