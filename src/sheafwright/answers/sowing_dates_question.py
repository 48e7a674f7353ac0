"""What the grower asks when sowings are set side by side."""

import dataclasses

from sheafwright.answers.sowing_question import FIRST, LAST
from sheafwright.answers.sowing_seasons import in_order
from sheafwright.answers.sowing_stands import Ground
from sheafwright.answers.wording import month_day
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import lodging, sowing_dates, yields
from sheafwright.feeds.telling import joined, mark, say

USUAL_GROUND = Ground(nitrogen_index=1, soil="medium", height_class="tall")
FEWEST_PLANTS, MOST_PLANTS = 20, 800
"""[m⁻²]"""
MOST_SOWINGS = 100
"""Dates times densities."""
CALLED = {"soil": mark("soil"), "height_class": mark("height class")}


@dataclasses.dataclass(frozen=True)
class SowingsQuestion:
    """One field, and the sowings that it might have."""

    weather: str
    """Path of the weather record; all of it is looked at."""
    sown: tuple[tuple[int, int], ...] = ()
    """Months and days; the table's if none are given."""
    plants: tuple[float, ...] = ()
    """Densities; the table's if none are given. [m⁻²]"""
    columns: str | None = None
    """Path of a columns file for the record."""
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""
    own_readings: str | None = None
    """Path of the field's own gauge and thermometer."""
    variety_class: str | None = None
    losses: str | None = None
    """Path of a table of losses."""
    ground: Ground = USUAL_GROUND
    seed: int = 1

    as_of = None
    """Nothing is too late to be looked at."""

    def __post_init__(self):
        for month, day in self.sown:
            if LAST < (month, day) < FIRST:
                raise OutOfRange(
                    "Wheat is not sown on {day}; it should be from {first} to {last}.",
                    day=month_day((month, day)),
                    first=month_day(FIRST),
                    last=month_day(LAST),
                )
        self._check_plants()
        self._check_ground()

    def _check_plants(self):
        for plants in self.plants:
            # Written so that NaN is refused too.
            if not FEWEST_PLANTS <= plants <= MOST_PLANTS:
                raise OutOfRange(
                    "{plants:g} plants to the square metre are no stand of wheat; it "
                    "should be from {least} to {most}.",
                    plants=plants,
                    least=FEWEST_PLANTS,
                    most=MOST_PLANTS,
                )
        if len(self.dates) * len(self.densities) > MOST_SOWINGS:
            raise OutOfRange(
                "{dates} dates with {densities} densities are too many to set side by "
                "side; they should make at most {most}.",
                dates=len(self.dates),
                densities=len(self.densities),
                most=MOST_SOWINGS,
            )

    def _check_ground(self):
        known = {"soil": lodging.SOILS, "height_class": yields.HEIGHT_CLASSES}
        for name, choices in known.items():
            chosen = getattr(self.ground, name)
            if chosen not in choices:
                raise OutOfRange(
                    "{chosen!r} is no {what} we know; it should be one of {known}.",
                    chosen=str(chosen)[:40],
                    what=say(CALLED[name]),
                    known=joined(*choices, by=", "),
                )
        least, most = lodging.LIMITS["nitrogen_index"]
        if self.ground.nitrogen_index not in range(least, most + 1):
            raise OutOfRange(
                "A nitrogen index of {index} is not one; it should be from {least} to "
                "{most}.",
                index=self.ground.nitrogen_index,
                least=least,
                most=most,
            )

    @property
    def dates(self):
        """Months and days, each once, in the order of the season."""
        usual = sowing_dates.usual_sowings()
        return in_order(self.sown or zip(usual.months, usual.days, strict=True))

    @property
    def densities(self):
        """Plants, each once, the fewest first. [m⁻²]"""
        return sorted(set(self.plants or sowing_dates.usual_sowings().plants_per_m2))
