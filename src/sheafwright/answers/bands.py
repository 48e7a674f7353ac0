"""How what may be is told: by what 10, 50 and 90 % of draws do not pass."""

from sheafwright.core.chance.quantiles import weighted_quantiles

BAND = (0.1, 0.5, 0.9)
BAND_NAMES = ("p10", "p50", "p90")


def banded(values):
    """10, 50 and 90 % of draws, by name."""
    quantiles = weighted_quantiles(values, BAND)
    return {
        name: round(float(value), 4)
        for name, value in zip(BAND_NAMES, quantiles, strict=True)
    }


def dates_to_json(dates):
    """10, 50 and 90 % dates by name; None for never."""
    return {
        name: date and date.isoformat()
        for name, date in zip(BAND_NAMES, dates, strict=True)
    }
