"""Is the rick safe, and when must it be probed again?"""

import dataclasses
import datetime
import math

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.rick.heat import (
    hottest_lately,
    hours_to_check,
    rise_per_day,
    step_reached,
)
from sheafwright.feeds import ricks
from sheafwright.feeds.tables import shipped

COLDEST, HOTTEST = -40, 1000
"""[°C]"""
HOUR = datetime.timedelta(hours=1)
STEADY = 0.5
"""A slower rise isn't spoken of. [°C d⁻¹]"""
OFTEN = {12: "twice a day", 24: "daily", 168: "weekly"}
CAUTION = (
    "Probe from a board or a ladder, with someone beside you. Never walk on a hot "
    "stack: it may be burnt hollow. Local codes and trained people first."
)
SAID = {
    "not_probed": "{name} has not been probed: probe it today, and daily{until}.",
    "cool": "{name} is cool, {heat} at most: probe it {often}{until}.",
    "warming": "{name} is warming, {heat}: probe it {often}{until}.",
    "warm": "{name} is warm, {heat}: probe it {often}.",
    "hot": (
        "{name} is heating, {heat}: probe it {often}, and ring the fire service before "
        "anyone opens it."
    ),
    "dangerous": (
        "{name} is dangerously hot, {heat}: tell the fire service now, probe it "
        "{often}, and let nobody open it or climb on it."
    ),
    "fire": (
        "Ring the fire service now: {name} is at {heat} and may catch fire. Keep "
        "everyone off, and do not open it without them."
    ),
}
MEANS = {
    "warm": "It is warm",
    "hot": "The fire service is rung before it is opened",
    "dangerous": "The fire service is told",
    "fire": "The fire service is called and everyone keeps off",
}
NOTHING_READ = {
    "last_read": None,
    "hottest": math.nan,
    "rise": math.nan,
    "level": "not_probed",
    "level_hours": math.nan,
    "next_check": datetime.timedelta(0),
}


@dataclasses.dataclass(frozen=True)
class RickHeat:
    """The answer."""

    name: str
    now: datetime.datetime
    settled_on: datetime.date
    """From then on a cool rick is probed less."""
    last_read: datetime.datetime | None
    hottest: float
    """Lately; NaN before any reading. [°C]"""
    rise: float
    """NaN where too few readings tell. [°C d⁻¹]"""
    level: str
    """One of ``feeds.ricks.STEPS``, or ``not_probed``."""
    level_hours: float
    """The level's own time between probings; NaN where nobody should be near. [h]"""
    next_check: datetime.timedelta | None
    """After the last reading; None where nobody should be near."""

    @property
    def due(self):
        """When it must be probed; None where nobody should be near."""
        if self.next_check is None:
            return None
        return (self.last_read or self.now) + self.next_check

    @property
    def overdue(self):
        """Whether it should have been probed by now."""
        return self.due is not None and self.due < self.now

    @property
    def danger(self):
        """Steps of danger reached, from 0: what has most must be seen first."""
        return ricks.STEPS.index(self.level) if self.level in ricks.STEPS else 0

    @property
    def fire_service_first(self):
        """Whether the fire service is rung before anyone opens it."""
        return self.danger >= ricks.STEPS.index("hot")

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        # No rick is called cool while it climbs.
        climbs = self.level == "cool" and self._rising()
        said = SAID["warming" if climbs else self.level].format(
            name=self.name,
            heat=f"{self.hottest:.1f}".removesuffix(".0") + f" °C{self._rising()}",
            often=self._often(),
            until=self._until(),
        )
        return f"{said}{self._sooner()}{self._late()}"

    def _rising(self):
        # A fall is not spoken of: a hollow that has burnt out reads cool.
        if not self.rise >= STEADY:
            return ""
        return f" and rising by {self.rise:.1f} °C a day"

    def _until(self):
        settles = self.now.date() < self.settled_on
        return f" until {wording.near_date(self.settled_on)}" if settles else ""

    def _sooner(self):
        hours = _hours(self.next_check)
        # Not so where the level has no time between probings.
        if not hours < self.level_hours:
            return ""
        return f" At this rise, probe it within {max(hours, 1):.0f} hours of the last."

    def _late(self):
        if not self.overdue:
            return ""
        return (
            f" That was due on {wording.weekday(self.due)} at {self.due:%H:%M}: probe "
            f"it now."
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("ricks")
        if self.last_read:
            yield Step(
                f"Hottest lately, {self.hottest:.1f} °C; last read on "
                f"{wording.weekday(self.last_read)} at {self.last_read:%H:%M}.",
                "You",
                GIVEN,
            )
        for name, means in MEANS.items():
            start = table[name]["from_temperature"]
            yield step_from_rows(f"{means} from {start.value:g} °C.", start)
        if not math.isnan(self.level_hours):
            yield step_from_rows(f"So it is probed {self._often()}.", self._check_row())
        rows = table["probing"]
        settling = rows["settling_days"]
        yield step_from_rows(f"A rick settles in {settling.value} days.", settling)
        counts, apart = rows["counts_hours"], rows["rise_least_hours"]
        yield step_from_rows(
            f"The hottest reading of {counts.value} hours counts; the rise is that of "
            f"the same hours, from readings {apart.value} hours apart or more.",
            *(counts, apart),
        )

    def _often(self):
        return OFTEN.get(self.level_hours, f"every {self.level_hours:g} hours")

    def _check_row(self):
        table = shipped("ricks")
        if self.level == "cool" and not self._until():
            return table["probing"]["settled_check_hours"]
        return table[self.level]["check_hours"]

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": CAUTION,
            "name": self.name,
            "level": self.level,
            "danger": self.danger,
            "fire_service_first": self.fire_service_first,
            "hottest_c": _known(self.hottest),
            "rise_c_per_day": _known(self.rise),
            "last_read": self.last_read and self.last_read.isoformat(),
            "next_check_h": _known(_hours(self.next_check)),
            "due": self.due and self.due.isoformat(),
            "overdue": self.overdue,
            "settled_on": self.settled_on.isoformat(),
            "working": steps_to_json(self.working),
        }


