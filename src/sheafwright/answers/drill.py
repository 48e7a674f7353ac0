"""What does the drill sow, and where should it be set?"""

import dataclasses
import math

from sheafwright.answers import wording
from sheafwright.answers.limits import Limit
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import drill
from sheafwright.core.stand.germination import Interval
from sheafwright.feeds import sowing as table
from sheafwright.feeds.telling import mark
from sheafwright.feeds.units import show

LIMITS = {
    "wanted": Limit(mark("A rate of {measure}"), 1, 1000, "kg/ha"),
    "distance": Limit(mark("A run of {measure}"), 1, 10_000, "m"),
    "width": Limit(mark("A width of {measure}"), 0.05, 20, "m"),
}
SETTING = Limit(mark("A setting of {value:g}"), 0.001, 10_000, "of the drill's scale")
CATCH = Limit(mark("A catch of {measure}"), 0.0001, 1000, "kg")
GIRTH = Limit(mark("A wheel {measure} round"), 0.3, 8, "m")
TURNS = Limit(mark("{value:g} turns of the wheel"), 0.1, 1000, "turns")
MOST_CATCHES, MOST_TESTS = 50, 2
BEST_CATCHES = 4
CAUTION = (
    "Stop the drive and take out the key before a hand goes near the rollers or the "
    "chains; chock the drill when it is jacked up, and turn the wheel by hand. Wear a "
    "mask and gloves for dusty seed. Local rules and trained people come first."
)
STUDENT = "Student, Biometrika 6, 1908"


@dataclasses.dataclass(frozen=True)
class TrayTest:
    """The drill run over trays at one setting."""

    setting: float
    """Of the drill's own scale, more for more seed."""
    catches: tuple[float, ...]
    """Each caught in the same distance. [kg]"""


@dataclasses.dataclass(frozen=True)
class DrillQuestion:
    """One or two settings, tested for the rate that is wanted."""

    wanted: float
    """[kg ha⁻¹]"""
    distance: float
    """Run while each catch was made; of a wheel, `drill.distance_run`. [m]"""
    width: float
    """Sown by the coulters whose seed was caught. [m]"""
    tests: tuple[TrayTest, ...]

    def __post_init__(self):
        for name, limit in LIMITS.items():
            limit.check(getattr(self, name))
        if not 1 <= len(self.tests) <= MOST_TESTS:
            raise OutOfRange(
                f"{len(self.tests)} settings were tested; it should be one or two."
            )
        for test in self.tests:
            SETTING.check(test.setting)
            _check_catches(test.catches)
        if len({test.setting for test in self.tests}) < len(self.tests):
            raise OutOfRange(
                f"Setting {self.tests[0].setting:g} is given twice; put all its "
                f"catches together, or test another."
            )


def _check_catches(catches):
    if not 1 <= len(catches) <= MOST_CATCHES:
        raise OutOfRange(
            f"{len(catches)} catches are no test; it should be 1 to {MOST_CATCHES}, "
            f"best {BEST_CATCHES}."
        )
    for catch in catches:
        CATCH.check(catch)


def wheel_distance(circumference, turns):
    """Distance that a land wheel's turns stand for. [m]

    Parameters
    ----------
    circumference : float
        [m]
    turns : float
    """
    GIRTH.check(circumference)
    TURNS.check(turns)
    return float(drill.distance_run(circumference, turns))


@dataclasses.dataclass(frozen=True)
class Delivered:
    """What one setting gave."""

    setting: float
    catches: int
    rate: float
    """[kg ha⁻¹]"""
    spread: float | None
    """Standard deviation over the mean; None of one catch. [1]"""
    interval: Interval | None
    """Where the true rate lies; None of one catch. [kg ha⁻¹]"""
    more: int | None
    """Catches that would narrow it enough; None where nothing tells."""


