"""Is this run of the drum as one's own runs before it, or is the comb set badly?

Told on the same day, share by share, against limits set by the runs before alone.
"""

import dataclasses
import math

import numpy as np

from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.threshing.control import (
    Limits,
    false_alarm,
    log_ratio,
    moving_ranges,
    range_limit,
    share_limits,
)
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, listed, mark, say, say_n
from sheafwright.feeds.threshing import threshing

PRODUCTS = {
    "reed": mark("Reed"),
    "long_straw": mark("Long straw"),
    "grain": mark("Grain"),
    "tail": mark("Tail corn"),
    "waste": mark("Waste"),
}
AT_LIMIT = {
    -1: mark("{product} {share:.0%}, below the lower limit of {limit:.0%}"),
    1: mark("{product} {share:.0%}, above the upper limit of {limit:.0%}"),
}
LOOK = {
    ("reed", -1): mark("Look at the comb's setting before the next rick."),
    ("reed", 1): mark("Weigh again, and look for short straw left in the reed."),
    ("long_straw", -1): mark("Look for straw broken by a drum set too close."),
    ("long_straw", 1): mark("Weigh again, and look for grain left in the straw."),
    ("grain", -1): mark("Look for grain left in the ears, the straw and the chaff."),
    ("grain", 1): mark("Weigh again, and take the grain's moisture."),
    ("tail", -1): mark("Look at the sieves: small corn may be in the grain."),
    ("tail", 1): mark("Look at sieves and wind: good corn may go with the tail."),
    ("waste", -1): mark("Weigh again, and look for short straw left in the bundles."),
    ("waste", 1): mark(
        "Look what the waste is: straw broken by comb or drum, or grain."
    ),
}
CAUTION = mark(
    "Stop the drum, and wait until it and every belt stand still, before anybody opens "
    "a guard or reaches in. Local codes and trained people first."
)
SHEWHART = Step(
    mark(
        "Limits lie three standard deviations from the middle of the runs before, as "
        "their moving ranges tell; shares are taken as log-ratios, so that none lies "
        "below nothing or above the whole."
    ),
    "W. A. Shewhart 1931; NIST/SEMATECH e-Handbook 6.3.2.2",
    "from memory",
)
JUMPED = mark("{product} changed more from the run before than runs do")


@dataclasses.dataclass(frozen=True)
class ShareCheck:
    """One product of a run, against the runs before."""

    product: str
    share: float
    """Of the sheaves' mass. [1]"""
    runs: int
    """Before it, of which the share is known."""
    limits: Limits
    """NaN where too few runs are known. [1]"""
    jumped: bool
    """Whether it changed more from the run before than runs do."""

    @property
    def odd(self):
        """-1 below its limits, 1 above, else 0."""
        return int(self.share > self.limits.high) - int(self.share < self.limits.low)

    @property
    def is_judged(self):
        """Whether enough runs were known."""
        return not math.isnan(self.limits.centre)


@dataclasses.dataclass(frozen=True)
class RunCheck:
    """The answer."""

    combed: bool
    runs: int
    """Before it, of the same kind."""
    least_runs: int
    """That limits take."""
    shares: tuple[ShareCheck, ...]
    """Of what was weighed."""

    @property
    def odd(self):
        """The shares outside their limits."""
        return tuple(share for share in self.shares if share.odd)

    @property
    def is_judged(self):
        """Whether enough runs were known for any limit."""
        return any(share.is_judged for share in self.shares)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if not self.is_judged:
            return self._too_few()
        if self.odd:
            return joined(self._outside(), *(_look(each) for each in self.odd))
        jumped = [_named(JUMPED, share) for share in self.shares if share.jumped]
        as_before = say_n(
            "It gave as your own {n} run before it did.",
            "It gave as your own {n} runs before it did.",
            self.runs,
        )
        if jumped:
            return say("{changed}: keep an eye on the next.", changed=listed(jumped))
        return as_before

    def _outside(self):
        odd = [
            _named(AT_LIMIT[each.odd], each, limit=_limit_passed(each))
            for each in self.odd
        ]
        return say_n(
            "{odd}, by your own {n} run before it.",
            "{odd}, by your own {n} runs before it.",
            self.runs,
            odd=listed(odd),
        )

    def _too_few(self):
        return say_n(
            "{n} run of your own came before it; from {least} on they set limits.",
            "{n} runs of your own came before it; from {least} on they set limits.",
            self.runs,
            least=self.least_runs,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        rows = shipped("threshing")["control"]
        if not self.is_judged:
            yield step_from_rows(self._too_few(), rows["least_runs"])
            return
        for each in self.shares:
            if each.is_judged:
                yield Step(_band(each), YOU, GIVEN)
        yield SHEWHART
        says = say(
            "None is nearer than {reach:.0%} of the sheaves' weight.",
            reach=rows["least_reach"].value,
        )
        yield step_from_rows(says, rows["least_reach"])
        says = say(
            "A run that was outside itself is left out; {runs} of them one after "
            "another begin anew.",
            runs=rows["new_after"].value,
        )
        yield step_from_rows(says, rows["new_after"])
        fewest = min(each.runs for each in self.shares if each.is_judged)
        says = say(
            "With that many runs about 1 sound share in {each:.0f} is called odd.",
            each=1 / float(false_alarm(fewest)),
        )
        yield step_from_rows(says, rows["least_runs"])

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "combed": self.combed,
            "runs_before": self.runs,
            "judged": self.is_judged,
            "products": [
                {
                    "product": each.product,
                    "share": round(each.share, 4),
                    "runs_before": each.runs,
                    "limit_low_share": _known(each.limits.low),
                    "centre_share": _known(each.limits.centre),
                    "limit_high_share": _known(each.limits.high),
                    "odd": each.odd,
                    "jumped": each.jumped,
                }
                for each in self.shares
            ],
            "working": steps_to_json(self.working),
        }


