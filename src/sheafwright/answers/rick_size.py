"""Will it fit? What a rick or a bay holds, how it sinks, and what its top needs.

Nobody knows what a cubic metre of their sheaves weighs until a rick is threshed, so
every answer is a range: the fewest it holds, and the most.
"""

import dataclasses
import math
from typing import NamedTuple

from sheafwright.answers.limits import SHEAVES, Limit
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.rick.shape import (
    days_to_settle,
    hipped_ridge,
    oblong_volume,
    room_for,
    round_plan,
    round_volume,
    settled_height,
    sheaves_in,
    slope_factor,
)
from sheafwright.feeds import ricks
from sheafwright.feeds.sheaves import sheaves as sheaves_taken
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say, say_n

LONGEST = 100.0
"""[m]"""
SIZES = {
    "diameter": mark("rick's width across"),
    "length": mark("length"),
    "width": mark("width"),
    "eaves": mark("height to the eaves"),
    "top": mark("height of the top above the eaves"),
}
KG_PER_SHEAF = Limit(mark("Sheaves of {measure}"), 1, 40, "kg")
FITS, PERHAPS, TOO_SMALL = "fits", "perhaps", "too_small"
SETTLED_DAYS = 21
"""When what a rick has sunk is worth filling up. [d]"""
SETTLED = {
    "lightest": mark("Settled, sheaves weigh {density} at the lightest."),
    "heaviest": mark("Settled, sheaves weigh {density} at the heaviest."),
}
CAUTION = mark(
    "Sheaves slide, and a rick can slump on whoever stands on it or below. Keep its "
    "middle highest, tie the ladder, never work up there alone, and keep out from "
    "under a load. Local codes and trained people first."
)


@dataclasses.dataclass(frozen=True)
class Round:
    """A round rick."""

    diameter: float
    """[m]"""
    eaves: float
    """Height of the eaves. [m]"""
    top: float
    """Height of the peak above them. [m]"""

    @property
    def volume(self):
        """[m³]"""
        return float(round_volume(self.diameter, self.eaves, self.top))

    @property
    def width(self):
        """Narrowest way across. [m]"""
        return self.diameter

    def cover(self, overhang):
        """Area of the top, to drip so far beyond the eaves. [m²]"""
        plan = round_plan(self.diameter + 2 * overhang)
        return float(plan * slope_factor(self.top, self.diameter / 2))


@dataclasses.dataclass(frozen=True)
class Oblong:
    """An oblong rick, the top gabled, or hipped with one slope all round."""

    length: float
    """The longer side. [m]"""
    width: float
    """[m]"""
    eaves: float
    """Height of the eaves. [m]"""
    top: float
    """Height of the ridge above them. [m]"""
    hipped: bool = False

    def __post_init__(self):
        if self.length < self.width:
            raise OutOfRange(
                "A rick {length} long and {width} wide: the length should be the "
                "longer side.",
                length=measured(self.length, "m"),
                width=measured(self.width, "m"),
            )

    @property
    def volume(self):
        """[m³]"""
        across = self.length, self.width
        ridge = hipped_ridge(*across) if self.hipped else self.length
        return float(oblong_volume(*across, self.eaves, self.top, ridge))

    def cover(self, overhang):
        """Area of the top, to drip so far beyond the base all round. [m²]"""
        plan = (self.length + 2 * overhang) * (self.width + 2 * overhang)
        return float(plan * slope_factor(self.top, self.width / 2))


@dataclasses.dataclass(frozen=True)
class Bay:
    """A bay of a barn, filled level."""

    length: float
    """[m]"""
    width: float
    """[m]"""
    eaves: float
    """Height to which it is filled. [m]"""

    @property
    def volume(self):
        """[m³]"""
        return self.length * self.width * self.eaves


class Count(NamedTuple):
    """Of sheaves: at the loosest, and at the tightest."""

    low: int
    high: int