@dataclasses.dataclass(frozen=True)
class Calibration:
    """The answer."""

    question: DrillQuestion
    tested: tuple[Delivered, ...]
    nearest: Delivered
    """The one that came nearest to what is wanted."""
    setting: float
    """That should sow it."""
    confidence: float
    within: float
    """To which more catches would narrow the rate. [1]"""

    @property
    def right(self):
        """Whether a tested setting can't be told from what is wanted."""
        interval = self.nearest.interval
        return interval is not None and (
            interval.low <= self.question.wanted <= interval.high
        )

    @property
    def beyond(self):
        """Whether the setting lies outside those that were tested."""
        settings = [each.setting for each in self.tested]
        return not min(settings) <= self.setting <= max(settings)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return " ".join((self._advice(), self._given(), self._narrower()))

    def _advice(self):
        wanted, nearest = show(self.question.wanted, "rate"), self.nearest
        if self.right and self.nearest.more == 0:
            return f"Leave the drill at {nearest.setting:g}: it sows the {wanted}."
        if self.right:
            return (
                f"Leave the drill at {nearest.setting:g} for now: so few catches can't "
                f"tell what it sows from the {wanted} wanted."
            )
        again = ", and catch again there" if self.beyond else ""
        return f"Set the drill to {self.setting:.3g} for {wanted}{again}."

    def _given(self):
        return f"{wording.listed([self._gave(each) for each in self.tested])}."

    def _gave(self, each):
        gave = f"At {each.setting:g} it gave {show(each.rate, 'rate')}"
        if each is not self.tested[0]:
            gave = f"at {each.setting:g} {show(each.rate, 'rate')}"
        if each.interval is None:
            return gave
        low, high = (f"{end:.0f}" for end in each.interval)
        return f"{gave}, between {low} and {high} at {100 * self.confidence:g} in 100"

    def _narrower(self):
        more, within = self.nearest.more, f"±{100 * self.within:g}%"
        at = f" at {self.nearest.setting:g}" if len(self.tested) > 1 else ""
        if self.nearest.interval is None:
            return (
                f"One catch tells nothing of how evenly it sows: catch "
                f"{BEST_CATCHES - 1} more{at}."
            )
        if more is None:
            return f"It sows too unevenly{at} for catches to narrow that to {within}."
        if more == 0:
            return f"That is within {within}{at}: no more catches are needed."
        return f"{more} more catch{'es' * (more != 1)}{at} would narrow it to {within}."

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question = self.question
        for test, gave in zip(question.tests, self.tested, strict=True):
            caught = ", ".join(f"{catch:g}" for catch in test.catches)
            yield Step(
                f"{caught} kg at {test.setting:g}, in {question.distance:g} m of "
                f"{question.width:g} m width: {gave.rate:.1f} kg/ha.",
                "You",
                GIVEN,
            )
        yield step_from_rows(
            f"Intervals are Student's ({STUDENT}); the catches to come should scatter "
            f"as those made, and narrow the mean to {self.within:.0%}.",
            *(table.sowing_row("drill_test", n) for n in ("confidence", "within")),
        )
        yield Step(self._how_set(), "Our choice", "assumed")

    def _how_set(self):
        if len(self.tested) == 1:
            return "The setting is in proportion, as if nothing were sown at 0."
        return "The setting lies on the straight line through the two tested."

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": CAUTION,
            "wanted_kg_per_ha": self.question.wanted,
            "distance_m": self.question.distance,
            "width_m": self.question.width,
            "setting": round(self.setting, 4),
            "setting_beyond_tested": self.beyond,
            "tested_setting_right": self.right,
            "confidence": self.confidence,
            "within_share": self.within,
            "tested": [_to_json(each) for each in self.tested],
            "working": steps_to_json(self.working),
        }


def _to_json(each):
    low, high = each.interval or (None, None)
    return {
        "setting": each.setting,
        "catches": each.catches,
        "rate_kg_per_ha": round(each.rate, 3),
        "rate_low_kg_per_ha": low if low is None else round(low, 3),
        "rate_high_kg_per_ha": high if high is None else round(high, 3),
        "spread_share": each.spread if each.spread is None else round(each.spread, 5),
        "more_catches": each.more,
    }


def drill_calibration(question):
    """The `Calibration` of a `DrillQuestion`."""
    rules = table.drill_test()
    tested = tuple(_delivered(question, test, rules) for test in question.tests)
    return Calibration(
        question=question,
        tested=tested,
        nearest=min(tested, key=lambda each: abs(each.rate - question.wanted)),
        setting=_setting(tested, question.wanted),
        confidence=rules.confidence,
        within=rules.within,
    )


def _delivered(question, test, rules):
    rates = drill.delivered(test.catches, question.distance, question.width)
    if len(rates) == 1:
        return Delivered(test.setting, 1, float(rates[0]), None, None, None)
    spread = float(drill.spread_of(rates))
    low, high = map(float, drill.student_interval(rates, rules.confidence))
    wanted = float(drill.catches_wanted(spread, rules.within, rules.confidence))
    return Delivered(
        setting=test.setting,
        catches=len(rates),
        rate=float(rates.mean()),
        spread=spread,
        # No drill sows less than nothing, however wide the interval.
        interval=Interval(max(low, 0.0), high),
        more=None if math.isnan(wanted) else max(int(wanted) - len(rates), 0),
    )


def _setting(tested, wanted):
    rates = [each.rate for each in tested]
    if len(tested) == 1:
        first = tested[0].setting
        return float(drill.setting_in_proportion(first, rates[0], wanted))
    if math.isclose(*rates, rel_tol=1e-6):
        raise OutOfRange(
            "Both settings gave the same, so nothing tells where to set the drill; "
            "test two that lie further apart."
        )
    settings = [each.setting for each in tested]
    return _positive(float(drill.setting_between(settings, rates, wanted)))


def _positive(setting):
    if setting <= 0:
        raise OutOfRange(
            "The line through the two settings reaches the rate wanted below 0; it "
            "should be tested nearer to that rate."
        )
    return setting
