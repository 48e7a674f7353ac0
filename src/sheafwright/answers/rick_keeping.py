"""How long will the rick keep, and what is lost meanwhile?

The grain's life is spoken of as seed: one seed in twenty is dead long before half a per
cent of the dry matter is breathed away.
"""

import dataclasses
import datetime
import math
from typing import NamedTuple

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.limits import check_moisture
from sheafwright.answers.rick_heat import COLDEST, HOTTEST
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.rick.heat import hottest_lately
from sheafwright.core.rick.storage import (
    dry_matter_lost,
    equal_hours,
    life_used,
    safe_days,
)
from sheafwright.feeds import ricks
from sheafwright.feeds.stooks import meter
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, say, say_n

LONGEST = 730
"""Days in a rick after which nobody asks any more. [d]"""
LEAST_LOSS = 0.00005
"""Less of the dry matter is not spoken of. [0–1]"""
YEAR, DAYS_A_MONTH = 365, 365 / 12
"""Longer than a year ahead is not told apart. [d]"""
TOO_WARM, TOO_DAMP, SPENT, HALF_SPENT, SOUND = (
    "too_warm",
    "too_damp",
    "spent",
    "half_spent",
    "sound",
)
MAIZE = mark(
    "ASAE Data X535, of shelled maize, after Saul and Steele 1966; none of wheat"
)
CAUTION = mark(
    "Damp sheaves heat. Probe a new rick daily for six weeks, and ring the fire "
    "service before anyone opens a hot one. Local codes and trained people first."
)
SAID = {
    TOO_WARM: mark(
        "{name} is at {heat:.0f} °C, too warm to say how long it keeps: go by its "
        "temperatures first."
    ),
    TOO_DAMP: mark("{name} holds grain too damp to keep: thresh it and dry it now."),
    SPENT: mark(
        "{name} holds grain that has had its time: thresh it and dry it now, and test "
        "it before you sow it."
    ),
    HALF_SPENT: mark("{name} should be threshed next: half its time is over."),
    SOUND: mark("{name} keeps until {half}: thresh it by then."),
}
FOR_LONG = mark("{name} keeps for more than a year as it is.")
STRAW = {
    None: "",
    "long": mark("Its straw is dry enough to keep."),
    "short": mark(
        "Its straw is a little damp: it keeps for weeks, not for the winter."
    ),
    "never": mark("Its straw is too damp to lie in a rick, and may heat."),
}


class Life(NamedTuple):
    """Of the grain at one moisture, its temperature staying as it is."""

    used: float
    """Share that is over; NaN where it is too damp for the equations. [1]"""
    half_after: float
    """Days from now until it should be threshed. [d]"""
    end_after: float
    """Days from now until one seed in twenty has died. [d]"""


