"""How the heat of a rick is judged, from the tables."""

from sheafwright.core.inputs.rick import HeatStep, Probing
from sheafwright.feeds.tables import build, shipped

STEPS = ("cool", "warm", "hot", "dangerous", "fire")


def heat_steps():
    """A `HeatStep` for each of ``STEPS``."""
    table = shipped("ricks")
    return tuple(build(HeatStep, table[name], f"ricks.toml [{name}]") for name in STEPS)


def probing():
    """`Probing`."""
    return build(Probing, shipped("ricks")["probing"], "ricks.toml [probing]")