@dataclasses.dataclass(frozen=True)
class RickSize:
    """The answer."""

    shape: Round | Oblong | Bay
    sheaves: int
    """To be put there."""
    kg_per_sheaf: float
    """[kg]"""
    sheaf_given: bool
    """Whether the grower says what a sheaf weighs."""
    tight: bool
    """Whether it is well trodden."""
    holds: Count
    """Sheaves, as built."""
    needs: tuple[float, float]
    """Room for the sheaves as built: at the tightest, and at the loosest. [m³]"""
    more_later: Count
    """Sheaves that go on after ``SETTLED_DAYS``, if it was full."""
    rest_fits_after: float | None
    """Days until all fit even at the loosest, if it is filled up as it sinks; 0 if they
    do as built, None if they never will. [d]"""
    cover: float
    """Thatch or sheet for the top, its overhang with it; 0 in a bay. [m²]"""
    steep: bool
    """Whether its eaves are too high for its width."""

    @property
    def verdict(self):
        """Whether they fit as it is built: surely, perhaps or not."""
        if self.sheaves <= self.holds.low:
            return FITS
        return PERHAPS if self.sheaves <= self.holds.high else TOO_SMALL

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(self._fit(), self._later(), self._top(), self._slump())

    def _fit(self):
        if self.verdict == FITS:
            return self._fits()
        low, high = self.holds
        if self.verdict == PERHAPS:
            return joined(
                say(
                    "It may fit: it holds {low:,} to {high:,} sheaves.",
                    low=low,
                    high=high,
                ),
                say("Keep room elsewhere for {over:,}.", over=self.sheaves - low),
            )
        return say(
            "It does not fit: it holds {low:,} to {high:,} sheaves, so {least:,} to "
            "{most:,} must go elsewhere.",
            low=low,
            high=high,
            least=self.sheaves - high,
            most=self.sheaves - low,
        )

    def _fits(self):
        tight, loose = self.needs
        return say_n(
            "It fits: {n:,} sheaf needs {tight} to {loose} of its {room}.",
            "It fits: {n:,} sheaves need {tight} to {loose} of its {room}.",
            self.sheaves,
            tight=measured(tight, "m³", ",.0f"),
            loose=measured(loose, "m³", ",.0f"),
            room=measured(self.shape.volume, "m³", ",.0f"),
        )

    def _later(self):
        if self.verdict == FITS:
            return ""
        after, in_bay = self.rest_fits_after, isinstance(self.shape, Bay)
        if after is not None and after <= SETTLED_DAYS:
            return _filled_up(math.ceil(after), in_bay)
        low, high = self.more_later
        sinks = say("it sinks") if in_bay else say("it sinks, sheeted meanwhile")
        return say(
            "In {days} days {sinks}, and {low:,} to {high:,} more go on.",
            days=SETTLED_DAYS,
            sinks=sinks,
            low=low,
            high=high,
        )

    def _top(self):
        if not self.cover:
            return ""
        cover = measured(self.cover, "m²", ",.0f")
        return say("Its top needs {cover} of thatch or sheet.", cover=cover)

    def _slump(self):
        return self.steep and say(
            "Its eaves are too high for its width, and it may slump: build it wider."
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("rick_shapes")
        room = measured(self.shape.volume, "m³", ",.1f")
        says = say("Its room is {room}, its sides taken as upright.", room=room)
        yield Step(says, "You", GIVEN)
        sheaf = say("A sheaf weighs {mass}.", mass=measured(self.kg_per_sheaf, "kg"))
        if self.sheaf_given:
            yield Step(sheaf, "You", GIVEN)
        else:
            yield step_from_rows(sheaf, shipped("sheaves")["sheaves"]["kg_per_sheaf"])
        for end, row in table["tight" if self.tight else "loose"].items():
            says = say(SETTLED[end], density=measured(row.value, "kg/m³"))
            yield step_from_rows(says, row)
        sinks = table["settling"]
        says = say(
            "It sinks by {share:.0%} in the end, most of it in {days} days; until then "
            "its room holds so much less.",
            share=sinks["share"].value,
            days=SETTLED_DAYS,
        )
        yield step_from_rows(says, *sinks.values())
        if not isinstance(self.shape, Bay):
            yield from self._of_top(table["building"])

    def _of_top(self, rows):
        overhang, steepest = rows["overhang"], rows["steepest"]
        over = measured(overhang.value, "m")
        says = say("Its cover hangs over by {over}.", over=over)
        yield step_from_rows(says, overhang)
        says = say(
            "Its eaves should be at most {share:g} of its width high.",
            share=steepest.value,
        )
        yield step_from_rows(says, steepest)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "verdict": self.verdict,
            "volume_m3": round(self.shape.volume, 2),
            "sheaves": self.sheaves,
            "kg_per_sheaf": self.kg_per_sheaf,
            "tight": self.tight,
            "needs_m3_low": round(self.needs[0], 2),
            "needs_m3_high": round(self.needs[1], 2),
            "holds_sheaves_low": self.holds.low,
            "holds_sheaves_high": self.holds.high,
            "holds_kg_low": round(self.holds.low * self.kg_per_sheaf, 1),
            "holds_kg_high": round(self.holds.high * self.kg_per_sheaf, 1),
            "more_later_sheaves_low": self.more_later.low,
            "more_later_sheaves_high": self.more_later.high,
            "rest_fits_after_d": self._after(),
            "cover_m2": round(self.cover, 2),
            "too_steep": self.steep,
            "working": steps_to_json(self.working),
        }

    def _after(self):
        after = self.rest_fits_after
        return None if after is None else round(after, 1)