@dataclasses.dataclass(frozen=True)
class RickKeeping:
    """The answer."""

    name: str
    as_of: datetime.date
    days: int
    """In the rick so far. [d]"""
    grain: float
    """Moisture, wet basis. [0–1]"""
    straw: float | None
    """[0–1]"""
    temperature: float
    """Hottest lately. [°C]"""
    life: Life
    damper: Life
    """Were the grain damper by the meter's error."""
    drier: Life
    """Were it drier by that."""
    lost: float
    """Dry matter of the grain breathed away so far; NaN once it is spent. [0–1]"""

    @property
    def level(self):
        """How it keeps."""
        keeping = ricks.keeping()
        if self.temperature > keeping.warmest:
            return TOO_WARM
        if self.grain > ricks.grain_life().dampest:
            return TOO_DAMP
        if self.life.used >= 1:
            return SPENT
        return HALF_SPENT if self.life.used >= keeping.half_spent else SOUND

    @property
    def straw_keeps(self):
        """How long its straw does; None if nobody measured it."""
        if self.straw is None:
            return None
        keeping = ricks.keeping()
        if self.straw <= keeping.straw_long:
            return "long"
        return "short" if self.straw <= keeping.straw_short else "never"

    @property
    def weight_lost(self):
        """Of the grain so far, as stored wheat has lost, water and vermin in it. [1]"""
        return ricks.keeping().weight_loss * self.days / DAYS_A_MONTH

    @property
    def sentence(self):
        """The answer in a few sentences."""
        keeps_long = self.level == SOUND and self.damper.half_after > YEAR
        said = say(
            FOR_LONG if keeps_long else SAID[self.level],
            name=self.name,
            heat=self.temperature,
            half=self._day(self.life.half_after),
        )
        ends = self.level in {SOUND, HALF_SPENT} and not keeps_long
        straw = STRAW[self.straw_keeps]
        return joined(said, ends and self._end(), straw and say(straw), self._losses())

    def _losses(self):
        if not self.lost >= LEAST_LOSS:
            return ""
        return say(
            "So far its grain has breathed away {breathed:.2%} of itself; with water "
            "and vermin, {lost:.1%} of its weight may be gone.",
            breathed=self.lost,
            lost=self.weight_lost,
        )

    def _end(self):
        end, early, late = (
            self._day(each.end_after) for each in (self.life, self.damper, self.drier)
        )
        return say(
            "One seed in twenty would be dead by {end}; a meter's error either way "
            "makes that {early} or {late}.",
            end=end,
            early=early,
            late=late,
        )

    def _day(self, after):
        if after > YEAR:
            return say("some day after {day}", day=wording.date(self._date(YEAR)))
        day = self._date(after)
        this_year = day.year == self.as_of.year
        return wording.near_date(day) if this_year else wording.date(day)

    def _date(self, after):
        return self.as_of + datetime.timedelta(math.floor(after))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("storage")
        wheat, keeping = table["wheat"], table["keeping"]
        yield Step(self._as_it_lies(), "You", GIVEN)
        warmest, coolest = keeping["warmest"], keeping["coolest"]
        says = say(
            "Above {warmest:g} °C nothing tells how it keeps; below {coolest:g} °C it "
            "is taken to be as warm as that.",
            warmest=warmest.value,
            coolest=coolest.value,
        )
        yield step_from_rows(says, warmest, coolest)
        if not math.isnan(self.life.used):
            yield from self._of_life(wheat, keeping)
        yield from self._of_losses(keeping)
        if self.straw is not None:
            yield self._of_straw(keeping)

    def _as_it_lies(self):
        return say_n(
            "The grain held {moisture:.1%} of water; {n} day in the rick, hottest "
            "lately {heat:.1f} °C.",
            "The grain held {moisture:.1%} of water; {n} days in the rick, hottest "
            "lately {heat:.1f} °C.",
            self.days,
            moisture=self.grain,
            heat=self.temperature,
        )

    def _of_life(self, wheat, keeping):
        says = say(
            "So {used:.0%} of the time is over until one seed in twenty is dead.",
            used=self.life.used,
        )
        yield step_from_rows(says, *wheat.values())
        half = keeping["half_spent"]
        says = say("It is threshed at {share:.0%} of it.", share=half.value)
        yield step_from_rows(says, half)
        error = shipped("stooks")["meter"]["reading_error"]
        says = say("A meter may be wrong by {n:g} points.", n=100 * error.value)
        yield step_from_rows(says, error)

    def _of_losses(self, keeping):
        damage, loss = keeping["damage"], keeping["weight_loss"]
        if not math.isnan(self.lost):
            says = say(
                "It breathes as shelled maize does, and {share:.0%} of it is broken.",
                share=damage.value,
            )
            source = joined(say(MAIZE), say(damage.source), by="; ")
            yield Step(says, source, damage.standing)
        says = say(
            "Wheat in store lost about {share:.0%} of its weight a month.",
            share=loss.value,
        )
        yield step_from_rows(says, loss)

    def _of_straw(self, keeping):
        long, short = keeping["straw_long"], keeping["straw_short"]
        says = joined(
            say("The straw held {moisture:.1%}.", moisture=self.straw),
            say(
                "Hay keeps up to {long:.0%}, and for weeks up to {short:.0%}; straw is "
                "treated alike.",
                long=long.value,
                short=short.value,
            ),
            say("Of what straw loses no equation was found."),
        )
        return step_from_rows(says, long, short)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "name": self.name,
            "as_of": self.as_of.isoformat(),
            "level": self.level,
            "straw_keeps": self.straw_keeps,
            "in_rick_d": self.days,
            "grain_moisture_share": self.grain,
            "straw_moisture_share": self.straw,
            "hottest_c": round(self.temperature, 2),
            "life": self._life(self.life),
            "life_if_damper": self._life(self.damper),
            "life_if_drier": self._life(self.drier),
            "dry_matter_lost_share": _known(self.lost),
            "weight_lost_share": round(self.weight_lost, 4),
            "working": steps_to_json(self.working),
        }

    def _life(self, life):
        return {
            "used_share": _known(life.used),
            "thresh_by": self._iso(life.half_after),
            "seed_dying_by": self._iso(life.end_after),
        }

    def _iso(self, after):
        return None if after > YEAR else self._date(after).isoformat()


