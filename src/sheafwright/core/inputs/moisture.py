"""Constants of the equilibrium-moisture curves, as (a, b, c) of their form.

They take moisture in per cent of dry matter; which form a field belongs to is the
first word of its name.
"""

import dataclasses

Constants = tuple[float, float, float]


@dataclasses.dataclass(frozen=True)
class GrainCurves:
    """Published curves for wheat grain; their spread is the doubt in any of them."""

    henderson_soft: Constants
    henderson_hard: Constants
    henderson_hard_red: Constants
    henderson_durum: Constants
    chung_pfost_wheat: Constants
    chung_pfost_soft: Constants
    chung_pfost_hard: Constants
    chung_pfost_durum: Constants
    oswin_hard_red: Constants


@dataclasses.dataclass(frozen=True)
class StrawCurves:
    """Two stand-ins that hold wheat straw between them below a humidity of 0.88."""

    oswin_low: Constants
    oswin_high: Constants
