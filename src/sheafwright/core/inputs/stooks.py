"""What water lies on a stook, and how far a moisture meter is believed.

How grain and straw dry is a `Drying` each, see `losses`.
"""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Dew:
    """When dew falls, and how much of a day's drying it takes."""

    dewy_humidity: float
    """A night at least this damp leaves dew. [0–1]"""
    dew_mm: float
    """Water that a night's dew leaves on the sheaves. [mm]"""


@dataclasses.dataclass(frozen=True)
class Meter:
    """How far the drying rate is doubted, and how far a reading of moisture."""

    rate_cv: float
    """Standard deviation of the rate over its mean, before any reading. [1]"""
    reading_error: float
    """Standard deviation of a reading about the stooks' moisture, wet basis. [1]"""
