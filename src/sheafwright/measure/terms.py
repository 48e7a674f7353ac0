"""What the words mean that are told of a stem."""

import dataclasses
from functools import cache

from sheafwright.feeds.tables import build_shipped, shipped


@dataclasses.dataclass(frozen=True)
class Terms:
    """The rows of the table."""

    sharp_deg: float
    """A sharper bend at a node is a dog-leg."""
    end_at_mm: float
    """From an end, where its diameter is told."""
    green_hue_deg: float
    crushed_share: float
    mould_dark_share: float
    least_stem_mm: float


@cache
def terms():
    """`Terms` of the package."""
    return build_shipped(Terms, "straw", "straw")


def term_row(name):
    """One row, for a working."""
    return shipped("straw")["straw"][name]
