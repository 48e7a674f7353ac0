"""What the comb and the drum can be worked with."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class CombDay:
    """Weather that straw can be combed in."""

    humidity: tuple[float, float]
    """Of the air in the hours of work, least and most. [0–1]"""
    most_rain: float
    """[mm d⁻¹]"""
    least_warmth: float
    """Highest temperature of the day, at least. [°C]"""
    days_a_week: float
    """On which it is worked. [d]"""


@dataclasses.dataclass(frozen=True)
class CombStraw:
    """Straw that is worth combing, and a rick that may be opened."""

    least_length: float
    """Of the standing crop's straw above the stubble. [m]"""
    ear: float
    """[m]"""
    most_lodged: float
    """Share of the crop that lay. [0–1]"""
    sweat_days: float
    """Since its last load. [d]"""
    vermin_days: float
    """That a loss to rats or mice is held against it. [d]"""


@dataclasses.dataclass(frozen=True)
class DrumDay:
    """A day at drum and comb."""

    crew: tuple[float, float]
    """Fewest and most. [1]"""
    reed_a_day: tuple[float, float]
    """[t]"""
    most_a_day: float
    """Nobody threshes more sheaves in a day. [kg]"""


@dataclasses.dataclass(frozen=True)
class Control:
    """When own runs set their limits."""

    least_runs: int
    """Before the run that is judged. [1]"""
    most_runs: int
    """The last that count. [1]"""
    least_reach: float
    """Of a limit from the middle: weights are known no closer. [1]"""
    new_after: int
    """Runs outside one after another that are taken for the new way. [1]"""
