"""What a check found: where, which value, and whether it was left out."""

import dataclasses
import datetime

import numpy as np

from sheafwright.core.weather.quality import runs


@dataclasses.dataclass(frozen=True)
class Suspect:
    """One run of days that a named check calls impossible or suspicious."""

    check: str
    variable: str
    """Our name of it; ``date`` where the calendar itself is at fault."""
    first: datetime.date
    days: int
    value: float | None
    """The value on the first day, in our unit."""
    says: str
    refused: bool
    """Impossible, so turned to missing; otherwise kept as it stands."""


def suspects(check, variable, dates, mask, says, refused=True, values=None):
    """One suspect for each run of marked days.

    Parameters
    ----------
    dates : ndarray of datetime64[D], shape (day,)
    mask : ndarray of bool, shape (day,)
    values : ndarray, shape (day,), optional
    """
    starts, lengths = runs(mask)
    return [
        Suspect(
            check=check,
            variable=variable,
            first=dates[start].astype(datetime.date),
            days=int(length),
            value=_value(values, start),
            says=says,
            refused=refused,
        )
        for start, length in zip(starts, lengths, strict=True)
    ]


def _value(values, day):
    if values is None or np.isnan(values[day]):
        return None
    return float(np.round(values[day], 3))
