"""Rates at which harvest work goes."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Binder:
    """A binder at work."""

    width: float
    """Of its cut. [m]"""
    speed: float
    """[km h⁻¹]"""
    efficiency: float
    """Field efficiency: what turns, stops and overlap leave. [0–1]"""
    hands: int
    """That ride and drive. [1]"""


@dataclasses.dataclass(frozen=True)
class Day:
    """A harvest day."""

    fit_hours: float
    """Hours in which sheaves are dry enough to cut or to carry. [h]"""
    fit_hours_after_rain: float
    """The same of a day that follows a wet one. [h]"""
    wet_from: float
    """Rain that calls a day wet. [mm d⁻¹]"""
    hand_hours: float
    """Hours that a hand works. [h]"""


@dataclasses.dataclass(frozen=True)
class HalfDay:
    """A morning or an afternoon of harvest."""

    morning_fit: float
    """Hours fit to cut or to carry. [h]"""
    afternoon_fit: float
    """Hours fit to cut or to carry. [h]"""
    after_shower: float
    """Share of them left in the afternoon, after a shower in the morning. [1]"""
    move: float
    """Of a binder to another farm. [h]"""
    least_chance: float
    """Of its being dry, or of stooks being fit, from which it is planned on. [1]"""
    delay: float
    """What each half-day's delay is taken to cost. [GBP ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Stooking:
    """Setting sheaves up."""

    area_a_day: tuple[float, float]
    """That one hand sets up: at the least, at the most. [ha d⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Carting:
    """Pitching, loading, drawing home and stacking."""

    pitchers: int
    """In the field. [1]"""
    at_rick: int
    """That pitch off the cart. [1]"""
    loaders: tuple[int, int]
    """At the least, at the most. [1]"""
    stackers: tuple[int, int]
    """At the least, at the most. [1]"""
    sheaves_an_hour: float
    """That one hand pitches. [h⁻¹]"""
    speed: float
    """On the road, loaded or empty. [km h⁻¹]"""
    roping: float
    """Of each trip, with gates. [h]"""


@dataclasses.dataclass(frozen=True)
class Cart:
    """What is loaded."""

    length: float
    """[m]"""
    width: float
    """[m]"""
    height: float
    """Of the load. [m]"""
    carts: int
    """That go round. [1]"""


@dataclasses.dataclass(frozen=True)
class Twine:
    """Tying."""

    diameter: float
    """Of a sheaf at its band. [m]"""
    spare: float
    """For the knot and its ends. [m]"""
    mis_ties: float
    """Sheaves that come untied. [in 100]"""
    tying: float
    """Of one sheaf by hand. [min]"""


@dataclasses.dataclass(frozen=True)
class HoursPerHectare:
    """Of hands, fewest and most, for what no machine's pace tells."""

    sowing: tuple[float, float]
    """Ground made ready, drilled and rolled. [h ha⁻¹]"""
    weeding: tuple[float, float]
    """[h ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class TaskDays:
    """Month and day of the first and of the last day of each task."""

    sowing: tuple[int, int, int, int]
    weeding: tuple[int, int, int, int]
    cutting: tuple[int, int, int, int]
    carting: tuple[int, int, int, int]
    threshing: tuple[int, int, int, int]
