"""What sheaves are taken to weigh until they are weighed."""

import dataclasses

from sheafwright.feeds.tables import build, shipped


@dataclasses.dataclass(frozen=True)
class Sheaves:
    """The guess that stands in for a weight."""

    kg_per_sheaf: float
    """A sheaf from the binder. [kg]"""
    sheaves_per_stook: float
    """Sheaves set up together. [1]"""
    crop_kg_per_ha: float
    """Straw and ears of a crop cut whole. [kg/ha]"""


def sheaves():
    """`Sheaves` of the package."""
    return build(Sheaves, shipped("sheaves")["sheaves"], "sheaves.toml [sheaves]")
