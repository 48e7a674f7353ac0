"""What lots are allotted and loaded by, from the tables."""

from sheafwright.core.inputs.orders import Allotting, Loading, ToCome, Vehicle
from sheafwright.feeds.tables import build_shipped

VEHICLES = ("trailer", "lorry")


def allotting():
    """`Allotting`."""
    return build_shipped(Allotting, "orders", "allotting")


def to_come():
    """`ToCome`."""
    return build_shipped(ToCome, "orders", "to_come")


def loading():
    """`Loading`."""
    return build_shipped(Loading, "orders", "loading")


def vehicle(name):
    """`Vehicle` by one of ``VEHICLES``."""
    return build_shipped(Vehicle, "orders", name)
