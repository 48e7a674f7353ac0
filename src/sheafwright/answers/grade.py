"""Which grade is a lot, by stems drawn from its bundles, and how sure is that?"""

import dataclasses

import numpy as np

from sheafwright.answers.hand_grade import USES
from sheafwright.answers.limits import Limit
from sheafwright.answers.working import (
    GIVEN,
    MEASURED,
    YOU,
    Step,
    step_from_rows,
    steps_to_json,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.core.grading import shares, two_stage
from sheafwright.core.grading.stems import between, by_bundle, keeps
from sheafwright.core.inputs.grading import GradeRule
from sheafwright.feeds import grades
from sheafwright.feeds.stems import Stems
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n

GRADES = ("first", "second", "below")
NAMED = {
    "first": mark("Grade 1 for {use}, with {sure:.0%} confidence."),
    "second": mark("Grade 2 for {use}, with {sure:.0%} confidence."),
    "below": mark("Not up to grade 2 for {use}, with {sure:.0%} confidence."),
}
SETTLED = mark("That settles it: no more stems are needed.")
ON_THE_BORDER = mark(
    "It lies so near the border of two grades that even {n} more stems would not "
    "settle it."
)
ONE_BUNDLE = mark("All came from one bundle, which may be unlike the rest.")
FAULTS = {
    "short": mark("too short"),
    "long": mark("too long"),
    "thin": mark("too thin"),
    "thick": mark("too thick"),
    "bent": mark("bent"),
    "damaged": mark("damaged"),
}
ALL_GOOD = mark("All {n} stems keep the rule.")
SKELLAM = mark("J. G. Skellam, Journal of the Royal Statistical Society B 10, 1948")
COCHRAN = mark("W. G. Cochran, Sampling Techniques, 1977, chapter 10")
SHARE_LIMIT = Limit(mark("A share of {value:g}% for a grade"), 0.05, 0.995, "%", 100)
LENGTH_LIMIT = Limit(mark("A stem of {measure}"), 0, 3000, "mm")
THICK_LIMIT = Limit(mark("A butt of {measure}"), 0, 25, "mm")


@dataclasses.dataclass(frozen=True)
class GradeQuestion:
    """Measured stems of one lot, and what they are wanted for."""

    stems: Stems
    use: str = "coatwork"
    rule: GradeRule | None = None
    """The holding's own; the package's, if not given."""

    def __post_init__(self):
        check_use(self.use)
        if self.rule is not None:
            check_rule(self.rule)

    @property
    def asks(self):
        """The rule that holds."""
        return self.rule or grades.grade_rule(self.use)


def check_use(use):
    """Refuse a use of straw that has no rule."""
    if use not in grades.USES:
        raise OutOfRange(
            "{use} is no use of straw that is known; it should be one of {uses}.",
            use=repr(use),
            uses=", ".join(grades.USES),
        )


def check_rule(rule):
    """Refuse a rule that no lot could keep, or that no sense can be made of."""
    for share in (rule.first, rule.second):
        SHARE_LIMIT.check(share)
    for limit, values in (
        (LENGTH_LIMIT, (rule.length_least, rule.length_most)),
        (THICK_LIMIT, (rule.butt_least, rule.butt_most)),
    ):
        for value in values:
            limit.check(value)
    if rule.length_least >= rule.length_most or rule.butt_least >= rule.butt_most:
        raise OutOfRange("The least of a grade rule should be less than its most.")
    if rule.second >= rule.first:
        raise OutOfRange(
            "Grade 1 asks {first:.0%} of the stems and grade 2 {second:.0%}; grade 1 "
            "should ask more.",
            first=rule.first,
            second=rule.second,
        )


@dataclasses.dataclass(frozen=True)
class Graded:
    """The answer."""

    question: GradeQuestion
    kept: int
    """Stems that keep the rule."""
    seen: int
    """Stems of which anything was measured."""
    bundles: int
    chances: dict[str, float]
    """Of each of ``GRADES``. [0–1]"""
    interval: tuple[float, float]
    """Where the lot's share lies. [0–1]"""
    alike: float
    """Correlation of two stems of a bundle, as it is now thought to be. [0–1]"""
    settled: float
    """Confidence that settles a grade. [0–1]"""
    more_bundles: int | None
    """Further ones that would settle it; None where the most would not."""
    most_bundles: int
    each: int
    """Stems from each further bundle."""
    faults: dict[str, int]
    """Stems that have each; one may have several."""

    @property
    def grade(self):
        """The likeliest of ``GRADES``."""
        return max(GRADES, key=self.chances.get)

    @property
    def sure(self):
        """Its confidence. [0–1]"""
        return self.chances[self.grade]

    @property
    def more_stems(self):
        """That would settle it; None where nothing would."""
        return None if self.more_bundles is None else self.more_bundles * self.each

    @property
    def headline(self):
        """The grade alone."""
        # Nobody is surer than 99 in 100 of what a few stems say.
        use, sure = say(USES[self.question.use]), min(self.sure, 0.99)
        return say(NAMED[self.grade], use=use, sure=sure)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        one = say(ONE_BUNDLE) if self.bundles == 1 else ""
        return joined(self.headline, self._more(), self._found(), one)

    def _more(self):
        if self.more_bundles == 0:
            return say(SETTLED)
        if self.more_bundles is None:
            return say(ON_THE_BORDER, n=self.most_bundles * self.each)
        return say_n(
            "{stems} more stems would settle it, all from {n} more bundle, if they are "
            "like these.",
            "{stems} more stems would settle it, {each} from each of {n} more bundles, "
            "if they are like these.",
            self.more_bundles,
            stems=self.more_stems,
            each=self.each,
        )

    def _found(self):
        if self.kept == self.seen:
            return say(ALL_GOOD, n=self.seen)
        faults = [
            say("{n} {fault}", n=count, fault=say(FAULTS[name]))
            for name, count in self.faults.items()
            if count
        ]
        return say(
            "{kept} of {n} stems keep the rule; of the rest, {faults}.",
            kept=self.kept,
            n=self.seen,
            faults=listed(faults),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        bundles = say_n("{n} bundle", "{n} bundles", self.bundles)
        counted = say(
            "{kept} of {seen} stems from {bundles} keep the rule.",
            kept=self.kept,
            seen=self.seen,
            bundles=bundles,
        )
        yield Step(counted, YOU, MEASURED)
        yield self._rule()
        low, high = self.interval
        said = say(
            "So the lot's share lies between {low:.0%} and {high:.0%}, at {sure:g} in "
            "100; the share of each bundle scatters about it as two stems of a bundle "
            "are alike by {alike:.2f} ({paper}).",
            low=low,
            high=high,
            sure=100 * self.settled,
            alike=self.alike,
            paper=say(SKELLAM),
        )
        names = ("settled", "alike")
        yield step_from_rows(said, *(grades.grade_row("count", n) for n in names))
        yield self._each()

    def _rule(self):
        said = rule_said(self.question.use, self.question.asks)
        if self.question.rule is not None:
            return Step(said, YOU, GIVEN)
        return step_from_rows(said, *grades.rule_rows(self.question.use).values())

    def _each(self):
        said = say(
            "{each} stems from a bundle tell the most for the time ({source}).",
            each=self.each,
            source=say(COCHRAN),
        )
        names = ("bundle_minutes", "stem_minutes")
        return step_from_rows(said, *(grades.grade_row("looking", n) for n in names))

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        low, high = self.interval
        return {
            "sentence": self.sentence,
            "use": self.question.use,
            "own_rule": self.question.rule is not None,
            "rule": rule_to_json(self.question.asks),
            "grade": self.grade,
            "confidence": round(self.sure, 4),
            "chances": {name: round(self.chances[name], 4) for name in GRADES},
            "settled": self.more_bundles == 0,
            "settled_at": self.settled,
            "more_stems": self.more_stems,
            "more_bundles": self.more_bundles,
            "stems_from_each_bundle": self.each,
            "stems": self.seen,
            "bundles": self.bundles,
            "stems_within_rule": self.kept,
            "share_low": round(low, 4),
            "share_high": round(high, 4),
            "alike": round(self.alike, 4),
            "faults": self.faults,
            "working": steps_to_json(self.working),
        }


def rule_said(use, rule):
    """What a rule asks of the stems for a use, in a sentence."""
    return say(
        "A stem for {use} is {least} to {most} long and {thin} to {thick} thick at "
        "the butt, with {bends:g} bends and {damage:g} damaged parts at the most; "
        "grade 1 asks that of {first:.0%} of them, grade 2 of {second:.0%}.",
        use=say(USES[use]),
        least=measured(rule.length_least, "mm", ".4g"),
        most=measured(rule.length_most, "mm", ".4g"),
        thin=measured(rule.butt_least, "mm"),
        thick=measured(rule.butt_most, "mm"),
        bends=rule.bends_most,
        damage=rule.damage_most,
        first=rule.first,
        second=rule.second,
    )


def rule_to_json(rule):
    """A rule as it leaves Python: every name with its unit."""
    return {
        "length_least_mm": rule.length_least,
        "length_most_mm": rule.length_most,
        "butt_least_mm": rule.butt_least,
        "butt_most_mm": rule.butt_most,
        "bends_most": rule.bends_most,
        "damage_most": rule.damage_most,
        "first_share": rule.first,
        "second_share": rule.second,
    }


def grade(question):
    """The `Graded` of a `GradeQuestion`."""
    stems, rule, count = question.stems, question.asks, grades.stem_count()
    measures = (stems.length_mm, stems.butt_mm, stems.bends, stems.damage)
    keep = keeps(*measures, rule)
    kept, seen = by_bundle(keep, stems.bundle)
    if not seen.sum():
        raise OutOfRange(
            "Of none of these {n} stems was anything measured that a grade asks for; "
            "it should be length, butt, bends or damage.",
            n=len(stems),
        )
    held = shares.belief(kept, seen, count.alike)
    alike = float((held.weight * held.alike).sum())
    each = stems_each(alike)
    chances = _chances(held.weight, rule)
    low, high = shares.share_interval(held.weight, count.settled)
    return Graded(
        question=question,
        kept=int(kept.sum()),
        seen=int(seen.sum()),
        bundles=len(seen),
        chances={name: float(chances[name]) for name in GRADES},
        interval=(float(low), float(high)),
        alike=alike,
        settled=count.settled,
        more_bundles=_more(held, kept.sum() / seen.sum(), each, rule, count),
        most_bundles=count.most_bundles,
        each=each,
        faults=_faults(stems, rule),
    )


def stems_each(alike):
    """Stems from each bundle that tell the most for the time. [1]"""
    look = grades.looking()
    spread = two_stage.spread_of_share(0.5, alike)
    each = two_stage.stems_each(spread, look.bundle_minutes, look.stem_minutes)
    return int(np.clip(round(float(each)), look.fewest, look.most))


def _chances(weight, rule):
    first, second = (
        shares.chance_at_least(weight, s) for s in (rule.first, rule.second)
    )
    return {"first": first, "second": second - first, "below": 1 - second}


def _more(held, share, each, rule, count):
    """Further bundles, all alike, that settle the grade."""
    weights = shares.after_more(held, share * each, each, count.most_bundles)
    best = np.max(list(_chances(weights, rule).values()), axis=0)
    enough = np.flatnonzero(best >= count.settled)
    return int(enough[0]) if enough.size else None


def _faults(stems, rule):
    broken = {
        "short": stems.length_mm < rule.length_least,
        "long": stems.length_mm > rule.length_most,
        "thin": stems.butt_mm < rule.butt_least,
        "thick": stems.butt_mm > rule.butt_most,
        "bent": between(stems.bends, 0, rule.bends_most) == 0,
        "damaged": between(stems.damage, 0, rule.damage_most) == 0,
    }
    return {name: int(each.sum()) for name, each in broken.items()}
