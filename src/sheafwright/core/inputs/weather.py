"""What a day's weather can be, and what a record must hold to be good enough."""

import dataclasses

Limits = tuple[float, float]
"""Lowest and highest."""


@dataclasses.dataclass(frozen=True)
class Ranges:
    """Lowest and highest value that each variable can have."""

    tmin: Limits
    """[°C]"""
    tmax: Limits
    """[°C]"""
    tmean: Limits
    """[°C]"""
    rain: Limits
    """[mm d⁻¹]"""
    wind: Limits
    """[m s⁻¹]"""
    gust: Limits
    """[m s⁻¹]"""
    sunshine: Limits
    """[h]"""
    radiation: Limits
    """[MJ m⁻² d⁻¹]"""
    humidity: Limits
    """[0–1]"""
    humidity_min: Limits
    """[0–1]"""
    humidity_max: Limits
    """[0–1]"""
    pressure: Limits
    """[hPa]"""
    dewpoint: Limits
    """[°C]"""
    soil_temperature: Limits
    """[°C]"""
    pe: Limits
    """Evapotranspiration as the service publishes it. [mm d⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Doubts:
    """From where on a value, or a whole column, is doubted."""

    whole_column: float
    """Share of impossible days from which the column is the wrong one. [1]"""
    fahrenheit_median: float
    """A median temperature above it is in degrees Fahrenheit. [°C]"""
    fewest_dry_days: float
    """Share of days without rain, below which it isn't rain. [1]"""
    stuck_days: int
    """Days alike from which an instrument is taken as stuck. [d]"""
    jump_air: float
    """Change of air temperature from day to day. [°C]"""
    jump_soil: float
    """Change of soil temperature from day to day. [°C]"""
    jump_pressure: float
    """Change of pressure from day to day. [hPa]"""
    month_value: float
    """Robust standard deviations of a day from the usual of its month. [1]"""
    month_rain: float
    """Robust standard deviations of a month's rain from its own median. [1]"""
    month_years: int
    """Fewest years that say what a month is like. [1]"""
    rainless_months: float
    """A month is seldom rainless if a smaller share of its years are. [1]"""
    year_rain: Limits
    """Mean rain of a year. [mm a⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Enough:
    """How much of a record is needed for what."""

    bridged_days: int
    """Longest gap that is bridged. [d]"""
    seasons_for_odds: int
    """Whole seasons from which odds can be counted. [1]"""
    seasons_for_futures: int
    """Whole seasons from which possible summers can be drawn. [1]"""
    share_present: float
    """Share of days that must be measured. [1]"""


@dataclasses.dataclass(frozen=True)
class WeatherChecks:
    """The whole table by which a record is judged."""

    range: Ranges
    doubt: Doubts
    enough: Enough
