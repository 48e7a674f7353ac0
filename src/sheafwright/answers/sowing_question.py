"""One lot of seed, and how it may be asked about."""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.limits import Limit, check_given
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import sowing as table
from sheafwright.feeds.telling import listed, mark

LIMITS = {
    "thousand_grain_weight": Limit(mark("A thousand grains of {measure}"), 15, 90, "g"),
    "germination": Limit(
        mark("A germination of {value:.4g}%"), 0.01, 1, "%", spoken=100
    ),
    "establishment": Limit(
        mark("An establishment of {value:.4g}%"), 0.01, 1, "%", spoken=100
    ),
    "row_spacing": Limit(mark("Rows {measure} apart"), 5, 100, "cm"),
    "rate": Limit(mark("A rate of {measure}"), 1, 1000, "kg/ha"),
    "plants": Limit(mark("{measure}"), 1, 1000, mark("plants/m²")),
    "area": Limit(mark("An area of {measure}"), 0.0001, 10_000, "ha"),
    "sack": Limit(mark("A sack of {measure}"), 1, 1500, "kg"),
}
CHOICES = {
    "purpose": table.PURPOSES,
    "tillering": table.TILLERING,
    "soil": table.SOILS,
    "after": table.PREVIOUS_CROPS,
}
UNKNOWN = {
    "purpose": mark("{chosen!r} is no purpose we know; it should be {known}."),
    "tillering": mark("{chosen!r} is no tillering we know; it should be {known}."),
    "soil": mark("{chosen!r} is no soil we know; it should be {known}."),
    "after": mark("{chosen!r} is no crop before that we know; it should be {known}."),
}
PURPOSE_NAMES = {
    "straw": mark("straw"),
    "grain": mark("grain"),
    "seed": mark("seed"),
}
SOIL_NAMES = {"sand": mark("sand"), "loam": mark("loam"), "clay": mark("clay")}
FIRST, LAST = (8, 15), (4, 15)
"""Month and day between which wheat is sown."""


@dataclasses.dataclass(frozen=True)
class SowingQuestion:
    """One lot of seed, and a rate, a stand or a date to sow it for."""

    thousand_grain_weight: float
    """[g]"""
    germination: float
    """Share of the seed that is alive. [0–1]"""
    row_spacing: float
    """[cm]"""
    rate: float | None = None
    """[kg ha⁻¹]"""
    plants: float | None = None
    """[m⁻²]"""
    sown: datetime.date | None = None
    """Gives the stand to aim for, where neither rate nor plants are given."""
    establishment: float | None = None
    """Share of the live seed that makes a plant; by soil and date if not given."""
    soil: str | None = None
    after: str = "other"
    """The crop before."""
    purpose: str = "straw"
    tillering: str = "free"
    area: float | None = None
    """[ha]"""
    sack: float | None = None
    """Mass of seed in one, for the area; the table's if not given. [kg]"""

    def __post_init__(self):
        check_given(self, LIMITS)
        self._check_choices()
        if self.rate is not None and self.plants is not None:
            raise OutOfRange("A rate and plants are both given; it should be one.")
        if self.rate is self.plants is self.sown is None:
            raise OutOfRange(
                "Nothing says how thick: it should be a rate, plants to the square "
                "metre, or the day of sowing."
            )
        if self.establishment is None and None in (self.soil, self.sown):
            raise OutOfRange(
                "No establishment is given; it should be, or else the soil and the day "
                "of sowing, from which it is estimated."
            )

    def _check_choices(self):
        for name, choices in CHOICES.items():
            chosen = getattr(self, name)
            if chosen not in choices and not (name == "soil" and chosen is None):
                raise OutOfRange(
                    UNKNOWN[name], chosen=str(chosen)[:40], known=listed(choices, "or")
                )
        day = self.sown and (self.sown.month, self.sown.day)
        if day and LAST < day < FIRST:
            raise OutOfRange(
                "Wheat is not sown on {day}; it should be from {first} to {last}.",
                day=wording.near_date(self.sown),
                first=wording.month_day(FIRST),
                last=wording.month_day(LAST),
            )

    @property
    def days(self):
        """From 30 September to sowing. [d]"""
        return table.days_after(table.SEPTEMBER_ENDS, self.sown)
