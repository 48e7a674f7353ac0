"""What ripeness, rain on the stooks and waiting cost, and how stooks dry."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Ripeness:
    """Worth against ripeness at cutting.

    Ripeness is thermal time since flowering over thermal time from flowering to
    hard dough: 1 at Zadoks GS87.
    """

    fit_from: float
    """Below this ripeness it can't be cut. [1]"""
    full_from: float
    """Full worth from here. [1]"""
    full_to: float
    """Full worth to here; days are counted after the day that passes it. [1]"""
    under_ripe_loss: float = 3.0
    """Share lost per unit of ripeness short of ``full_from``. [1]"""
    over_ripe_loss: float = 0.012
    """Share lost per day past ``full_to``. [d⁻¹]"""
    over_ripe_loss_squared: float = 0.0015
    """Share lost per squared day past ``full_to``. [d⁻²]"""
    cutting_rain: float = 0.5
    """A day with at least this rain can't be cut on. [mm]"""


@dataclasses.dataclass(frozen=True)
class StookLosses:
    """What weather and time take in the stook, as shares of a perfect crop."""

    rain_loss_mm: tuple[float, ...]
    """A day with at least this rain ... [mm]"""
    rain_loss_share: tuple[float, ...]
    """... loses this share. [1]"""
    free_days: int
    """Days in the stook before time itself costs. [d]"""
    late_loss_share: float
    """Share lost by each further day. [d⁻¹]"""
    floor: float
    """Carted straw is never worth less. [1]"""
    never_carted: float
    """Worth of stooks never fit to carry within ``longest_days``. [1]"""
    never_cut: float
    """Worth of a crop left standing. [1]"""
    longest_days: int = 45
    """Stooks not carried by then are given up. [d]"""


@dataclasses.dataclass(frozen=True)
class Drying:
    """Grain in the ear, drying in the stook."""

    at_cutting: float
    """Moisture at cutting, wet basis. [1]"""
    equilibrium: float
    """Moisture it dries towards, wet basis. [1]"""
    rate_per_dry_day: float
    """Drying rate at 2.5 mm of reference evapotranspiration. [d⁻¹]"""
    wet_day_gain_dry_basis: float
    """Moisture gained on a wet day, dry basis. [1]"""
    fit_to_carry: float
    """Moisture at or below which it may be carried, wet basis. [1]"""
    wet_day_mm: float = 1.0
    """A day with at least this rain is wet: no drying. [mm]"""
    soaking_mm: float = 5.0
    """After a day with at least this rain the rate is halved. [mm]"""
    carrying_rain_mm: float = 0.3
    """Carried only on a day with less rain than this ... [mm]"""
    carrying_rain_before_mm: float = 2.0
    """... and less than this the day before. [mm]"""
    reference_evapotranspiration: float = 2.5
    """Evapotranspiration at which ``rate_per_dry_day`` holds. [mm d⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Losses:
    """The whole table by which a cutting day is valued."""

    ripeness: Ripeness
    stook: StookLosses
    drying: Drying
