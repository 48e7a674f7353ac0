"""What stands yet, and who is there to harvest it, from a TOML file."""

import dataclasses
import datetime
from collections.abc import Mapping

from sheafwright.feeds.crew_day import BinderAsked
from sheafwright.feeds.shapes import read_as, read_listed
from sheafwright.feeds.tables import read_toml


@dataclasses.dataclass(frozen=True)
class Waiting:
    """A crop that is not cut yet."""

    name: str
    area_ha: float
    sown: datetime.date
    farm: str = ""
    variety_class: str | None = None
    seen: Mapping[str, datetime.date] = dataclasses.field(default_factory=dict)
    """Stage seen to its date, as `sheafwright.answers.question.Question` has them."""
    signs: Mapping[str, str] = dataclasses.field(default_factory=dict)
    """Kind of sign to the level seen on the day of the question."""


@dataclasses.dataclass(frozen=True)
class Harvest:
    """All that stands, and who is there for it."""

    fields: tuple[Waiting, ...] = ()
    hands: int = 8
    """That come on a day."""
    binders: tuple[BinderAsked, ...] = (BinderAsked(""),)
    first: datetime.date | None = None
    """First day of the plan; the day of the question if not given."""
    until: datetime.date | None = None
    """Its last day; the third if not given."""
    distance_km: float = 1.0
    """From field to rick."""
    carts: int | None = None
    """None as the table has it."""


LISTED = {"fields": Waiting, "binders": BinderAsked}
RENAMED = {"class": "variety_class"}
"""As the grower writes it, and as we have to."""


def read_harvest(path):
    """The `Harvest` of a TOML file."""
    said = read_toml(path)
    parts = {
        name: tuple(read_listed(kind, said, name, path, _renamed))
        for name, kind in LISTED.items()
        if name in said
    }
    return read_as(Harvest, said | parts, str(path))


def _renamed(said, where):
    """A table with our names for those that Python keeps for itself."""
    return {RENAMED.get(name, name): value for name, value in said.items()}
