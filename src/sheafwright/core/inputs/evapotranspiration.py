"""What stands in for radiation, humidity and wind that a station doesn't measure."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Substitutes:
    """Parameters of the FAO-56 substitutes."""

    angstrom_a: float
    """Share of radiation that comes through on an overcast day. [1]"""
    angstrom_b: float
    """Share that full sunshine adds. [1]"""
    temperature_radiation: float
    """k_Rs of radiation from the range of temperature. [°C^-0.5]"""
    dewpoint_below_tmin: float
    """How far the dewpoint lies below the night's lowest temperature. [°C]"""
    wind: float
    """Mean wind at 2 m where none is measured. [m s⁻¹]"""
