"""What the words mean that are told of a stem."""

import dataclasses
from functools import cache

from sheafwright.feeds.tables import build_shipped, shipped


@dataclasses.dataclass(frozen=True)
class Terms:
    """The rows of the table."""

    sharp_deg: float
    """A sharper bend at a node is a dog-leg."""
    bend_error_deg: float
    end_at_mm: float
    """From an end, where its diameter is told."""
    green_hue_deg: float
    crushed_share: float
    mould_dark_share: float
    least_stem_mm: float


@dataclasses.dataclass(frozen=True)
class Harm:
    """How sure what is told of harm is: errors of lengths, and shares found."""

    crushed_error_mm: float
    split_error_mm: float
    mouldy_error_mm: float
    leaf_error_mm: float
    crushed_seen: float
    split_seen: float
    mouldy_seen: float
    leaf_seen: float


@cache
def terms():
    """`Terms` of the package."""
    return build_shipped(Terms, "straw", "straw")


@cache
def harm():
    """`Harm` of the package."""
    return build_shipped(Harm, "straw", "harm")


def term_row(name, section="straw"):
    """One row, for a working."""
    return shipped("straw")[section][name]
