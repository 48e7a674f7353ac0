"""How stooks dry and a meter is believed, from the tables."""

import dataclasses

from sheafwright.core.inputs.stooks import Dew, Meter
from sheafwright.feeds.tables import build, shipped


def straw_drying(grain):
    """`Drying` of straw: as its grain's in the same stook, but for its own rows."""
    rows = shipped("stooks")["straw"]
    own = {name: row.value for name, row in rows.items()}
    return dataclasses.replace(grain, **own)


def dew():
    """`Dew`."""
    return build(Dew, shipped("stooks")["dew"], "stooks.toml [dew]")


def meter():
    """`Meter`."""
    return build(Meter, shipped("stooks")["meter"], "stooks.toml [meter]")


def dampest_air():
    """Humidity above which the equilibrium curves do not hold. [0–1]"""
    return shipped("stooks")["air"]["dampest"].value