def rick_heat(name, built, readings, now):
    """The `RickHeat` of a rick.

    Parameters
    ----------
    name : str
        Such as ``The barn rick``.
    built : datetime.date
        The day that its last sheaves went on, from which it settles.
    readings : iterable of (datetime.datetime, float)
        When, and what the probe said, in any order. [°C]
    now : datetime.datetime
        Readings and now all have a zone, or none has.
    """
    readings = sorted(readings, key=lambda reading: reading[0])
    for at, temperature in readings:
        _check(name, at, temperature)
    probing = ricks.probing()
    settled_on = built + datetime.timedelta(probing.settling_days)
    judged = _judged(readings, now.date() >= settled_on, probing)
    return RickHeat(name=name, now=now, settled_on=settled_on, **judged)


def _judged(readings, settled, probing):
    if not readings:
        return NOTHING_READ
    times, temperatures = zip(*readings, strict=True)
    hours = [_hours(at - times[-1]) for at in times]
    steps = ricks.heat_steps()
    starts = [step.from_temperature for step in steps[1:]]
    checks = [step.check_hours for step in steps]
    if settled:
        checks[0] = probing.settled_check_hours
    window = probing.counts_hours
    hottest = float(hottest_lately(hours, temperatures, window))
    rise = float(rise_per_day(hours, temperatures, window, probing.rise_least_hours))
    reached = int(step_reached(hottest, starts))
    wait = hours_to_check(hottest, rise, starts, checks)
    return {
        "last_read": times[-1],
        "hottest": hottest,
        "rise": rise,
        "level": ricks.STEPS[reached],
        "level_hours": checks[reached],
        "next_check": None if math.isnan(wait) else datetime.timedelta(hours=wait),
    }


def _check(name, at, temperature):
    # Written so that NaN is refused too.
    if not COLDEST <= temperature <= HOTTEST:
        raise OutOfRange(
            f"{name} on {wording.weekday(at)} at {at:%H:%M} reads {temperature:g}; it "
            f"should be from {COLDEST} to {HOTTEST} °C."
        )


def _hours(time):
    return math.nan if time is None else time / HOUR


def _known(number):
    return None if math.isnan(number) else round(number, 2)
