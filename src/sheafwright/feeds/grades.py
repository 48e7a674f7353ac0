"""What straw must be for a use, from the tables."""

import dataclasses
from functools import cache

from sheafwright.core.inputs.grading import GradeRule, Looking, StemCount
from sheafwright.feeds.tables import build_shipped, shipped

USES = ("coatwork", "ridge", "long_straw")
"""Best first."""
SIGNS = ("twist", "colour", "smell", "stems")
"""Of a handful; each a section of the table."""


@dataclasses.dataclass(frozen=True)
class Bundles:
    """What the trade ties."""

    nitch: float
    """[kg]"""
    small: float
    """[kg]"""
    truss: float
    """[kg]"""
    moisture: float
    """At which weights are told, wet basis. [0–1]"""


@dataclasses.dataclass(frozen=True)
class History:
    """From how many crops anything is told."""

    fewest: int
    each: int
    """Crops for each cause, if several are weighed at once."""
    confidence: float
    """[0–1]"""
    fields: int
    """That tell how much fields differ."""


def grade_rule(use):
    """The package's own `GradeRule` of a use."""
    return build_shipped(GradeRule, "grades", use)


def rule_rows(use):
    """Rows of a rule by name."""
    return shipped("grades")[use]


def stem_count():
    """`StemCount` of the package."""
    return build_shipped(StemCount, "grades", "count")


def looking():
    """`Looking` of the package."""
    return build_shipped(Looking, "grades", "looking")


def bundles():
    """`Bundles` of the package."""
    return build_shipped(Bundles, "grades", "bundles")


def history():
    """`History` of the package."""
    return build_shipped(History, "grades", "history")


def grade_row(section, name):
    """One row of the table."""
    return shipped("grades")[section][name]


@cache
def levels(sign):
    """What may be said of a sign of a handful."""
    return tuple(shipped("grades")[sign])


def leaves_fit(sign, level):
    """The row of uses that a level of a sign leaves a handful fit for."""
    return shipped("grades")[sign][level]
