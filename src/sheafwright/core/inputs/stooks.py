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


@dataclasses.dataclass(frozen=True)
class AfterRain:
    """When stooks want a hand after rain."""

    looks_back: int
    """Days whose rain counts. [d]"""
    set_up: float
    """From so much rain on, what has fallen is set up again. [mm]"""
    open_up: float
    """From so much on, stooks are opened and turned. [mm]"""
    move: int
    """Days in one place after which wet stooks are moved. [d]"""
    sprouts: float
    """Grain as damp as this may sprout. [0–1]"""
    dry_chance: float
    """They are opened on a day with no more chance of rain than this. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Order:
    """By what carting is ordered."""

    way: float
    """From field to rick, where nobody said. [km]"""
    risk_days: int
    """Days after, which tell what waiting risks. [d]"""
