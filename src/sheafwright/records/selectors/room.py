"""What a rick has room for: by its shape, or by what it is said to hold."""

import dataclasses

from sheafwright.answers.rick_size import Bay, Oblong, RickSize, Round, rick_size
from sheafwright.feeds.sheaves import sheaves
from sheafwright.records.models import Rick

SIZES = {
    Rick.Shape.ROUND: ("length_m", "eaves_m", "top_m"),
    Rick.Shape.GABLED: ("length_m", "width_m", "eaves_m", "top_m"),
    Rick.Shape.HIPPED: ("length_m", "width_m", "eaves_m", "top_m"),
    Rick.Shape.BAY: ("length_m", "width_m", "eaves_m"),
}
"""Those that a shape wants, in the order in which `shape_of` gives them."""
BUILDS = {
    Rick.Shape.ROUND: Round,
    Rick.Shape.GABLED: Oblong,
    Rick.Shape.HIPPED: Oblong,
    Rick.Shape.BAY: Bay,
}


@dataclasses.dataclass(frozen=True)
class Room:
    """Sheaves that still go on, fewest and most."""

    held: int
    """Sheaves that are there by the book, at what a sheaf is taken to weigh."""
    low: int
    high: int
    size: RickSize | None
    """How what is there fits; None where no shape was said, or nothing is there."""


def shape_of(rick):
    """The shape of a rick, as `answers.rick_size` takes it; None if none was said."""
    if rick.shape not in SIZES:
        return None
    sizes = [getattr(rick, name) for name in SIZES[rick.shape]]
    hipped = {"hipped": True} if rick.shape == Rick.Shape.HIPPED else {}
    return BUILDS[rick.shape](*sizes, **hipped)


def room_of(rick, kg):
    """`Room` of a rick in which so much is; None where nobody said what it holds."""
    a_sheaf = sheaves().kg_per_sheaf
    held, shape = round(kg / a_sheaf), shape_of(rick)
    if shape is not None:
        size = rick_size(shape, max(held, 1))
        low, high = (max(0, each - held) for each in size.holds)
        return Room(held, low, high, size if held else None)
    if rick.capacity_kg is None:
        return None
    left = max(0, int((rick.capacity_kg - kg) // a_sheaf))
    return Room(held, left, left, None)
