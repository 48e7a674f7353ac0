"""How many sheaves make a stook and how long it stands, from the tables."""

import dataclasses

from sheafwright.feeds.tables import build_shipped


@dataclasses.dataclass(frozen=True)
class StookBuilding:
    """What custom has it; each from the least to the most."""

    quick: tuple[int, int]
    """Sheaves, to dry fast. [1]"""
    custom: tuple[int, int]
    """Sheaves that somebody somewhere sets together. [1]"""
    weeks: tuple[int, int]
    """That it stands. [wk]"""


def stook_building():
    """`StookBuilding` of the package."""
    return build_shipped(StookBuilding, "stook_building", "stook")
