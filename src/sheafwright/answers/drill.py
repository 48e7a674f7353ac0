"""What does the drill sow, and where should it be set?"""

import dataclasses
import math

from sheafwright.answers.limits import Limit, check_given
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import drill
from sheafwright.core.stand.germination import Interval
from sheafwright.feeds import sowing as table
from sheafwright.feeds.telling import (
    joined,
    listed,
    mark,
    measured,
    say,
    say_n,
    shown,
    told,
)

LIMITS = {
    "wanted": Limit(mark("A rate of {measure}"), 1, 1000, "kg/ha"),
    "distance": Limit(mark("A run of {measure}"), 1, 10_000, "m"),
    "width": Limit(mark("A width of {measure}"), 0.05, 20, "m"),
}
SETTING = Limit(
    mark("A setting of {value:g}"), 0.001, 10_000, mark("of the drill's scale")
)
CATCH = Limit(mark("A catch of {measure}"), 0.0001, 1000, "kg")
GIRTH = Limit(mark("A wheel {measure} round"), 0.3, 8, "m")
TURNS = Limit(mark("{value:g} turns of the wheel"), 0.1, 1000, mark("turns"))
MOST_CATCHES, MOST_TESTS = 50, 2
BEST_CATCHES = 4
CAUTION = mark(
    "Stop the drive and take out the key before a hand goes near the rollers or the "
    "chains; chock the drill when it is jacked up, and turn the wheel by hand. Wear a "
    "mask and gloves for dusty seed. Local rules and trained people come first."
)
STUDENT = "Student, Biometrika 6, 1908"
LEAVE = mark("Leave the drill at {setting:g}: it sows the {wanted}.")
LEAVE_FOR_NOW = mark(
    "Leave the drill at {setting:g} for now: so few catches can't tell what it sows "
    "from the {wanted} wanted."
)
SET = mark("Set the drill to {setting:.3g} for {wanted}.")
SET_AND_CATCH = mark(
    "Set the drill to {setting:.3g} for {wanted}, and catch again there."
)
AT_FIRST = mark("At {setting:g} it gave {rate}")
AT_ANOTHER = mark("at {setting:g} {rate}")
ONE_CATCH = mark("One catch tells nothing of how evenly it sows: catch {n} more{at}.")
TOO_UNEVEN = mark("It sows too unevenly{at} for catches to narrow that to {within}.")
NARROW = mark("That is within {within}{at}: no more catches are needed.")


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
        check_given(self, LIMITS)
        if not 1 <= len(self.tests) <= MOST_TESTS:
            raise OutOfRange(
                "{n} settings were tested; it should be one or two.", n=len(self.tests)
            )
        for test in self.tests:
            SETTING.check(test.setting)
            _check_catches(test.catches)
        if len({test.setting for test in self.tests}) < len(self.tests):
            raise OutOfRange(
                "Setting {setting:g} is given twice; put all its catches together, or "
                "test another.",
                setting=self.tests[0].setting,
            )


def _check_catches(catches):
    if not 1 <= len(catches) <= MOST_CATCHES:
        raise OutOfRange(
            "{n} catches are no test; it should be 1 to {most}, best {best}.",
            n=len(catches),
            most=MOST_CATCHES,
            best=BEST_CATCHES,
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
        return joined(self._advice(), self._given(), self._narrower())

    def _advice(self):
        wanted = shown(self.question.wanted, "rate")
        if self.right:
            says = LEAVE if self.nearest.more == 0 else LEAVE_FOR_NOW
            return say(says, setting=self.nearest.setting, wanted=wanted)
        says = SET_AND_CATCH if self.beyond else SET
        return say(says, setting=self.setting, wanted=wanted)

    def _given(self):
        return say("{tests}.", tests=listed([self._gave(each) for each in self.tested]))

    def _gave(self, each):
        says = AT_FIRST if each is self.tested[0] else AT_ANOTHER
        gave = say(says, setting=each.setting, rate=shown(each.rate, "rate"))
        if each.interval is None:
            return gave
        return say(
            "{gave}, between {low} and {high} at {sure:g} in 100",
            gave=gave,
            low=shown(each.interval.low, "rate"),
            high=shown(each.interval.high, "rate"),
            sure=100 * self.confidence,
        )

    def _narrower(self):
        more, within = self.nearest.more, say("±{n:g}%", n=100 * self.within)
        at = ""
        if len(self.tested) > 1:
            at = say(" at {setting:g}", setting=self.nearest.setting)
        if self.nearest.interval is None:
            return say(ONE_CATCH, n=BEST_CATCHES - 1, at=at)
        if more is None:
            return say(TOO_UNEVEN, at=at, within=within)
        if more == 0:
            return say(NARROW, at=at, within=within)
        return say_n(
            "{n} more catch{at} would narrow it to {within}.",
            "{n} more catches{at} would narrow it to {within}.",
            more,
            at=at,
            within=within,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question = self.question
        for test, gave in zip(question.tests, self.tested, strict=True):
            says = say(
                "{caught} at {setting:g}, in {distance} of {width} width: {rate}.",
                caught=joined(*map(_caught, test.catches), by=", "),
                setting=test.setting,
                distance=measured(question.distance, "m"),
                width=measured(question.width, "m"),
                rate=measured(gave.rate, "kg/ha", ".1f"),
            )
            yield Step(says, YOU, GIVEN)
        yield step_from_rows(
            say(
                "Intervals are Student's ({paper}); the catches to come should scatter "
                "as those made, and narrow the mean to {within:.0%}.",
                paper=STUDENT,
                within=self.within,
            ),
            *(table.sowing_row("drill_test", n) for n in ("confidence", "within")),
        )
        yield Step(self._how_set(), "Our choice", "assumed")

    def _how_set(self):
        if len(self.tested) == 1:
            return say("The setting is in proportion, as if nothing were sown at 0.")
        return say("The setting lies on the straight line through the two tested.")

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": told(CAUTION),
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


def _caught(mass):
    # A handful is weighed on the kitchen scales.
    if mass < 1:
        return say("{grams:g} g", grams=1000 * mass)
    return measured(mass, "kg")


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
