"""The demo holding: its place, its fields and the day that it is looked at."""

import dataclasses
import datetime
import tomllib
from importlib import resources

DEMO = resources.files("sheafwright") / "data" / "demo"


@dataclasses.dataclass(frozen=True)
class Field:
    """One field and what was sown in it."""

    name: str
    sown: datetime.date
    variety_class: str
    area: float
    """[ha]"""
    seen: dict[str, datetime.date]
    """Stages seen."""


@dataclasses.dataclass(frozen=True)
class Holding:
    """A holding with its weather."""

    name: str
    latitude: float
    """North positive. [°]"""
    altitude: float
    """[m]"""
    as_of: datetime.date
    """The day that it is looked at."""
    fields: tuple[Field, ...]
    weather: str
    """Path of its weather record."""
    columns: str
    """Path of that record's columns file."""


def demo_holding():
    """The invented `Holding` that ships with the package."""
    said = tomllib.loads((DEMO / "holding.toml").read_text("utf-8"))
    return Holding(
        name=said["name"],
        latitude=said["latitude_deg"],
        altitude=said["altitude_m"],
        as_of=said["as_of"],
        fields=tuple(_field(each) for each in said["fields"]),
        weather=str(DEMO / "weather.csv.gz"),
        columns=str(DEMO / "columns.toml"),
    )


def demo_seasons():
    """When the invented crops of each harvest came to each stage.

    Harvest to ``autumn`` and ``spring``, by when they were sown; each is stage to date.
    """
    said = tomllib.loads((DEMO / "seasons.toml").read_text("utf-8"))
    return {int(year): sown for year, sown in said.items()}


def _field(said):
    return Field(
        name=said["name"],
        sown=said["sown"],
        variety_class=said["class"],
        area=said["area_ha"],
        seen=said.get("seen", {}),
    )
