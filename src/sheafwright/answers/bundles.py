"""How many bundles are tied, what do they weigh, and what is that in the trade's?"""

import dataclasses

import numpy as np

from sheafwright.answers.bands import short
from sheafwright.answers.limits import Limit
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.moisture.weight import weight_at
from sheafwright.core.stand.drill import student_interval
from sheafwright.feeds import grades
from sheafwright.feeds.telling import joined, mark, measured, say, say_n

COUNT = Limit(mark("{value:,g} bundles"), 0, 1_000_000, mark("bundles"))
WEIGHT = Limit(mark("A bundle of {measure}"), 0.3, 60, "kg")
GIRTH = Limit(mark("A bundle {measure} round"), 15, 200, "cm")
MOISTURE = Limit(mark("A moisture of {value:g}%"), 0.03, 0.60, "%", 100)
CONFIDENCE = 0.90
NAMED = {
    "small": mark("bundles of 14 lb"),
    "nitch": mark("nitches of 28 lb"),
    "truss": mark("trusses of 36 lb"),
}
NOT_WEIGHED = mark("None was weighed: weigh a few, at their moisture.")
AS_WEIGHED = mark("No moisture was measured, so that is as they lay.")


@dataclasses.dataclass(frozen=True)
class BundlesQuestion:
    """Bundles of a lot, some of them weighed."""

    count: int
    weights: tuple[float, ...] = ()
    """Of those that were weighed. [kg]"""
    moistures: tuple[float, ...] = ()
    """Of those that were measured, wet basis. [0–1]"""
    girths: tuple[float, ...] = ()
    """[cm]"""
    own: float | None = None
    """What the buyer's own bundle weighs. [kg]"""

    def __post_init__(self):
        COUNT.check(self.count)
        for limit, values in (
            (WEIGHT, (*self.weights, *([self.own] if self.own else []))),
            (MOISTURE, self.moistures),
            (GIRTH, self.girths),
        ):
            for value in values:
                limit.check(value)


@dataclasses.dataclass(frozen=True)
class Tally:
    """The answer."""

    question: BundlesQuestion
    each: float | None
    """Mean weight of one at the trade's moisture; as weighed, if none was measured.
    [kg]"""
    low: float | None
    """Of all of them; None where fewer than two were weighed. [kg]"""
    high: float | None
    moisture: float | None
    """As they lay, wet basis. [0–1]"""
    at: float
    """Moisture to which weights are reckoned. [0–1]"""
    units: dict[str, float]
    """The same weight in bundles of the trade, and of the buyer's own."""

    @property
    def weight(self):
        """Of all of them. [kg]"""
        return None if self.each is None else self.each * self.question.count

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        count = say_n("{n:,} bundle.", "{n:,} bundles.", self.question.count)
        if self.weight is None:
            return joined(count, say(NOT_WEIGHED), self._girth())
        return joined(count, self._weigh(), self._are(), self._girth())

    def _girth(self):
        """How large they are round, where anybody measured."""
        if not self.question.girths:
            return ""
        girth = measured(_mean(self.question.girths), "cm", ".0f")
        return say("They are {girth} round.", girth=girth)

    def _weigh(self):
        total = measured(self.weight, "kg", ",.0f")
        if self.low is not None:
            between = say(
                "{low} to {high}",
                low=measured(self.low, "kg", ",.0f"),
                high=measured(self.high, "kg", ",.0f"),
            )
            total = say("{total} ({between})", total=total, between=between)
        if self.moisture is None:
            return joined(say("They weigh {total}.", total=total), say(AS_WEIGHED))
        return say("At {at:.0%} moisture they weigh {total}.", total=total, at=self.at)

    def _are(self):
        """The same weight in bundles of the trade, and of the buyer's own."""
        if "own" in self.units:
            return say(
                "That is {nitches:,.1f} nitches of 28 lb, or {own:,.1f} of the buyer's "
                "own of {each}.",
                nitches=self.units["nitch"],
                own=self.units["own"],
                each=measured(self.question.own, "kg", ".1f"),
            )
        return say(
            "That is {nitches:,.1f} nitches of 28 lb.", nitches=self.units["nitch"]
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question = self.question
        weighed = say_n(
            "{n} bundle was weighed.",
            "{n} bundles were weighed.",
            len(question.weights),
        )
        yield Step(weighed, YOU, GIVEN)
        if self.weight is None:
            return
        if self.moisture is not None:
            yield step_from_rows(
                say(
                    "At {moisture:.1%} moisture as they lay, reckoned to {at:.0%}.",
                    moisture=self.moisture,
                    at=self.at,
                ),
                grades.grade_row("bundles", "moisture"),
            )
        yield step_from_rows(
            say(
                "A nitch is {nitch}, a small bundle {small}, a truss {truss}.",
                **{
                    n: measured(getattr(grades.bundles(), n), "kg", ".2f")
                    for n in NAMED
                },
            ),
            *(grades.grade_row("bundles", name) for name in NAMED),
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "bundles": self.question.count,
            "weighed": len(self.question.weights),
            "bundle_kg": short(self.each),
            "weight_kg": short(self.weight),
            "weight_low_kg": short(self.low),
            "weight_high_kg": short(self.high),
            "moisture": short(self.moisture),
            "reckoned_to_moisture": self.at,
            "girth_cm": short(_mean(self.question.girths)),
            "in_trade_bundles": {n: round(v, 2) for n, v in self.units.items()},
            "working": steps_to_json(self.working),
        }


def _mean(values):
    return float(np.mean(values)) if len(values) else None


def tally(question):
    """The `Tally` of a `BundlesQuestion`."""
    trade = grades.bundles()
    moisture = _mean(question.moistures)
    weights = np.array(question.weights, dtype=float)
    if moisture is not None:
        weights = weight_at(weights, moisture, trade.moisture)
    each, low, high = _mean(weights), None, None
    if len(weights) > 1:
        low, high = student_interval(weights, CONFIDENCE)
        low, high = (float(max(end, 0)) * question.count for end in (low, high))
    return Tally(
        question=question,
        each=each,
        low=low,
        high=high,
        moisture=moisture,
        at=trade.moisture,
        units=_in_units(each, question, trade),
    )


def _in_units(each, question, trade):
    if each is None:
        return {}
    whole = each * question.count
    units = {name: whole / getattr(trade, name) for name in NAMED}
    return units | ({"own": whole / question.own} if question.own else {})