def run_check(run, before, combed=True):
    """The `RunCheck` of a run of the drum.

    Parameters
    ----------
    run : dict of str to float
        Share of each of ``PRODUCTS`` that was weighed; ``waste`` is all the rest. [1]
    before : sequence of dict of str to float
        The same of one's own runs before it, of the same kind, the oldest first. [1]
    combed : bool
        Whether the straw was combed to reed.
    """
    for each in (run, *before):
        _check(each)
    control = threshing().control
    before = before[-control.most_runs :]
    shares = (
        _judged(product, run[product], _known_of(before, product), control)
        for product in PRODUCTS
        if _is_share(run.get(product))
    )
    return RunCheck(combed, len(before), control.least_runs, tuple(shares))


def run_checks(runs, combed=True):
    """The `RunCheck` of each of one's own runs of a kind, in their order.

    A run outside its limits sets none for those after it, unless several come one after
    another: then crop, drum or crew is another, and they alone count from then on.

    Parameters
    ----------
    runs : sequence of dict of str to float
        As `run_check` takes them, the oldest first.
    combed : bool
    """
    sound, apart, checks = [], [], []
    for run in runs:
        check = run_check(run, sound, combed)
        checks.append(check)
        apart = [*apart, run] if check.odd else []
        if not check.odd:
            sound.append(run)
        elif len(apart) >= threshing().control.new_after:
            sound, apart = apart, []
    return checks


def _judged(product, share, before, control):
    if len(before) < control.least_runs:
        unknown = Limits(math.nan, math.nan, math.nan)
        return ShareCheck(product, share, len(before), unknown, False)
    limits = _wide_enough(share_limits(before), control.least_reach)
    change = moving_ranges(log_ratio([before[-1], share]))[0]
    far = abs(share - before[-1]) > control.least_reach
    jumped = bool(far and change > range_limit(log_ratio(before)))
    return ShareCheck(product, share, len(before), limits, jumped)


def _wide_enough(limits, reach):
    """With neither limit nearer to the middle than weights are known."""
    low, centre, high = (float(each) for each in limits)
    return Limits(
        max(0.0, min(low, centre - reach)), centre, min(1.0, max(high, centre + reach))
    )


def _known_of(before, product):
    return np.array([run[product] for run in before if _is_share(run.get(product))])


def _is_share(share):
    """Nothing weighed is not known to be nothing."""
    return share is not None and 0 < share < 1


def _check(run):
    for product, share in run.items():
        # Written so that NaN is refused too.
        if product not in PRODUCTS or not abs(share) < math.inf:
            raise OutOfRange(
                "{share} of {product}; it should be a share of one of {products}.",
                share=f"{share:g}",
                product=product,
                products=", ".join(PRODUCTS),
            )


def _named(words, share, **more):
    product = say(PRODUCTS[share.product])
    return say(words, product=product, share=share.share, **more)


def _limit_passed(share):
    return share.limits.low if share.odd < 0 else share.limits.high


def _look(share):
    return say(LOOK[share.product, share.odd])


def _band(share):
    return say_n(
        "{product}: {share:.1%}; {n} run before it gave {centre:.1%}, with limits at "
        "{low:.1%} and {high:.1%}.",
        "{product}: {share:.1%}; {n} runs before it gave {centre:.1%}, with limits at "
        "{low:.1%} and {high:.1%}.",
        share.runs,
        product=say(PRODUCTS[share.product]),
        share=share.share,
        centre=share.limits.centre,
        low=share.limits.low,
        high=share.limits.high,
    )


def _known(number):
    return None if math.isnan(number) else round(number, 4)
