"""How many bundles of a lot to open, which, and how many stems to draw from each?"""

import dataclasses
import math

import numpy as np

from sheafwright.answers.bands import short
from sheafwright.answers.grade import (
    COCHRAN,
    SKELLAM,
    check_rule,
    check_use,
    stems_each,
)
from sheafwright.answers.hand_grade import USES
from sheafwright.answers.limits import Limit
from sheafwright.answers.working import (
    GIVEN,
    YOU,
    Step,
    step_from_rows,
    steps_to_json,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.core.grading import acceptance, two_stage
from sheafwright.core.inputs.grading import GradeRule
from sheafwright.feeds import grades
from sheafwright.feeds.telling import joined, mark, say, say_n

BUNDLES = Limit(mark("A lot of {value:,g} bundles"), 1, 1_000_000, mark("bundles"))
ALIKE = Limit(mark("Stems alike by {value:g}"), 0.001, 0.95, mark("of 1"))
SHARE = Limit(mark("A share of {value:g}%"), 0.5, 0.995, "%", 100)
PULL = mark("Pull these bundles, chosen by lot and not by eye: {numbers}.")
ALL_OF_THEM = mark("That is every bundle that is left: the lot is that small.")
TOO_FEW = mark("So few bundles can't tell a good lot from a bad one.")
FAIR = 0.9
"""Chance of passing below which a plan is not fair to good lots. [0–1]"""
MOST_BUNDLES = 60
"""Of a plan that tells good lots from bad."""
MIL_105 = mark("MIL-STD-105E, 1989")
MIL_414 = mark(
    "G. J. Lieberman and G. J. Resnikoff, Journal of the American Statistical "
    "Association 50, 1955"
)
OF_BROKEN = tuple(n / 100 for n in range(0, 52, 4))
"""Shares of stems that break the rule, of which is told how often a lot passes. [1]"""


@dataclasses.dataclass(frozen=True)
class SamplingQuestion:
    """A lot of so many bundles, and what it is wanted for."""

    bundles: int
    use: str = "coatwork"
    rule: GradeRule | None = None
    """The holding's own; the package's, if not given."""
    share: float | None = None
    """Of stems that keep the rule, as is thought; or as grade 1 asks. [0–1]"""
    alike: float | None = None
    """Correlation of two stems of a bundle, as earlier ones had it. [0–1]"""
    more: int | None = None
    """Bundles that would settle a grade; as many as such a lot wants, if not given."""
    opened: tuple[int, ...] = ()
    """Numbers of bundles that were opened already."""
    seed: int = 1
    """Of the draw by lot."""

    def __post_init__(self):
        BUNDLES.check(self.bundles)
        check_use(self.use)
        if self.share is not None:
            SHARE.check(self.share)
        if self.alike is not None:
            ALIKE.check(self.alike)
        if self.rule is not None:
            check_rule(self.rule)
        if len(set(self.opened)) >= self.bundles:
            raise OutOfRange(
                "All {n} bundles were opened already; there is none left to pull.",
                n=self.bundles,
            )

    @property
    def asks(self):
        """The rule that holds."""
        return self.rule or grades.grade_rule(self.use)


@dataclasses.dataclass(frozen=True)
class Acceptance:
    """A plan to take or refuse the lot."""

    stems: int
    """If they are drawn one by one, all over the lot."""
    limit: float
    """Stems that may break the rule; or standard deviations to the length's limit."""
    passes: tuple[float, ...]
    """Chance that a lot passes at each of ``OF_BROKEN``. [0–1]"""


@dataclasses.dataclass(frozen=True)
class SamplingPlan:
    """The answer."""

    question: SamplingQuestion
    alike: float
    share: float
    open: int
    """Bundles to open."""
    each: int
    """Stems from each."""
    numbers: tuple[int, ...]
    """Of the bundles to open, from 1."""
    within: float
    """Half the width of the interval that it leaves. [1]"""
    wanted: float
    """Half the width that was wanted. [1]"""
    confidence: float
    good: float
    """Share of broken stems of a lot that should pass. [0–1]"""
    bad: float
    """Share of broken stems of a lot that should not. [0–1]"""
    passes_good: float | None
    """Chance that the good one does. [0–1]"""
    passes_bad: float | None
    """Chance that the bad one does. [0–1]"""
    in_bundles: Acceptance | None
    """Of the stems that are drawn; None where so few bundles can't tell."""
    by_count: Acceptance | None
    by_measure: Acceptance | None

    @property
    def minutes(self):
        """That it takes, about. [min]"""
        look = grades.looking()
        stems = self.open * self.each
        return self.open * look.bundle_minutes + stems * look.stem_minutes

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if self.question.more:
            # Then it is a grade that is asked for, which says all the rest.
            return joined(self._open(), self._numbers())
        return joined(self._open(), self._numbers(), self._known(), self._passes())

    def _open(self):
        return say_n(
            "Open {n} bundle and draw {each} stems from it: about {minutes:.0f} "
            "minutes.",
            "Open {n} bundles and draw {each} stems from each: about {minutes:.0f} "
            "minutes.",
            self.open,
            each=self.each,
            minutes=self.minutes,
        )

    def _numbers(self):
        if self.open >= self.question.bundles - len(set(self.question.opened)):
            return say(ALL_OF_THEM)
        return say(PULL, numbers=joined(*map(str, self.numbers), by=", "))

    def _known(self):
        return say(
            "The share of stems fit for {use} is then known to ±{within:.0%}, at "
            "{sure:g} in 100.",
            use=say(USES[self.question.use]),
            within=self.within,
            sure=100 * self.confidence,
        )

    def _passes(self):
        if self.in_bundles is None or self.passes_good < FAIR:
            return say(TOO_FEW)
        return say(
            "Take it for grade 1 if of these {stems} stems {allowed:g} or fewer break "
            "the rule.",
            allowed=self.in_bundles.limit,
            stems=self.in_bundles.stems,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        yield Step(
            say_n("{n} bundle.", "{n} bundles.", self.question.bundles), YOU, GIVEN
        )
        yield self._two_stages()
        yield self._width()
        if self.in_bundles:
            yield self._in_bundles()
        if self.by_count:
            yield self._attributes()
        if self.by_measure:
            yield self._variables()

    def _two_stages(self):
        said = say(
            "Two stems of a bundle are alike by {alike:.2f}, so {each} from each tell "
            "the most for the time ({source}).",
            alike=self.alike,
            each=self.each,
            source=say(COCHRAN),
        )
        if self.question.alike is not None:
            return Step(said, YOU, GIVEN)
        rows = [
            grades.grade_row("looking", n) for n in ("bundle_minutes", "stem_minutes")
        ]
        return step_from_rows(said, grades.grade_row("count", "alike"), *rows)

    def _width(self):
        said = say(
            "If {share:.0%} of the stems keep the rule, that share is wanted to "
            "±{within:.0%}.",
            share=self.share,
            within=self.wanted,
        )
        rows = (grades.grade_row("looking", n) for n in ("within", "confidence"))
        return step_from_rows(said, *rows)

    def _in_bundles(self):
        said = say(
            "A lot of whose stems {good:.1%} break the rule should pass, one of whose "
            "{bad:.1%} do should not: they do {passes:.0%} and {slips:.0%} of the time "
            "({source}).",
            good=self.good,
            bad=self.bad,
            passes=self.passes_good,
            slips=self.passes_bad,
            source=say(SKELLAM),
        )
        return step_from_rows(said, *_risks())

    def _attributes(self):
        said = say(
            "Drawn one by one from all over the lot, {stems} stems would do, of which "
            "{limit:g} may break the rule ({source} has such plans).",
            stems=self.by_count.stems,
            limit=self.by_count.limit,
            source=say(MIL_105),
        )
        return step_from_rows(said, *_risks())

    def _variables(self):
        said = say(
            "By length alone: {stems} stems measured, their mean {k:.2f} standard "
            "deviations or more above the least length ({source}); lengths must then "
            "scatter as the normal curve does.",
            stems=self.by_measure.stems,
            k=self.by_measure.limit,
            source=say(MIL_414),
        )
        return step_from_rows(said, *_risks())

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "use": self.question.use,
            "bundles": self.question.bundles,
            "seed": self.question.seed,
            "alike": round(self.alike, 4),
            "open_bundles": self.open,
            "stems_from_each_bundle": self.each,
            "bundle_numbers": list(self.numbers),
            "minutes": round(self.minutes, 1),
            "within_share": round(self.within, 4),
            "confidence": self.confidence,
            "good_broken_share": round(self.good, 4),
            "bad_broken_share": round(self.bad, 4),
            "good_passes": short(self.passes_good),
            "bad_passes": short(self.passes_bad),
            "in_bundles": _to_json(self.in_bundles, "broken_stems_allowed"),
            "by_count": _to_json(self.by_count, "broken_stems_allowed"),
            "by_measure": _to_json(self.by_measure, "standard_deviations"),
            "working": steps_to_json(self.working),
        }


def _risks():
    return (grades.grade_row("looking", n) for n in ("producers", "buyers"))


def _to_json(plan, limit):
    if plan is None:
        return None
    curve = zip(OF_BROKEN, plan.passes, strict=True)
    return {
        "stems": plan.stems,
        limit: round(plan.limit, 4),
        "operating_characteristic": [
            {"broken_share": share, "chance_of_passing": round(chance, 4)}
            for share, chance in curve
        ],
    }


def sampling(question):
    """The `SamplingPlan` of a `SamplingQuestion`."""
    rule, look = question.asks, grades.looking()
    alike = grades.stem_count().alike if question.alike is None else question.alike
    share = rule.first if question.share is None else question.share
    each = stems_each(alike)
    risks = _risks_of(rule, look)
    spread = two_stage.spread_of_share(share, alike)
    wanted = question.more or _to_open(
        spread, each, risks, alike, question.bundles, look
    )
    rng = np.random.default_rng(question.seed)
    numbers = two_stage.numbers_to_pull(question.bundles, wanted, rng, question.opened)
    bundles = len(numbers)
    variance = two_stage.variance_of_mean(spread, bundles, each, question.bundles)
    good, bad, *_ = risks
    return SamplingPlan(
        question=question,
        alike=alike,
        share=share,
        open=bundles,
        each=each,
        numbers=tuple(map(int, numbers)),
        within=float(two_stage.half_width(variance, look.confidence)),
        wanted=look.within,
        confidence=look.confidence,
        good=good,
        bad=bad,
        **_in_bundles(risks, bundles, each, alike),
        by_count=_curve(acceptance.plan_by_count(*risks), acceptance.passes_by_count),
        by_measure=_curve(
            acceptance.plan_by_measure(*risks), acceptance.passes_by_measure
        ),
    )


def _risks_of(rule, look):
    """What is told apart, and how often that may fail."""
    # Half of what grade 1 lets be broken is good; half way to what grade 2 lets is bad.
    good, bad = (1 - rule.first) / 2, 1 - (rule.first + rule.second) / 2
    return good, bad, look.producers, look.buyers


def _to_open(spread, each, risks, alike, of_bundles, look):
    """Bundles that tell the share so nearly, and good lots from bad; 2 at the least."""
    wanted = two_stage.bundles_wanted(
        spread, each, look.within, look.confidence, of_bundles
    )
    most = min(MOST_BUNDLES, of_bundles)
    plan = acceptance.plan_by_bundles(*risks, each, alike, most)
    # Of one bundle alone nothing tells how unlike the others are.
    return min(max(math.ceil(float(wanted)), plan[0] if plan else 2, 2), of_bundles)


def _in_bundles(risks, bundles, each, alike):
    """The stems drawn as a plan, and how often the good and the bad pass."""
    good, bad, _producers, buyers = risks
    allowed = acceptance.allowed_in_bundles(bad, buyers, bundles, each, alike)
    if allowed < 0:
        return {"in_bundles": None, "passes_good": None, "passes_bad": None}
    passes = [
        float(acceptance.passes_in_bundles(broken, bundles, each, alike)[allowed])
        for broken in (good, bad, *OF_BROKEN[1:])
    ]
    return {
        "in_bundles": Acceptance(bundles * each, allowed, (1.0, *passes[2:])),
        "passes_good": passes[0],
        "passes_bad": passes[1],
    }


def _curve(plan, passes):
    if plan is None:
        return None
    chances = passes(np.array(OF_BROKEN), *plan)
    return Acceptance(plan.stems, plan.limit, tuple(map(float, chances)))
