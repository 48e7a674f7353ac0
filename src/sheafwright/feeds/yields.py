"""What a crop's weight depends on, from the tables."""

from sheafwright.core.inputs import yields
from sheafwright.feeds.tables import build_shipped, shipped

PARTS = {
    "nitrogen": yields.NitrogenResponse,
    "years": yields.YearSpread,
    "stand": yields.StandResponse,
    "level": yields.LevelPrior,
    "cutting": yields.Cutting,
}
RESPONSE_WHEAT = "old_tall"
"""The height class that the response to nitrogen was seen on."""
HEIGHT_CLASSES = (RESPONSE_WHEAT, "tall", "middling", "short")


def part(name):
    """The core's parameters of one of ``PARTS``."""
    return build_shipped(PARTS[name], "yields", name)


def height_class(name):
    """`HeightClass` of one of ``HEIGHT_CLASSES``."""
    return build_shipped(yields.HeightClass, "yields", name)


def part_rows(name):
    """Rows of a section."""
    return shipped("yields")[name]