def rick_keeping(name, ricked, readings, as_of, grain, straw=None):
    """The `RickKeeping` of a rick.

    Parameters
    ----------
    name : str
        Such as ``The barn rick``.
    ricked : datetime.date
    readings : iterable of (datetime.date, float)
        The day, and what the probe said, in any order; between them temperatures run
        straight, and after the last the hottest lately stays. [°C]
    as_of : datetime.date
    grain : float
        Moisture as ricked, wet basis. [0–1]
    straw : float, optional
        [0–1]
    """
    days = (as_of - ricked).days
    _check(name, days, readings := tuple(readings), {"grain": grain, "straw": straw})
    hottest, lately = _temperatures(ricked, readings, days)
    error = meter().reading_error
    lives = (_life(grain + off, hottest, lately) for off in (0, error, -error))
    life, damper, drier = lives
    return RickKeeping(
        name=name,
        as_of=as_of,
        days=days,
        grain=grain,
        straw=straw,
        temperature=lately,
        life=life,
        damper=damper,
        drier=drier,
        lost=_lost(grain, hottest) if life.used < 1 else math.nan,
    )


def _temperatures(ricked, readings, days):
    """Temperature on each day so far, (day,), and the hottest lately. [°C]"""
    read = {}
    for date, temperature in readings:
        day = (date - ricked).days
        read[day] = max(read.get(day, -math.inf), temperature)
    at, temperatures = map(np.array, zip(*sorted(read.items()), strict=True))
    window = ricks.probing().counts_hours
    lately = float(hottest_lately(24 * at, temperatures, window))
    return np.interp(np.arange(days), at, temperatures), lately


def _life(moisture, temperatures, lately):
    life, keeping = ricks.grain_life(), ricks.keeping()
    # Drier and cooler than the equations were made for keeps no worse.
    moisture = max(moisture, life.driest)
    coolest = keeping.coolest
    used = life_used(moisture, np.maximum(temperatures, coolest), life)
    used = float(used[-1]) if used.size else 0.0
    days = float(safe_days(moisture, max(lately, coolest), life))
    if math.isnan(days):
        return Life(math.nan, 0.0, 0.0)
    half, end = (max(at - used, 0) * days for at in (keeping.half_spent, 1))
    return Life(used, half, end)


def _lost(moisture, temperatures):
    hours = equal_hours(moisture, temperatures, ricks.keeping().damage)
    return float(dry_matter_lost(hours[-1])) if hours.size else 0.0


def _check(name, days, readings, moistures):
    if not 0 <= days <= LONGEST:
        raise OutOfRange(
            "{name} is said to lie for {days} days; it should be from 0 to {longest}.",
            name=name,
            days=days,
            longest=LONGEST,
        )
    if not readings:
        raise OutOfRange(
            "{name} has not been probed; one temperature is needed.", name=name
        )
    for date, temperature in readings:
        if not COLDEST <= temperature <= HOTTEST:
            raise OutOfRange(
                "{name} on {day} reads {temperature:g}; it should be from {coldest} to "
                "{hottest} °C.",
                name=name,
                day=wording.date(date),
                temperature=temperature,
                coldest=COLDEST,
                hottest=HOTTEST,
            )
    for what, moisture in moistures.items():
        check_moisture(what, say("in {name}", name=name), moisture)


def _known(number):
    return None if math.isnan(number) else round(number, 5)
