"""How the heat, the room and the keeping of a rick are judged, from the tables."""

from sheafwright.core.inputs.rick import (
    Building,
    Density,
    GrainLife,
    HeatStep,
    Keeping,
    Probing,
    Settling,
)
from sheafwright.feeds.tables import build, shipped

STEPS = ("cool", "warm", "hot", "dangerous", "fire")


def heat_steps():
    """A `HeatStep` for each of ``STEPS``."""
    table = shipped("ricks")
    return tuple(build(HeatStep, table[name], f"ricks.toml [{name}]") for name in STEPS)


def probing():
    """`Probing`."""
    return build(Probing, shipped("ricks")["probing"], "ricks.toml [probing]")


def density(tight):
    """`Density` of sheaves in a rick well trodden, or stacked loosely."""
    return _of_shapes(Density, "tight" if tight else "loose")


def settling():
    """`Settling`."""
    return _of_shapes(Settling, "settling")


def building():
    """`Building`."""
    return _of_shapes(Building, "building")


def grain_life():
    """`GrainLife` of wheat."""
    return build(GrainLife, shipped("storage")["wheat"], "storage.toml [wheat]")


def keeping():
    """`Keeping`."""
    return build(Keeping, shipped("storage")["keeping"], "storage.toml [keeping]")


def _of_shapes(kind, section):
    rows = shipped("rick_shapes")[section]
    return build(kind, rows, f"rick_shapes.toml [{section}]")
