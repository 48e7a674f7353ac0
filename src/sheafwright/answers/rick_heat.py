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
from sheafwright.feeds.telling import joined, mark, say, say_n

COLDEST, HOTTEST = -40, 1000
"""[°C]"""
HOUR = datetime.timedelta(hours=1)
STEADY = 0.5
"""A slower rise isn't spoken of. [°C d⁻¹]"""
OFTEN = {12: mark("twice a day"), 24: mark("daily"), 168: mark("weekly")}
CAUTION = mark(
    "Probe from a board or a ladder, with someone beside you. Never walk on a hot "
    "stack: it may be burnt hollow. Local codes and trained people first."
)
SAID = {
    "not_probed": mark("{name} has not been probed: probe it today, and daily."),
    "cool": mark("{name} is cool, {heat} at most: probe it {often}."),
    "warming": mark("{name} is warming, {heat}: probe it {often}."),
    "warm": mark("{name} is warm, {heat}: probe it {often}."),
    "hot": mark(
        "{name} is heating, {heat}: probe it {often}, and ring the fire service before "
        "anyone opens it."
    ),
    "dangerous": mark(
        "{name} is dangerously hot, {heat}: tell the fire service now, probe it "
        "{often}, and let nobody open it or climb on it."
    ),
    "fire": mark(
        "Ring the fire service now: {name} is at {heat} and may catch fire. Keep "
        "everyone off, and do not open it without them."
    ),
}
SAID_UNTIL = {
    "not_probed": mark(
        "{name} has not been probed: probe it today, and daily until {day}."
    ),
    "cool": mark("{name} is cool, {heat} at most: probe it {often} until {day}."),
    "warming": mark("{name} is warming, {heat}: probe it {often} until {day}."),
}
"""While it settles."""
MEANS = {
    "warm": mark("It is warm"),
    "hot": mark("The fire service is rung before it is opened"),
    "dangerous": mark("The fire service is told"),
    "fire": mark("The fire service is called and everyone keeps off"),
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
        climbs = self.level == "cool" and self._rises
        level = "warming" if climbs else self.level
        settles = self._settles and level in SAID_UNTIL
        said = say(
            SAID_UNTIL[level] if settles else SAID[level],
            name=self.name,
            heat=self._heat(),
            often=often(self.level_hours),
            day=wording.near_date(self.settled_on),
        )
        return joined(said, self._sooner(), self._late())

    @property
    def _rises(self):
        # A fall is not spoken of: a hollow that has burnt out reads cool.
        return self.rise >= STEADY

    @property
    def _settles(self):
        return self.now.date() < self.settled_on

    def _heat(self):
        if math.isnan(self.hottest):
            return ""
        heat = round(self.hottest, 1)
        if not self._rises:
            return say("{heat:g} °C", heat=heat)
        return say(
            "{heat:g} °C and rising by {rise:.1f} °C a day", heat=heat, rise=self.rise
        )

    def _sooner(self):
        hours = _hours(self.next_check)
        # Not so where the level has no time between probings.
        if not hours < self.level_hours:
            return ""
        return say_n(
            "At this rise, probe it within {n} hour of the last.",
            "At this rise, probe it within {n} hours of the last.",
            round(max(hours, 1)),
        )

    def _late(self):
        if not self.overdue:
            return ""
        return say(
            "That was due on {day} at {time}: probe it now.",
            day=wording.weekday(self.due),
            time=f"{self.due:%H:%M}",
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("ricks")
        if self.last_read:
            yield Step(self._read(), "You", GIVEN)
        for name, means in MEANS.items():
            start = table[name]["from_temperature"]
            says = say("{means} from {heat:g} °C.", means=say(means), heat=start.value)
            yield step_from_rows(says, start)
        if not math.isnan(self.level_hours):
            says = say("So it is probed {often}.", often=often(self.level_hours))
            yield step_from_rows(says, self._check_row())
        yield from _of_probing(table["probing"])

    def _read(self):
        return say(
            "Hottest lately, {heat:.1f} °C; last read on {day} at {time}.",
            heat=self.hottest,
            day=wording.weekday(self.last_read),
            time=f"{self.last_read:%H:%M}",
        )

    def _check_row(self):
        table = shipped("ricks")
        if self.level == "cool" and not self._settles:
            return table["probing"]["settled_check_hours"]
        return table[self.level]["check_hours"]

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
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


def often(hours):
    """How often it is probed, in words; nothing where nobody should be near."""
    if math.isnan(hours):
        return ""
    return say(OFTEN[hours]) if hours in OFTEN else say("every {n:g} hours", n=hours)


def step_means(level, hours):
    """What is done from a step on, and how often it is then probed."""
    means, probed = say(MEANS[level]), often(hours)
    if not probed:
        return say("{means}.", means=means)
    return say("{means}; probe it {often}.", means=means, often=probed)


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


def _of_probing(rows):
    settling = rows["settling_days"]
    says = say("A rick settles in {days} days.", days=settling.value)
    yield step_from_rows(says, settling)
    counts, apart = rows["counts_hours"], rows["rise_least_hours"]
    says = say(
        "The hottest reading of {counts} hours counts; the rise is that of the same "
        "hours, from readings {apart} hours apart or more.",
        counts=counts.value,
        apart=apart.value,
    )
    yield step_from_rows(says, counts, apart)


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
            "{name} on {day} at {time} reads {temperature:g}; it should be from "
            "{coldest} to {hottest} °C.",
            name=name,
            day=wording.weekday(at),
            time=f"{at:%H:%M}",
            temperature=temperature,
            coldest=COLDEST,
            hottest=HOTTEST,
        )


def _hours(time):
    return math.nan if time is None else time / HOUR


def _known(number):
    return None if math.isnan(number) else round(number, 2)
