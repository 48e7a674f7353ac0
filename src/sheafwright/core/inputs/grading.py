"""What straw must be for a use, and what looking at it costs."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class GradeRule:
    """What one use asks of its stems."""

    length_least: float
    """[mm]"""
    length_most: float
    """[mm]"""
    butt_least: float
    """Diameter of the butt. [mm]"""
    butt_most: float
    """Diameter of the butt. [mm]"""
    bends_most: float
    """Kinks in one stem. [1]"""
    damage_most: float
    """Crushed, split or broken parts of one stem. [1]"""
    first: float
    """Share of stems within the rule that makes the first grade. [0–1]"""
    second: float
    """Share of stems within the rule that makes the second grade. [0–1]"""


@dataclasses.dataclass(frozen=True)
class StemCount:
    """How stems are counted towards a grade."""

    settled: float
    """Confidence at which a grade is taken as settled. [0–1]"""
    alike: float
    """Correlation of two stems of a bundle, before any is seen: its mean. [0–1]"""
    most_bundles: int
    """Further bundles beyond which no more are asked for. [1]"""


@dataclasses.dataclass(frozen=True)
class Looking:
    """What it takes to look at stems."""

    bundle_minutes: float
    """To fetch a bundle, open it and tie it again. [min]"""
    stem_minutes: float
    """To draw a stem and lay it on the board. [min]"""
    confidence: float
    """That the share lies as near as is wanted. [0–1]"""
    within: float
    """To which the share of stems within the rule should be known. [±1]"""
    producers: float
    """Chance that a good lot is refused, at the most. [0–1]"""
    buyers: float
    """Chance that a bad lot is taken, at the most. [0–1]"""
    fewest: int
    """Stems from a bundle, at the least. [1]"""
    most: int
    """Stems from a bundle, at the most. [1]"""
