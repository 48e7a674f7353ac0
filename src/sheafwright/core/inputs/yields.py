"""What a crop's weight depends on, as plain values."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class NitrogenResponse:
    """Straw and grain of old tall wheats by the nitrogen that they were given."""

    most: float
    """Straw and grain together, however much is given; median year. [t ha⁻¹]"""
    half_at: float
    """Given where they reach half of that. [kg ha⁻¹]"""
    width: float
    """Of the rise around it. [kg ha⁻¹]"""
    grain_per_straw: float
    """Where none is given; median year. [1]"""
    grain_per_straw_change: float
    """Of its logarithm, by each kilogram. [ha kg⁻¹]"""
    ground_supply: float
    """What that ground supplied by itself. [kg ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class YearSpread:
    """Standard deviations of logarithms, from year to year and from plot to plot."""

    dry_matter_years: float
    dry_matter_plots: float
    grain_per_straw_years: float
    grain_per_straw_plots: float


@dataclasses.dataclass(frozen=True)
class StandResponse:
    """How few plants cost some of the crop."""

    days_after_september: tuple[float, ...]
    """Sown so many days after 30 September. [d]"""
    half_full: tuple[float, ...]
    """Plants with which such a crop gives half of a full one. [m⁻²]"""
    half_full_sd: float
    """Of its logarithm. [1]"""


@dataclasses.dataclass(frozen=True)
class LevelPrior:
    """How a holding's crops stand beside those of the response, before its own."""

    times: float
    """Multiplies straw and grain; median. [1]"""
    sd: float
    """Of its logarithm. [1]"""
    correlation: float
    """Between straw's level and grain's. [1]"""


@dataclasses.dataclass(frozen=True)
class Cutting:
    """How the binder leaves the straw."""

    stubble: float
    """[cm]"""
    butt_weight: float
    """Weight of a length of stubble beside the same of the whole straw. [1]"""


@dataclasses.dataclass(frozen=True)
class HeightClass:
    """Wheats of one height."""

    harvest_index: float
    """Grain over grain and straw. [0–1]"""
    height: float
    """With its ear. [cm]"""
