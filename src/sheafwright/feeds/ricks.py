"""How the heat, the room and the keeping of a rick are judged, from the tables."""

from sheafwright.core.inputs.rick import (
    Apart,
    Building,
    Density,
    GrainLife,
    HeatStep,
    Keeping,
    Probing,
    Settling,
)
from sheafwright.feeds.tables import build_shipped

STEPS = ("cool", "warm", "hot", "dangerous", "fire")


def heat_steps():
    """A `HeatStep` for each of ``STEPS``."""
    return tuple(build_shipped(HeatStep, "ricks", name) for name in STEPS)


def probing():
    """`Probing`."""
    return build_shipped(Probing, "ricks", "probing")


def apart():
    """`Apart`."""
    return build_shipped(Apart, "ricks", "apart")


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
    return build_shipped(GrainLife, "storage", "wheat")


def keeping():
    """`Keeping`."""
    return build_shipped(Keeping, "storage", "keeping")


def _of_shapes(kind, section):
    return build_shipped(kind, "rick_shapes", section)
