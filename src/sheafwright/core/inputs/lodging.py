"""What holds a crop up and what pushes it over.

Each is a plain value from the tables; where a core function says so, an array of
possible ones.
"""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Mechanics:
    """A stand of usual density on some soil: values, or draws (draw, patch)."""

    ear_area: float
    """That one shoot shows the wind. [m²]"""
    drag: float
    """Drag coefficient. [1]"""
    centre_share: float
    """Height of a shoot's centre of gravity over the crop's. [1]"""
    frequency_height: float
    """Natural frequency times the crop's height. [Hz m]"""
    damping: float
    """Damping ratio. [1]"""
    overshoot_counts: float
    """1 where a gust's overshoot is counted, 0 where it is left out. [1]"""
    yield_stress: float
    """Of the stem's wall. [Pa]"""
    stem_diameter: float
    """Of the lowest internodes. [m]"""
    stem_wall: float
    """Thickness of their wall. [m]"""
    cone_factor: float
    """Of anchorage. [1]"""
    root_spread: float
    """Diameter of the cone of crown roots. [m]"""
    rooting_depth: float
    """Of the roots that hold the plant. [mm]"""
    shoots_per_m2: float
    """[m⁻²]"""
    mast_gust_factor: float
    """Gust over the hour's mean wind at a mast over grass. [1]"""
    turbulence: float
    """Turbulence intensity at the top of the crop. [1]"""
    peak_factor: float
    """How many standard deviations a gust stands above the mean there. [1]"""
    blending_height: float
    """Where the wind forgets what grows below. [m]"""
    wet_strength: float
    """Shear strength of full topsoil. [Pa]"""
    dry_over_wet: float
    """Shear strength of dry topsoil over that of full. [1]"""
    available_water: float
    """Of the topsoil, by volume. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Doubt:
    """How far each value is doubted: standard deviation of its logarithm. [1]"""

    ear_area: float
    drag: float
    centre_share: float
    frequency_height: float
    yield_stress: float
    stem_diameter: float
    stem_wall: float
    cone_factor: float
    root_spread: float
    rooting_depth: float
    shoots_per_m2: float
    mast_gust_factor: float
    turbulence: float
    wet_strength: float
    dry_over_wet: float


@dataclasses.dataclass(frozen=True)
class Patches:
    """How far patches of one field differ: standard deviation of the logarithm. [1]"""

    centre_share: float
    frequency_height: float
    stem_diameter: float
    root_spread: float
    wet_strength: float


@dataclasses.dataclass(frozen=True)
class HusbandryEffects:
    """How density, sowing date and nitrogen move what a stand bears."""

    usual_plants: float
    """Density for which `Mechanics` holds. [m⁻²]"""
    spread_exponent: float
    """Root spread goes by this power of the density. [1]"""
    shoots_exponent: float
    """Shoots a square metre go by this power of it. [1]"""
    stem_exponent: float
    """Stem diameter and wall go by this power of it. [1]"""
    usual_index: float
    """Soil nitrogen index for which `Mechanics` holds. [1]"""
    stem_score_per_index: float
    """Fall in the score of standing by one nitrogen index more, for stems. [1]"""
    root_score_per_index: float
    """For roots. [1]"""
    score_per_week_later: float
    """Rise in the score of standing by sowing a week later. [1]"""
    gust_per_score: float
    """Gust that one point of score stands for. [m s⁻¹]"""
    usual_failing_gust: float
    """Gust at the mast in which such crops go down. [m s⁻¹]"""
    most_weeks: float
    """Weeks from the usual sowing over which the score is taken to move. [1]"""


@dataclasses.dataclass(frozen=True)
class Husbandry:
    """How a crop is grown: values, or arrays (...) that broadcast together."""

    plants_per_m2: float
    """[m⁻²]"""
    height: float
    """Of the crop at ear emergence and after. [m]"""
    nitrogen_index: float
    """Soil nitrogen supply index. [0–6]"""
    weeks_later: float
    """Sown after the usual day; less than 0 before it. [weeks]"""


@dataclasses.dataclass(frozen=True)
class StandingPrior:
    """What is believed of a holding's fields before any lodging was written down."""

    usual_factor: float
    """Failing gusts over those of the mechanics alone. [1]"""
    factor_sd: float
    """Standard deviation of its logarithm. [1]"""
    share_error: float
    """Standard deviation of a share seen about the one worked out, angular. [rad]"""
