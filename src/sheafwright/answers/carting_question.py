"""What is asked of carting: the stooks, the ricks, the hands and the carts."""

import dataclasses
import datetime

from sheafwright.answers.limits import SHEAVES
from sheafwright.answers.work_day import LIMITS
from sheafwright.core.errors import OutOfRange


@dataclasses.dataclass(frozen=True)
class StookSet:
    """One field's stooks of one day, as `answers.stooks` tells of them."""

    name: str
    """Of its field, and what else tells it from others."""
    sheaves: int
    cut: datetime.date
    fit: tuple[float, ...]
    """Chance that they are fit on each day from the question's on. [0–1]"""
    fit_by: tuple[float, ...]
    """That they have been fit on some day from then to each. [0–1]"""
    rain_ahead: tuple[float, ...]
    """Chance of rain on each of those days. [0–1]"""
    rain: tuple[float, ...] = ()
    """As it fell on each day up to the question's, the last one last. [mm]"""
    grain: float | None = None
    """Moisture now, wet basis; None where nothing tells. [0–1]"""
    distance: float | None = None
    """To the rick. [km]"""

    def __post_init__(self):
        SHEAVES.check(self.sheaves)
        if self.distance is not None:
            LIMITS["distance"].check(self.distance)
        if not len(self.fit) == len(self.fit_by) == len(self.rain_ahead) > 0:
            raise OutOfRange(
                "{name} has chances of {fit}, {fit_by} and {rain} days; they should be "
                "of the same days, one at least.",
                name=self.name,
                fit=len(self.fit),
                fit_by=len(self.fit_by),
                rain=len(self.rain_ahead),
            )


@dataclasses.dataclass(frozen=True)
class Store:
    """A rick, or a bay of a barn."""

    name: str
    low: int | None
    """Sheaves that surely still go on; None where nobody said what it holds."""
    high: int | None
    """That may."""
    hot: bool = False
    """Whether the fire service is rung before anyone climbs on it."""


@dataclasses.dataclass(frozen=True)
class CartingQuestion:
    """Everything that stands in the stook."""

    as_of: datetime.date
    sets: tuple[StookSet, ...]
    stores: tuple[Store, ...] = ()
    hands: int | None = None
    """That come; a whole crew if not given."""
    carts: int | None = None
    """As the table has it if not given."""

    def __post_init__(self):
        for name in ("hands", "carts"):
            if getattr(self, name) is not None:
                LIMITS[name].check(getattr(self, name))
        names = [each.name for each in self.sets]
        if len(set(names)) < len(names):
            raise OutOfRange(
                "Two sets of stooks are called {name}; each should have its own name.",
                name=next(each for each in names if names.count(each) > 1),
            )
