"""Money in whole pence, which always adds up.

What is paid or shared out is counted in pence, as whole numbers. What may only be
expected is reckoned in floating pounds elsewhere, and said to be so.
"""

import math
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from fractions import Fraction

from sheafwright.core.errors import OutOfRange

PENNY = Decimal("0.01")


def pence_of(pounds):
    """Whole pence of an amount of pounds, half a penny rounded up. [p]

    Parameters
    ----------
    pounds : decimal.Decimal, int, float or str
        A float is taken as it is written: 0.1 is ten pence. [£]
    """
    try:
        return int(_exact(pounds).quantize(PENNY, ROUND_HALF_UP).scaleb(2))
    except (InvalidOperation, ValueError):
        # No number at all, or one of more than 28 figures.
        raise OutOfRange(
            "£{pounds} is no amount of money; it should be a number of pounds and "
            "pence.",
            pounds=str(pounds)[:40],
        ) from None


def pounds_of(pence):
    """Pounds of whole pence, with two decimals. [£]"""
    return Decimal(pence).scaleb(-2)


def allocate(pence, weights):
    """An amount shared out by weights, so that the parts add up to it. [p]

    Each part is its exact share rounded down or up; the odd pence go to those who lost
    most by rounding down, and among equals to the first.

    Parameters
    ----------
    pence : int
        May be less than nothing. [p]
    weights : list of decimal.Decimal, int, float or str
        None below 0, and not all 0.
    """
    shares = [Fraction(_exact(weight)) for weight in weights]
    whole = sum(shares)
    if not whole or min(shares) < 0:
        raise OutOfRange(
            "Money can't be shared out by these weights; none should be below 0, and "
            "one at least above it."
        )
    exact = [pence * share / whole for share in shares]
    parts = [math.floor(each) for each in exact]
    lost = sorted(range(len(parts)), key=lambda n: parts[n] - exact[n])
    for n in lost[: pence - sum(parts)]:
        parts[n] += 1
    return parts


def _exact(number):
    return number if isinstance(number, Decimal) else Decimal(str(number))
