"""Should I grow it at all? For who never did: odds, hours, money, reasons not to.

Where seasons of the place were replayed they tell the odds; else its August rain does.
"""

import dataclasses
import math
from typing import NamedTuple

import numpy as np

from sheafwright.answers import should_grow_wording as wording
from sheafwright.answers.budget import Budget, BudgetQuestion, budget
from sheafwright.answers.budget_lines import DISTANCE, MONTHS_OF, months_of
from sheafwright.answers.limits import Limit, check_given
from sheafwright.answers.should_grow_working import should_grow_steps
from sheafwright.answers.work_day import WorkQuestion, work_day
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.money.cash import by_month
from sheafwright.core.money.pence import pence_of
from sheafwright.feeds.budget import terms_of
from sheafwright.feeds.should_grow import harvest_odds, shopping
from sheafwright.feeds.tables import Row
from sheafwright.feeds.telling import joined, mark
from sheafwright.feeds.threshing import threshing

GROUNDS = ("poor", "middling", "rich")
LIES = ("sheltered", "open")
BUYERS = ("agreed", "talked", "none")
STANDINGS = ("organic", "in_conversion", "not_organic")
OWN = "binder", "tractor", "drum"
LIMITS = {
    "area": Limit(mark("{measure} of wheat"), 0.05, 100, "ha"),
    "hands": Limit(mark("{value:g} hands"), 1, 50, mark("hands")),
    "august_rain": Limit(mark("An August with {measure}"), 5, 300, "mm"),
    "reed_price": Limit(mark("£{value:,g} a tonne"), 50, 5000, mark("pounds")),
}
WEEKS_A_MONTH = 4.3


class Seasons(NamedTuple):
    """What replayed seasons of the place came to."""

    station: str
    number: int
    spoiled: int


@dataclasses.dataclass(frozen=True)
class GrowQuestion:
    """A newcomer: place, fields, hands, machines, market."""

    harvest_year: int
    area: float
    """[ha]"""
    hands: int
    """That come in harvest. [1]"""
    august_rain: float | None = None
    """Of a usual year. [mm]"""
    seasons: Seasons | None = None
    """Replayed; they go before the rain."""
    ground: str = "middling"
    """One of ``GROUNDS``."""
    lies: str = "sheltered"
    """One of ``LIES``."""
    machines: frozenset[str] = frozenset()
    """Those of ``OWN`` that are there."""
    buyer: str = "none"
    """One of ``BUYERS``."""
    standing: str = "not_organic"
    """Of the ground; one of ``STANDINGS``."""
    has_seed: bool = False
    reed_price: float | None = None
    """That a thatcher named. [£/t]"""

    @property
    def cart_crew(self):
        """Fewest that cart. [1]"""
        day = work_day(WorkQuestion(self.area, self.hands, DISTANCE))
        return int(day.cartage.crew.low)

    def __post_init__(self):
        check_given(self, LIMITS)
        if self.august_rain is None and self.seasons is None:
            raise OutOfRange(
                "Nothing is known of the place; the usual rain of its August should be "
                "given."
            )
        for name, allowed in KINDS.items():
            _one_of(name, getattr(self, name), allowed)


KINDS = {"ground": GROUNDS, "lies": LIES, "buyer": BUYERS, "standing": STANDINGS}


def _one_of(name, given, allowed):
    if given not in allowed:
        raise OutOfRange(
            "{name} is {given!r}; it should be one of {allowed}.",
            name=name,
            given=given,
            allowed=", ".join(allowed),
        )


class Bought(NamedTuple):
    """Something to buy before the first harvest."""

    what: str
    """Of ``should_grow_wording.THINGS``."""
    pence: int


class Worked(NamedTuple):
    """Hours of a month."""

    year: int
    month: int
    hours: float
    """[h]"""


