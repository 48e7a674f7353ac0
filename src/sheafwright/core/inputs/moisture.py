"""Constants of the equilibrium-moisture curves, as (a, b, c) of their form.

They take moisture in per cent of dry matter; which form a field belongs to is the
first word of its name.
"""

import dataclasses


@dataclasses.dataclass(frozen=True)
class GrainCurves:
    """Published curves for wheat grain; their spread is the doubt in any of them."""

    henderson_soft: tuple[float, float, float]
    henderson_hard: tuple[float, float, float]
    henderson_hard_red: tuple[float, float, float]
    henderson_durum: tuple[float, float, float]
    chung_pfost_wheat: tuple[float, float, float]
    chung_pfost_soft: tuple[float, float, float]
    chung_pfost_hard: tuple[float, float, float]
    chung_pfost_durum: tuple[float, float, float]
    oswin_hard_red: tuple[float, float, float]


@dataclasses.dataclass(frozen=True)
class StrawCurves:
    """Two stand-ins that hold wheat straw between them below a humidity of 0.88."""

    oswin_low: tuple[float, float, float]
    oswin_high: tuple[float, float, float]
