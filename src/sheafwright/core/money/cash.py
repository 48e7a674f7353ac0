"""When money goes and comes: by the month, and what it costs to wait for it."""

import numpy as np


def by_month(amounts, first, last, n_months):
    """Each amount spread evenly over its months, (line, month). [£]

    Parameters
    ----------
    amounts : array_like, shape (line,)
        [£]
    first, last : array_like, shape (line,)
        First and last month of each, counted from 0. [month]
    n_months : int
        More than any ``last``.
    """
    amounts, first, last = (
        np.asarray(x)[:, np.newaxis] for x in (amounts, first, last)
    )
    months = np.arange(n_months)
    paid = (first <= months) & (months <= last)
    return np.where(paid, amounts / (last - first + 1), 0.0)


def interest(amounts, months, rate):
    """What amounts cost, or bring, over the months until they are settled. [£]

    Parameters
    ----------
    amounts : array_like
        [£]
    months : array_like
        [month]
    rate : array_like
        Yearly. [0–1]
    """
    return np.multiply(amounts, (1.0 + rate) ** np.divide(months, 12.0) - 1)


def break_even(costs, other_income, tonnes):
    """Price of the one product at which nothing is left and nothing lacking. [£ t⁻¹]

    Parameters
    ----------
    costs : array_like
        All of them, interest included. [£]
    other_income : array_like
        From everything else. [£]
    tonnes : array_like
        Of the product. [t]
    """
    return np.subtract(costs, other_income) / tonnes