@dataclasses.dataclass(frozen=True)
class ShouldGrow:
    """The answer."""

    question: GrowQuestion
    good_years: float
    """Of ten, in which most of the straw comes home as reed."""
    budget: Budget
    months: tuple[Worked, ...]
    shopping: tuple[Bought, ...]

    @property
    def busiest(self):
        """The `Worked` month with most hours."""
        return max(self.months, key=lambda each: each.hours)

    @property
    def hands_wanted(self):
        """At once, on the days of carting and of the drum, or all the month. [1]"""
        month = self.busiest.hours / (WEEKS_A_MONTH * shopping().hours_a_week)
        crews = self.question.cart_crew, int(threshing().drum_day.crew[0])
        return max(math.ceil(month), *crews)

    @property
    def reasons(self):
        """Names of the reasons not to, of ``should_grow_wording.REASONS``."""
        return tuple(name for name, stands in _reasons(self) if stands)

    @property
    def verdict(self):
        """``not_yet``, ``for_love`` or ``may_suit``."""
        if {"no_buyer", "few_hands"} & set(self.reasons):
            return "not_yet"
        return "for_love" if "lacks" in self.reasons else "may_suit"

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(
            wording.verdict(self),
            wording.good_years(self),
            wording.hours(self),
            wording.money(self),
        )

    @property
    def against(self):
        """Every reason not to, said."""
        return tuple(wording.reason(self, name) for name in self.reasons)

    @property
    def lessons(self):
        """What to learn before the first harvest."""
        return wording.lessons()

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(should_grow_steps(self))

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        band = self.budget.margin_band
        return {
            "sentence": self.sentence,
            "verdict": self.verdict,
            "area_ha": self.question.area,
            "good_years_of_ten": round(self.good_years, 1),
            "hours_h": round(self.budget.hours, 1),
            "hands_wanted": self.hands_wanted,
            "months": [
                {
                    "month": f"{each.year:04d}-{each.month:02d}",
                    "hours_h": round(each.hours, 1),
                }
                for each in self.months
            ],
            **{f"margin_gbp_{at}": round(each, 2) for at, each in band.items()},
            "most_out_gbp": round(-min(self.budget.lowest.balance, 0), 2),
            "shopping": [each._asdict() for each in self.shopping],
            "lessons": list(self.lessons),
            "reasons": [
                {"reason": name, "says": says}
                for name, says in zip(self.reasons, self.against, strict=True)
            ],
            "working": steps_to_json(self.working),
        }


def should_grow(question):
    """The `ShouldGrow` of a `GrowQuestion`."""
    answer = budget(BudgetQuestion(_terms(question), question.harvest_year))
    return ShouldGrow(
        question=question,
        good_years=10 * _good(question),
        budget=answer,
        months=tuple(_months(answer)),
        shopping=tuple(_shopping(question, answer)),
    )


def _good(question):
    """Chance that most of the straw comes home as reed. [0–1]"""
    odds, seasons = harvest_odds(), question.seasons
    if seasons:
        chance = 1 - seasons.spoiled / seasons.number
    else:
        chance = np.interp(question.august_rain, odds.august_rain, odds.good_years)
    chance -= odds.rich_ground * (question.ground == "rich")
    chance -= odds.open_ground * (question.lies == "open")
    return float(np.clip(chance, 0, 1))


def _terms(question):
    """The budget's `Terms`: what is not there is hired, and the price is as told."""
    own = {
        name: {"own": Row("given", "own", int(name in question.machines))}
        for name in OWN
    }
    # Without a tractor nothing is drawn: whoever has none buys one.
    own["tractor"] = {"own": Row("given", "own", 1)}
    if question.reed_price is not None:
        ends = [times * question.reed_price for times in (0.75, 1, 1.25)]
        own["ranges"] = {"reed_price": Row("given", "reed_price", ends)}
    return terms_of({"": question.area}, own)


def _months(answer):
    """Each `Worked` month of the likely crop."""
    terms, hours = answer.terms, answer.likely.hours
    ends = [months_of(terms, f"work_{task}") for task in hours]
    last = max(months_of(terms, name)[1] for name in MONTHS_OF)
    amounts = [float(each) for each in hours.values()]
    laid = by_month(amounts, *zip(*ends, strict=True), last + 1).sum(axis=0)
    for at, each in enumerate(laid):
        year, month = divmod(answer.question.harvest_year * 12 - 4 + at, 12)
        yield Worked(year, month + 1, float(each))


def _shopping(question, answer):
    """What is bought before the first cheque."""
    prices, terms, costs = shopping(), answer.terms, answer.likely.costs
    wanted = {
        "seed": 0 if question.has_seed else costs["seed"],
        "tractor": _of(terms, "tractor", question),
        "binder": _of(terms, "binder", question),
        "binder_parts": prices.binder_parts_gbp,
        "twine": costs["twine"],
        "contractor": costs["contractor"],
        "hire": costs["hire"],
        "meter": prices.meter_gbp,
        "covers": prices.covers_gbp,
        "safety": prices.safety_gbp,
        "certification": terms.outlay.certification_gbp_a_year,
        "insurance": terms.outlay.insurance_gbp_a_year,
    }
    for what, gbp in wanted.items():
        if gbp:
            yield Bought(what, pence_of(float(gbp)))


def _of(terms, name, question):
    return 0 if name in question.machines else terms.machines[name].price


def _reasons(answer):
    """Each reason, and whether it stands here."""
    asked, ours = answer.question, answer.budget
    better = [use for use in ours.uses if use.chance_better >= 0.5]
    yield "no_buyer", asked.buyer == "none"
    yield "few_hands", answer.hands_wanted > asked.hands
    yield "lacks", ours.margin_band["p50"] < 0
    yield "weather", answer.good_years < 10 * harvest_odds().chance_of_good
    yield "rich", asked.ground == "rich"
    yield "better", bool(better)
    yield "no_binder", "binder" not in asked.machines
    yield "buyer_unsure", asked.buyer == "talked"
    yield "conversion", asked.standing != "organic"
    yield "waiting", True
    yield "danger", True
