"""What weeds and clover ask of the grower, as plain values."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Spell:
    """Days of a year between which a job is done."""

    first: tuple[int, int]
    """Month and day."""
    last: tuple[int, int]


@dataclasses.dataclass(frozen=True)
class Clover:
    """Clover undersown in the crop."""

    clear: float
    """That it should stay below the cut. [cm]"""
    more_watch: float
    """That a rick of green butts is probed longer. [d]"""
