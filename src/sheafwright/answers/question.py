"""What the grower asks about one field: the same for ``outlook`` and for ``cut``."""

import dataclasses
import datetime
from collections.abc import Mapping

from sheafwright.answers.wording import STAGE_NAMES
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.telling import measured, say
from sheafwright.feeds.units import AREAS

STAGES = {
    "emergence": "emergence",
    "first_node": "gs31",
    "flag_leaf": "gs39",
    "ear_out": "gs59",
    "flowering": "gs61",
    "watery_ripe": "gs71",
    "milk": "gs75",
    "early_dough": "gs83",
    "soft_dough": "gs85",
    "hard_dough": "gs87",
}
"""Stages as the grower names them, in order, to the core's names."""


@dataclasses.dataclass(frozen=True)
class Question:
    """One field's season so far."""

    weather: str
    """Path of the weather record."""
    sown: datetime.date
    columns: str | None = None
    """Path of a columns file for it."""
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""
    variety_class: str | None = None
    area: float | None = None
    """[ha]"""
    as_of: datetime.date | None = None
    """The last day of the record if not given."""
    forecast: Forecast | None = None
    seen: Mapping[str, datetime.date] = dataclasses.field(default_factory=dict)
    """Stage of ``STAGES`` to the day on which it was seen."""
    signs: Mapping[str, str] = dataclasses.field(default_factory=dict)
    """Kind of sign to the level seen on the last day known."""
    own_seasons: str | None = None
    """Path of past seasons' dates."""
    own_readings: str | None = None
    """Path of the field's own readings."""
    losses: str | None = None
    """Path of a table of losses."""
    seed: int = 1
    summers: int = 1000
    """Possible summers drawn."""

    def __post_init__(self):
        smallest, largest = AREAS
        if self.area is not None and not smallest <= self.area <= largest:
            raise OutOfRange(
                "No field has {area}; it should be from {smallest} to {largest}.",
                area=measured(self.area, "ha"),
                smallest=measured(smallest, "ha"),
                largest=measured(largest, "ha", ","),
            )

    def seen_by(self, last):
        """The core's name of each stage seen to the days after sowing it was seen on.

        Parameters
        ----------
        last : datetime.date
            The last day known.
        """
        for stage in self.seen.keys() - STAGES.keys():
            raise OutOfRange(
                "{stage!r} is not a stage that can be seen; it should be one of "
                "{stages}.",
                stage=stage,
                stages=", ".join(STAGES),
            )
        before, earliest = say("sowing"), self.sown
        for stage in (name for name in STAGES if name in self.seen):
            date = self.seen[stage]
            if not earliest <= date <= last:
                raise OutOfRange(
                    "{stage} is said to be seen on {date}; it should be from "
                    "{earliest}, the day of {before}, to {last}, the last day known.",
                    stage=say(STAGE_NAMES[stage]),
                    date=str(date),
                    earliest=str(earliest),
                    before=before,
                    last=str(last),
                )
            before, earliest = say(STAGE_NAMES[stage]), date
        return {
            core: (self.seen[name] - self.sown).days
            for name, core in STAGES.items()
            if name in self.seen
        }