def _filled_up(days, in_bay):
    if in_bay:
        return say_n(
            "Filled up as it sinks, it takes them all within {n} day.",
            "Filled up as it sinks, it takes them all within {n} days.",
            days,
        )
    return say_n(
        "Filled up as it sinks, sheeted meanwhile, it takes them all within {n} day.",
        "Filled up as it sinks, sheeted meanwhile, it takes them all within {n} days.",
        days,
    )


def rick_size(shape, sheaves, kg_per_sheaf=None, tight=None):
    """The `RickSize` of a rick or a bay.

    Parameters
    ----------
    shape : Round, Oblong or Bay
    sheaves : int
        To be put there.
    kg_per_sheaf : float, optional
        What is usual, if not given. [kg]
    tight : bool, optional
        Whether it is well trodden; if not given, ricks are and bays are not.
    """
    in_bay = isinstance(shape, Bay)
    tight = not in_bay if tight is None else tight
    sheaf = sheaves_taken().kg_per_sheaf if kg_per_sheaf is None else kg_per_sheaf
    _check(shape, sheaves, sheaf)
    settling = ricks.settling()
    loosened = float(settled_height(math.inf, settling))
    settled = ricks.density(tight)
    densities = [loosened * each for each in (settled.lightest, settled.heaviest)]
    loosest, tightest = (sheaves_in(shape.volume, each, sheaf) for each in densities)
    sunk = 1 - float(settled_height(SETTLED_DAYS, settling))
    after = days_to_settle(min(2 - sheaves / loosest, 1.0), settling)
    building = ricks.building()
    return RickSize(
        shape=shape,
        sheaves=sheaves,
        kg_per_sheaf=sheaf,
        sheaf_given=kg_per_sheaf is not None,
        tight=tight,
        holds=Count(math.floor(loosest), math.floor(tightest)),
        needs=tuple(room_for(sheaves, each, sheaf) for each in reversed(densities)),
        more_later=Count(math.floor(sunk * loosest), math.floor(sunk * tightest)),
        rest_fits_after=None if math.isinf(after) else abs(float(after)),
        cover=0.0 if in_bay else shape.cover(building.overhang),
        steep=not in_bay and shape.eaves > building.steepest * shape.width,
    )


def _check(shape, sheaves, sheaf):
    for side in dataclasses.fields(shape):
        size = getattr(shape, side.name)
        # Written so that NaN is refused too; the hip is no size.
        if side.name in SIZES and not 0 < size <= LONGEST:
            raise OutOfRange(
                "The {side} is {size}: it should be more than 0 and at most {longest}.",
                side=say(SIZES[side.name]),
                size=measured(size, "m"),
                longest=measured(LONGEST, "m"),
            )
    SHEAVES.check(sheaves)
    KG_PER_SHEAF.check(sheaf)
