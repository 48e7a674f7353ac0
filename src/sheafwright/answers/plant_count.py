"""Does enough of it stand, at three leaves, and what is to be done if not?"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.limits import Limit, check_given
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import plant_count as counting
from sheafwright.core.stand.germination import Interval
from sheafwright.feeds import crop
from sheafwright.feeds import sowing as table
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, measured, say, told

ENOUGH, SHORT, UNSURE, AGAIN, THICK = "enough", "short", "unsure", "again", "thick"
MOST_SPOTS, MOST_PLANTS = 100, 2000
LIMITS = {
    "area": Limit(mark("A spot of {measure}"), 0.01, 10, "m²"),
    "target": Limit(mark("An aim of {measure}"), 1, 1000, mark("plants/m²")),
}
LAST_RESORT = "spring"
"""The class of wheat that may be sown the latest."""
CLASS_NAMES = {
    "end-january": mark("end-january"),
    "mid-february": mark("mid-february"),
    "end-february": mark("end-february"),
    "alternative": mark("alternative"),
    "spring": mark("spring"),
}
COUNT_PATCHES = mark(
    "Count the bare patches apart from the rest before anything is done."
)
COUNT_MORE = mark("Count more spots, ten or more in all, before anything is done.")
AGAINST = {
    ENOUGH: mark("not surely fewer than the {target:.0f} aimed for"),
    SHORT: mark("short of the {target:.0f} aimed for"),
    THICK: mark("thicker than the {target:.0f} aimed for"),
    UNSURE: mark(
        "too few spots to tell it from the {least:g} below which a stand is sown again"
    ),
    AGAIN: mark("below the {least:g} at which a stand is worth keeping"),
}
WIDER = mark(
    "The interval is the wider of two: that of plants fallen by chance alone, and that "
    "of the spots' own spread."
)
INTERVALS = mark(
    "Garwood, Biometrika 28, 1936; Student, Biometrika 6, 1908; Fisher, Thornton and "
    "Mackenzie, Annals of Applied Biology 9, 1922"
)


@dataclasses.dataclass(frozen=True)
class CountQuestion:
    """Plants counted in spots of one size, taken without looking."""

    counted: tuple[int, ...]
    """Plants in each spot."""
    area: float
    """Of one spot; of a length of row, `row_spot`. [m²]"""
    target: float
    """Plants aimed for. [m⁻²]"""
    on: datetime.date
    """The day of the count."""
    variety_class: str = "end-january"
    """Of `feeds.crop.variety_classes`: how late it may be sown."""

    def __post_init__(self):
        check_given(self, LIMITS)
        if not 1 <= len(self.counted) <= MOST_SPOTS:
            raise OutOfRange(
                "{n} spots were counted; it should be 1 to {most}, best ten or more.",
                n=len(self.counted),
                most=MOST_SPOTS,
            )
        for number, plants in enumerate(self.counted, 1):
            if not 0 <= plants <= MOST_PLANTS:
                raise OutOfRange(
                    "Spot {number} has {plants:g} plants; it should be from 0 to "
                    "{most:,}.",
                    number=number,
                    plants=plants,
                    most=MOST_PLANTS,
                )
        crop.latest_sowing(self.variety_class)


def row_spot(length, row_spacing):
    """Ground that a length of row stands for. [m²]

    Parameters
    ----------
    length : float
        [m]
    row_spacing : float
        [cm]
    """
    return float(counting.row_area(length, row_spacing / 100))


@dataclasses.dataclass(frozen=True)
class PlantCount:
    """The answer."""

    question: CountQuestion
    plants: float
    """[m⁻²]"""
    interval: Interval
    """Where the true density lies. [m⁻²]"""
    confidence: float
    uneven: float | None
    """Chance that an even stand differs so much; None where nothing tells. [0–1]"""
    patchy: bool
    least: float
    """A stand below this is sown again. [m⁻²]"""

    @property
    def verdict(self):
        """What the whole interval allows to be said."""
        low, high = self.interval
        if high < self.least:
            return AGAIN
        if low < self.least:
            return UNSURE
        if high < self.question.target:
            return SHORT
        if low > max(self.question.target, table.thick_seed().plants_most):
            return THICK
        return ENOUGH

    @property
    def may_sow_again(self):
        """Whether its class may still be sown on the day of the count."""
        return _in_time(self.question.variety_class, self.question.on)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(self._stands(), *self._advice())

    def _stands(self):
        low, high = self.interval
        against = AGAINST[self.verdict]
        return say(
            "{plants:.0f} plants/m² stand, between {low:.0f} and {high:.0f} at "
            "{sure:g} in 100: {against}.",
            plants=self.plants,
            low=low,
            high=high,
            sure=100 * self.confidence,
            against=say(against, target=self.question.target, least=self.least),
        )

    def _advice(self):
        rows, verdict = shipped("sowing")["short"], self.verdict
        if verdict == AGAIN:
            yield self._sow_again()
            return
        if verdict == UNSURE:
            yield say(COUNT_PATCHES if self.patchy else COUNT_MORE)
        if verdict == ENOUGH:
            yield say("Leave it.")
        if verdict == THICK:
            yield say("It is apt to lodge: give it no more manure.")
        if verdict == SHORT:
            yield told(rows["leave"].value)
            yield told(rows["help"].value)
        if self.patchy and verdict == SHORT:
            yield told(rows["patch"].value)

    def _sow_again(self):
        if self.may_sow_again:
            until = _latest(self.question.variety_class, self.question.on)
            return say(
                "Sow it again as soon as a bed can be made, by {day}.",
                day=wording.near_date(until),
            )
        if _in_time(LAST_RESORT, self.question.on):
            until = _latest(LAST_RESORT, self.question.on)
            return say(
                "It is too late to sow that wheat again: plough it in for a spring "
                "wheat by {day}, or for another crop.",
                day=wording.near_date(until),
            )
        return say("It is too late to sow wheat again: plough it in for another crop.")

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question, row = self.question, table.sowing_row
        counted = say(
            "{counted} plants in spots of {area}.",
            counted=joined(*(f"{plants:g}" for plants in question.counted), by=", "),
            area=measured(question.area, "m²", ".3g"),
        )
        yield Step(counted, YOU, GIVEN)
        confidence, least = row("count", "confidence"), row("count", "least")
        yield Step(
            joined(say(WIDER), self._evenness()),
            joined(told(INTERVALS), told(confidence.source), by="; "),
            confidence.standing,
        )
        yield step_from_rows(
            say("A stand below {least} plants/m² is sown again.", least=least.value),
            least,
        )
        yield self._may_be_sown()
        if self.verdict == SHORT:
            for name in ("leave", "help", "patch"):
                yield step_from_rows(row("short", name).value, row("short", name))

    def _may_be_sown(self):
        question = self.question
        return step_from_rows(
            say(
                "A wheat of class {name} may be sown until {day}.",
                name=told(CLASS_NAMES[question.variety_class]),
                day=wording.near_date(_latest(question.variety_class, question.on)),
            ),
            shipped("vernalisation")["latest_sowing"][question.variety_class],
        )

    def _evenness(self):
        if self.uneven is None:
            return say("So few plants tell nothing of patches.")
        if self.patchy:
            return say("The spots differ by more than chance: it stands in patches.")
        return say("The spots differ by no more than chance allows.")

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "counted_by_spot": list(self.question.counted),
            "spot_area_m2": self.question.area,
            "plants_per_m2": round(self.plants, 2),
            "plants_low_per_m2": round(self.interval.low, 2),
            "plants_high_per_m2": round(self.interval.high, 2),
            "confidence": self.confidence,
            "target_plants_per_m2": self.question.target,
            "least_plants_per_m2": self.least,
            "verdict": self.verdict,
            "patchy": self.patchy,
            "may_sow_again": self.may_sow_again,
            "working": steps_to_json(self.working),
        }


def plant_count(question):
    """The `PlantCount` of a `CountQuestion`."""
    rules = table.count_rules()
    spots = question.counted, question.area
    uneven = _uneven(question.counted)
    return PlantCount(
        question=question,
        plants=float(counting.density(*spots)),
        interval=Interval(
            *map(float, counting.density_interval(*spots, rules.confidence))
        ),
        confidence=rules.confidence,
        uneven=uneven,
        patchy=uneven is not None and uneven < rules.uneven_below,
        least=rules.least,
    )


def _uneven(counted):
    if len(counted) == 1 or not any(counted):
        return None
    return float(counting.chance_so_uneven(counted))


def _latest(variety_class, on):
    """Last day of this season on which the class may be sown."""
    latest = crop.latest_sowing(variety_class)
    return datetime.date(table.harvest_year(on), 1, 1) + datetime.timedelta(latest - 1)


def _in_time(variety_class, on):
    return on <= _latest(variety_class, on)
