"""How the nitrogen of ground is judged, from the tables."""

from sheafwright.core.inputs.nitrogen import IndexBands, Manure, SoundSupply
from sheafwright.feeds.tables import build, shipped

SOILS = ("light", "medium", "deep_clay", "deep_silt")
"""In the order of the tables' columns."""
RAINS = ("low", "moderate", "high")
USES = ("cut", "cut_and_grazed", "grazed")
"""Of a ley, in the order of the table's columns."""
LEYS = {
    (False, False): "short_lean",
    (False, True): "short_rich",
    (True, False): "long_lean",
    (True, True): "long_rich",
}
"""Rows of leys, by whether they lay three years or more, and rich in nitrogen."""
LEAVES = ("leaves_little", "leaves_some", "leaves_much")


def index_bands():
    """`IndexBands`."""
    return build(IndexBands, shipped("nitrogen")["bands"], "nitrogen.toml [bands]")


def sound_supply():
    """`SoundSupply` of tall straw."""
    return build(SoundSupply, shipped("nitrogen")["sound"], "nitrogen.toml [sound]")


def cattle_manure():
    """`Manure`: fresh, of cattle."""
    where = "nitrogen.toml [cattle_manure]"
    return build(Manure, shipped("nitrogen")["cattle_manure"], where)


def rain_rows():
    """Rows of the ranges of rain."""
    return shipped("nitrogen")["rain"]


def after_crop_rows(rain):
    """The row of each last crop, its index by ``SOILS``, under one of ``RAINS``."""
    return shipped("nitrogen")[f"after_crop_{rain}_rain"]


def ley_leaves_row(lasting, long, rich):
    """The row of a kind of ley: by ``USES``, a position in ``LEAVES``."""
    name = "lasting" if lasting else LEYS[long, rich]
    return shipped("nitrogen")["ley_leaves"][name]


def after_ley_rows(soil, rain):
    """The row of each of ``LEAVES`` on a soil: index by crops since ploughing."""
    if not soil.startswith("deep"):
        return shipped("nitrogen")[f"after_ley_{soil}"]
    wet = "low" if rain == "low" else "more"
    return shipped("nitrogen")[f"after_ley_deep_{wet}_rain"]


def last_crops():
    """Names of the crops that the tables know."""
    return tuple(after_crop_rows(RAINS[0]))
