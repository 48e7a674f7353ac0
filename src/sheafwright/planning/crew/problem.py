"""What there is to do on the next half-days, with whom and with what."""

import dataclasses
from typing import NamedTuple

from sheafwright.feeds.crew_day import BINDING, CARTING, STOOKING

BOTHER_GBP = 15.0
"""What it costs to tell a person or a binder's driver otherwise. [GBP]"""


class HalfDay(NamedTuple):
    """A morning or an afternoon."""

    name: str
    cutting_hours: float
    """Fit for the binder. [h]"""
    carting_hours: float
    """Fit to carry. [h]"""
    hand_hours: float
    """That a hand works. [h]"""

    @property
    def tasks(self):
        """What it is fit for."""
        cutting = (BINDING, STOOKING) if self.cutting_hours else ()
        return (*cutting, CARTING) if self.carting_hours else cutting


class Person(NamedTuple):
    """Somebody who may come."""

    name: str
    may: frozenset[str]
    """Tasks."""
    away: frozenset[str] = frozenset()
    """Half-days."""


class Binder(NamedTuple):
    """A binder, and where it stands before the first half-day."""

    name: str
    farm: str
    broken: frozenset[str] = frozenset()
    """Half-days."""


class Job(NamedTuple):
    """A field to cut or its stooks to cart."""

    field: str
    farm: str
    task: str
    """`BINDING`, with stooking behind it, or `CARTING`."""
    area: float
    """[ha]"""
    gain: float | tuple[float, ...]
    """Of doing it now over leaving it for later, or so by half-day; where nothing is
    won it isn't done. [GBP ha⁻¹]"""

    def gains(self, half_days):
        """`gain` by half-day. [GBP ha⁻¹]"""
        if isinstance(self.gain, tuple):
            return self.gain
        return (self.gain,) * len(half_days)


@dataclasses.dataclass(frozen=True)
class Rates:
    """How fast it goes."""

    binder: float
    """[ha h⁻¹]"""
    binder_hands: int
    stooking: float
    """Hours of hands. [h ha⁻¹]"""
    carting: float
    """Hours of hands. [h ha⁻¹]"""
    carting_hands: int
    """That make a crew, at the least."""
    carts: int
    """Farms that can cart at once."""
    move: float
    """Of a binder, to another farm. [h]"""


@dataclasses.dataclass(frozen=True)
class Problem:
    """All of it."""

    half_days: tuple[HalfDay, ...]
    people: tuple[Person, ...]
    binders: tuple[Binder, ...]
    jobs: tuple[Job, ...]
    rates: Rates


class Duty(NamedTuple):
    """What a person does in a half-day."""

    task: str
    farm: str


@dataclasses.dataclass(frozen=True)
class Plan:
    """Who does what, and what gets done."""

    duties: dict[tuple[str, str], Duty]
    """By half-day and person; those with none are free."""
    binders: dict[tuple[str, str], str]
    """Farm, by half-day and binder; one that does not go out is not named."""
    done: dict[tuple[str, str, str], float]
    """By half-day, field and task. [ha]"""
    worth: float
    """[GBP]"""
    bound: float
    """No plan is worth more. [GBP]"""
    half_days: frozenset[str] | None = None
    """That were planned, with nothing to do on some perhaps; None for all of them."""

    def has_planned(self, half_day):
        """Whether a half-day was planned, were it for nothing."""
        return self.half_days is None or half_day in self.half_days


class Change(NamedTuple):
    """What is other than it was planned."""

    half_day: str
    about: tuple[str, ...]
    """A binder, a person, or a field and a task."""
    was: Duty | str | float | None
    """Their farm, their duty, or hectares done; None for nothing."""
    now: Duty | str | float | None


def changes(before, after):
    """Every `Change` from one plan to another: binders, people, then fields.

    Parameters
    ----------
    before, after : Plan
    """
    for part in ("binders", "duties", "done"):
        old, new = getattr(before, part), getattr(after, part)
        for key in sorted(old.keys() | new.keys()):
            was, now = old.get(key), new.get(key)
            if was != now:
                yield Change(key[0], key[1:], was, now)
