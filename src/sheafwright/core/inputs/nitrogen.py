"""How the nitrogen that ground supplies is judged, as plain values."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class IndexBands:
    """The supply that each index of soil nitrogen stands for."""

    up_to: tuple[float, ...]
    """Highest supply of each index but the last, from index 0 on. [kg ha⁻¹]"""
    least: float
    """Taken as the lowest of index 0. [kg ha⁻¹]"""
    most: float
    """Taken as the highest of the last index. [kg ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Manure:
    """What a manure holds for this year's crop."""

    nitrogen_kg_per_t: float
    """All of its nitrogen, as spread. [kg t⁻¹]"""
    available: float
    """Share of that which this year's crop can take. [0–1]"""


@dataclasses.dataclass(frozen=True)
class SoundSupply:
    """Between these supplies tall straw has substance and stays sound."""

    lowest: float
    """[kg ha⁻¹]"""
    highest: float
    """[kg ha⁻¹]"""
