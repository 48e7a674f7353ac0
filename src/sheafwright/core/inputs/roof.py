"""What a roof takes, and what the trade accepts of it."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Coat:
    """Straw of one material: each pair as little, as much."""

    new_coat: tuple[float, float]
    """On bare rafters, at ``new_thickness``. [cwt square⁻¹]"""
    over_coat: tuple[float, float]
    """Upon a sound coat, at ``over_thickness``. [cwt square⁻¹]"""
    new_thickness: float
    """[m]"""
    over_thickness: float
    """[m]"""
    waste: tuple[float, float]
    """Thrown out in drawing and dressing, over what is laid. [1]"""
    bundle: float
    """[kg]"""


@dataclasses.dataclass(frozen=True)
class Ridging:
    """What a metre of ridge takes."""

    straw: tuple[float, float]
    """[cwt ft⁻¹]"""
    spars: tuple[float, float]
    """[ft⁻¹]"""
    share: tuple[float, float]
    """Of all the straw of a cottage, that its ridge usually takes. [0–1]"""
    ligger_rows: int
    """On both sides together."""
    ligger: float
    """Length of a rod. [m]"""


@dataclasses.dataclass(frozen=True)
class Fixing:
    """What holds a coat."""

    spars: tuple[float, float]
    """[square⁻¹]"""
    spars_a_gad: tuple[float, float]
    """Split from one length of hazel. [1]"""
    sway_spacing: float
    """Between courses, up the slope. [m]"""
    rafters: float
    """From middle to middle. [m]"""


@dataclasses.dataclass(frozen=True)
class Accepted:
    """What the trade accepts."""

    least_pitch: float
    """Of a main slope. [°]"""
    least_dormer_pitch: float
    """Of a small area or a dormer. [°]"""
    good_pitch: tuple[float, float]
    """That is preferred. [°]"""
    density: tuple[float, float]
    """A coat lighter or heavier can't be right. [kg m⁻³]"""
    weight: tuple[float, float]
    """Of a coat, that tables and rules name. [kg m⁻²]"""


@dataclasses.dataclass(frozen=True)
class FireRules:
    """Of one group of councils' guide to new thatch."""

    boundary: float
    """Nearer to a boundary it wants more. [m]"""
    barrier: float
    """That a barrier over the rafters should stand fire. [min]"""
    chimney: float
    """Of a chimney's top, its pot with it, above the ridge. [m]"""
