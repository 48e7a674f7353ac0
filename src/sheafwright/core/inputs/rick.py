"""How the heat of a rick is judged."""

import dataclasses
import math


@dataclasses.dataclass(frozen=True)
class HeatStep:
    """One step of danger."""

    from_temperature: float = -math.inf
    """It begins here. [°C]"""
    check_hours: float = math.nan
    """Probed again within; NaN where nobody should be near. [h]"""


@dataclasses.dataclass(frozen=True)
class Probing:
    """How long a rick is watched, and which readings count."""

    settling_days: int
    """From building; the danger is greatest then. [d]"""
    settled_check_hours: float
    """A cool rick that has settled is probed again within. [h]"""
    counts_hours: float
    """Readings so long before the last one count, for the hottest and the rise. [h]"""
    rise_least_hours: float
    """Readings closer together than this tell no rise. [h]"""
