"""How numbers, dates and what may be leave Python.

What may be is told by what 10, 50 and 90 % of draws do not pass.
"""

from sheafwright.core.chance.quantiles import weighted_quantiles

BAND = (0.1, 0.5, 0.9)
BAND_NAMES = ("p10", "p50", "p90")


def short(number, decimals=4):
    """A number as it leaves Python: no longer than it need be; None for None."""
    return None if number is None else round(float(number), decimals)


def iso(date):
    """A date as it leaves Python; None for None."""
    return date and date.isoformat()


def banded(values):
    """10, 50 and 90 % of draws, by name."""
    quantiles = weighted_quantiles(values, BAND)
    return {
        name: short(value) for name, value in zip(BAND_NAMES, quantiles, strict=True)
    }


def dates_to_json(dates):
    """10, 50 and 90 % dates by name; None for never."""
    return {name: iso(date) for name, date in zip(BAND_NAMES, dates, strict=True)}
