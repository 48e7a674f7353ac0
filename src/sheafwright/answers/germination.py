"""How much of this seed comes up, how sure is that, and do the trays agree?"""

import dataclasses

from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand.germination import (
    Interval,
    in_hundred,
    share_up,
    spread,
    widest_by_chance,
    wilson_interval,
)
from sheafwright.feeds import seed
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, say, told

MOST_TRAYS, MOST_SEEDS = 20, 1000
WILSON = mark("E. B. Wilson, Journal of the American Statistical Association 22, 1927")

DIFFER = mark("The trays differ by more than chance allows: test again.")
APART = mark(
    "They lie {spread} seeds apart, where {widest} is the most at {here} in 100."
)
NOT_ENOUGH = mark(
    "That is below the {least} in 100 that wheat sold as seed must reach."
)
NOT_SURE = mark(
    "Whether it reaches the {least} in 100 of wheat sold as seed, so few seeds can't "
    "say for sure."
)


@dataclasses.dataclass(frozen=True)
class Germination:
    """The answer."""

    came_up: tuple[int, ...]
    """Sound seedlings of each tray."""
    seeds_in_tray: int
    share: float
    """[0–1]"""
    interval: Interval
    """Where the true share lies, if the trays agree. [0–1]"""
    confidence: float
    """[0–1]"""
    spread: int
    """Highest tray less lowest. [seeds]"""
    widest: int | None
    """Spread that chance allows; None where no table says. [seeds]"""
    least: float
    """That seed sold as wheat must reach. [0–1]"""

    @property
    def agree(self):
        """Whether the trays do; None where no table says."""
        return None if self.widest is None else self.spread <= self.widest

    @property
    def in_hundred(self):
        """Whole seeds in 100 that came up, as a test is reported."""
        return int(in_hundred(self.share))

    @property
    def below_least(self):
        """Whether it is too little for seed that is sold."""
        return self.in_hundred < int(in_hundred(self.least))

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        if self.agree is False:
            lie = {"spread": self.spread, "widest": self.widest}
            return joined(say(DIFFER), say(APART, **lie, here=self.in_hundred))
        return joined(self._came_up(), self._law())

    def _came_up(self):
        low, high = (int(in_hundred(share)) for share in self.interval)
        return say(
            "{n} in 100 came up; between {low} and {high}, at {sure:g} in 100; "
            "{trays}.",
            n=self.in_hundred,
            low=low,
            high=high,
            sure=100 * self.confidence,
            trays=self._trays(),
        )

    def _trays(self):
        if len(self.came_up) == 1:
            return say("one tray tells nothing of how even the seed is")
        if self.agree is None:
            return say("whether such trays agree, no table says")
        return say("the {n} trays agree", n=len(self.came_up))

    def _law(self):
        least = int(in_hundred(self.least))
        if self.below_least:
            return say(NOT_ENOUGH, least=least)
        if self.interval.low < self.least:
            return say(NOT_SURE, least=least)
        return ""

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("germination")
        counted = say(
            "{trays} of {seeds} came up.",
            trays=joined(*map(str, self.came_up), by=", "),
            seeds=self.seeds_in_tray,
        )
        yield Step(counted, YOU, GIVEN)
        yield self._interval(table["test"]["confidence"])
        if self.widest is not None:
            yield self._by_chance()
        yield step_from_rows(
            say(
                "Wheat sold as seed must reach {least:.0%}; seed of your own that you "
                "sow yourself need not.",
                least=self.least,
            ),
            table["law"]["least"],
        )

    def _interval(self, confidence):
        return Step(
            say(
                "The true share lies from {low:.1%} to {high:.1%} (Wilson's interval), "
                "the seed being well mixed.",
                low=self.interval.low,
                high=self.interval.high,
            ),
            joined(told(WILSON), told(confidence.source), by="; "),
            confidence.standing,
        )

    def _by_chance(self):
        return step_from_rows(
            say(
                "At {here} in 100, {trays} trays of {seeds} may lie {widest} seeds "
                "apart by chance.",
                here=self.in_hundred,
                trays=len(self.came_up),
                seeds=self.seeds_in_tray,
                widest=self.widest,
            ),
            *self._rows_of_trays(),
        )

    def _rows_of_trays(self):
        upper, lower = seed.tray_range_rows(len(self.came_up))
        mirrored = max(self.in_hundred, 101 - self.in_hundred)
        above = mirrored >= upper["lowest_mean"].value[-1]
        return (upper if above else lower).values()

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "came_up_by_tray": list(self.came_up),
            "seeds_in_tray": self.seeds_in_tray,
            "came_up_share": round(self.share, 4),
            "came_up_in_100": self.in_hundred,
            "came_up_share_low": round(self.interval.low, 4),
            "came_up_share_high": round(self.interval.high, 4),
            "confidence": self.confidence,
            "tray_spread_seeds": self.spread,
            "tray_spread_allowed_seeds": self.widest,
            "trays_agree": self.agree,
            "least_share_for_sale": self.least,
            "below_least_for_sale": self.below_least,
            "working": steps_to_json(self.working),
        }


def germination(came_up, seeds_in_tray=100):
    """The `Germination` of a test.

    Parameters
    ----------
    came_up : iterable of int
        Sound seedlings of each tray.
    seeds_in_tray : int
        Seeds laid in each.
    """
    came_up = tuple(came_up)
    _check(came_up, seeds_in_tray)
    rules = seed.germination_rules()
    share = float(share_up(came_up, seeds_in_tray))
    seeds = seeds_in_tray * len(came_up)
    return Germination(
        came_up=came_up,
        seeds_in_tray=seeds_in_tray,
        share=share,
        interval=Interval(*map(float, wilson_interval(share, seeds, rules.confidence))),
        confidence=rules.confidence,
        spread=int(spread(came_up)),
        widest=_widest(len(came_up), seeds_in_tray, share, rules),
        least=rules.least,
    )


def _widest(trays, seeds_in_tray, share, rules):
    tray_range = seed.tray_range(trays)
    if tray_range is None or seeds_in_tray != rules.seeds_in_tray:
        return None
    return int(widest_by_chance(in_hundred(share), tray_range))


def _check(came_up, seeds_in_tray):
    if not 1 <= seeds_in_tray <= MOST_SEEDS or not 1 <= len(came_up) <= MOST_TRAYS:
        raise OutOfRange(
            "{trays} trays of {seeds} seeds are no test; it should be 1 to "
            "{most_trays} trays of 1 to {most_seeds:,} seeds, best 4 of 100.",
            trays=len(came_up),
            seeds=seeds_in_tray,
            most_trays=MOST_TRAYS,
            most_seeds=MOST_SEEDS,
        )
    for number, tray in enumerate(came_up, 1):
        if not 0 <= tray <= seeds_in_tray:
            raise OutOfRange(
                "Tray {number} has {tray} come up; it should be from 0 to the {seeds} "
                "laid.",
                number=number,
                tray=tray,
                seeds=seeds_in_tray,
            )
