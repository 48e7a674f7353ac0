"""What should the crop leave, and what would leave more?

A budget of straw and grain from seed to cheque: every hour paid, every machine at what
it costs. Likely values make the table, draws of what is not known make the bands.
"""

import dataclasses
import functools
from typing import NamedTuple

import numpy as np

from sheafwright.answers import budget_wording as wording
from sheafwright.answers.bands import banded
from sheafwright.answers.budget_lines import (
    COSTS,
    INCOME,
    INPUTS,
    LABOUR,
    MONTHS_OF,
    Lines,
    Work,
    ends_of,
    lines_of,
    months_of,
    wage,
    work_of,
)
from sheafwright.answers.budget_working import budget_steps
from sheafwright.answers.limits import Limit
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import UnreadableInput
from sheafwright.core.money import cash, ranges
from sheafwright.core.money.pence import allocate, pence_of
from sheafwright.core.money.products import margin
from sheafwright.core.money.sensitivity import Shares, variance_shares
from sheafwright.feeds.budget import LINKED, Terms
from sheafwright.feeds.telling import joined, mark, say

YEAR = Limit(mark("A harvest of {value:g}"), 1800, 2200, mark("years of our era"))
DRAWS = Limit(mark("{value:,g} draws"), 100, 100_000, mark("draws"))
SOBOL_POINTS = 1024
WAIT = 12
"""From laying out to the cheque, of a crop sold as grain. [month]"""


@dataclasses.dataclass(frozen=True)
class BudgetQuestion:
    """Wheat for one harvest."""

    terms: Terms
    harvest_year: int
    own_hours: dict[str, tuple[float, ...]] = dataclasses.field(default_factory=dict)
    """Task to its hours in each harvest of one's own book. [h/ha]"""
    draws: int = 2000
    luck: int = 1
    """Seed of the generator that draws what is not known."""

    def __post_init__(self):
        YEAR.check(self.harvest_year)
        DRAWS.check(self.draws)


class OtherUse(NamedTuple):
    """What the same ground would leave otherwise."""

    name: str
    likely: float
    """[£/ha]"""
    margins: np.ndarray
    """(draw,) [£/ha]"""
    chance_better: float
    """That it leaves more than tall wheat. [0–1]"""


class Month(NamedTuple):
    """A month of cash."""

    year: int
    month: int
    paid: float
    """[£]"""
    got: float
    """[£]"""
    balance: float
    """[£]"""


@dataclasses.dataclass(frozen=True)
class Budget:
    """The answer."""

    question: BudgetQuestion
    work: Work
    likely: Lines
    drawn: Lines
    chances: np.ndarray
    """Of each of ``INPUTS`` in each draw, (input, draw). [0–1]"""

    @property
    def terms(self):
        """`sheafwright.feeds.budget.Terms`."""
        return self.question.terms

    @property
    def area(self):
        """[ha]"""
        return self.terms.area

    @functools.cached_property
    def pence(self):
        """Each line of the likely budget, shared among the fields: line to parts. [p]

        They are whole pence, so that parts, lines and totals always add up.
        """
        areas = [str(area) for area in self.terms.fields.values()]
        lines = self.likely.income | self.likely.costs
        return {
            name: allocate(pence_of(float(each)), areas) for name, each in lines.items()
        }

    def pence_of_lines(self, names):
        """Of some lines, in all. [p]"""
        return sum(sum(self.pence[name]) for name in names)

    @property
    def margin_pence(self):
        """What is left of the likely budget. [p]"""
        return self.pence_of_lines(INCOME) - self.pence_of_lines(COSTS)

    @functools.cached_property
    def margin_band(self):
        """10, 50 and 90 % of draws, by name. [£]"""
        return banded(self.drawn.margin)

    @functools.cached_property
    def break_even_band(self):
        """10, 50 and 90 % of draws, by name. [£/t]"""
        return banded(self.drawn.break_even)

    @property
    def chance_of_loss(self):
        """That something is lacking when every hour is paid. [0–1]"""
        return float(np.mean(self.drawn.margin < 0))

    @property
    def hours(self):
        """[h]"""
        return float(sum(self.likely.hours.values()))

    @property
    def pays_an_hour(self):
        """What the likely crop leaves for each hour of hands. [£/h]"""
        labour = sum(self.likely.costs[name] for name in LABOUR)
        return float((self.likely.margin + labour) / self.hours)

    @functools.cached_property
    def matters(self):
        """Rank correlation of what is left with each of ``INPUTS``."""
        found = ranges.rank_correlation(self.chances, self.drawn.margin)
        return dict(zip(INPUTS, found.tolist(), strict=True))

    @functools.cached_property
    def shares(self):
        """`Shares` of each of ``INPUTS`` in how uncertain it is, were none linked."""
        rng = np.random.default_rng(self.question.luck)
        found = variance_shares(self._margin_at, len(INPUTS), SOBOL_POINTS, rng)
        return Shares(*(np.clip(each, 0, 1) for each in found))

    def _margin_at(self, chances):
        values = _values(self.terms, chances)
        return lines_of(self.terms, self.work, values).margin[np.newaxis]

    @property
    def what_matters(self):
        """The inputs, the weightiest first."""
        return sorted(INPUTS, key=lambda name: -abs(self.matters[name]))

    @functools.cached_property
    def uses(self):
        """Each `OtherUse`."""
        drawn = self.drawn.margin / self.area
        return tuple(
            _other_use(self.terms, name, self.chances, drawn)
            for name in self.terms.uses
        )

    @functools.cached_property
    def months(self):
        """Each `Month` from the first paid to the last, of the likely crop."""
        return tuple(_months(self.question, self.likely))

    @property
    def lowest(self):
        """The `Month` in which most is out."""
        return min(self.months, key=lambda each: each.balance)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(
            wording.leaves(self),
            wording.breaks_even(self),
            wording.beside(self.uses),
            wording.most_out(self.lowest),
        )

    @property
    def doubts(self):
        """What it does not know."""
        return wording.doubts()

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(budget_steps(self.terms, self.work, self.question.draws))

    @property
    def telling(self):
        """The most telling few of them."""
        return self.working[:4]

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "harvest_year": self.question.harvest_year,
            "area_ha": round(self.area, 4),
            "reed_t": round(float(self.likely.tonnes["reed"]), 3),
            "grain_t": round(float(self.likely.tonnes["grain"]), 3),
            "hours_h": round(self.hours, 1),
            "fields": self.to_fields(),
            "lines": [*self._lines(INCOME, "income"), *self._lines(COSTS, "cost")],
            "margin_pence": self.margin_pence,
            **_flat("margin_gbp", self.margin_band),
            "chance_of_loss": round(self.chance_of_loss, 3),
            "pays_gbp_per_h": round(self.pays_an_hour, 2),
            "break_even_gbp_per_t": round(float(self.likely.break_even), 2),
            **_flat("break_even_gbp_per_t", self.break_even_band),
            "other_uses": [_use_to_json(each) for each in self.uses],
            "what_matters": self._matters(),
            "months": [_month_to_json(each) for each in self.months],
            "working": steps_to_json(self.working),
        }

    def to_fields(self):
        """What each field bears of it, in whole pence that add up."""
        parts = zip(*(self.pence[name] for name in INCOME), strict=True)
        income = [sum(each) for each in parts]
        costs = [sum(x) for x in zip(*(self.pence[n] for n in COSTS), strict=True)]
        rows = zip(self.terms.fields.items(), income, costs, strict=True)
        return [
            {
                "field": name,
                "area_ha": area,
                "income_pence": got,
                "costs_pence": paid,
                "margin_pence": got - paid,
            }
            for (name, area), got, paid in rows
        ]

    def _lines(self, names, kind):
        reed = float(self.likely.tonnes["reed"])
        for name, called in names.items():
            pence = sum(self.pence[name])
            yield {
                "line": name,
                "says": say(called),
                "kind": kind,
                "pence": pence,
                "gbp_per_ha": round(pence / 100 / self.area, 2),
                "gbp_per_t_of_reed": round(pence / 100 / reed, 2),
            }

    def _matters(self):
        return [
            {
                "input": name,
                "says": say(wording.INPUTS[name]),
                "rank_correlation": round(self.matters[name], 3),
                "share_alone": round(float(self.shares.alone[at]), 3),
                "share_in_all": round(float(self.shares.in_all[at]), 3),
            }
            for name in self.what_matters
            for at in [INPUTS.index(name)]
        ]


def budget(question):
    """The `Budget` of a `BudgetQuestion`."""
    terms = question.terms
    work = work_of(terms, question.harvest_year, question.own_hours)
    rng = np.random.default_rng(question.luck)
    normals = rng.standard_normal((len(INPUTS), question.draws))
    chances = ranges.linked_chances(normals, _links(terms))
    likely = dict(zip(INPUTS, ends_of(terms)[:, 1], strict=True))
    return Budget(
        question=question,
        work=work,
        likely=lines_of(terms, work, likely),
        drawn=lines_of(terms, work, _values(terms, chances)),
        chances=chances,
    )


def _values(terms, chances):
    ends = ends_of(terms)
    return {
        name: ranges.triangular(chances[at], *ends[at])
        for at, name in enumerate(INPUTS)
    }


def _links(terms):
    """Correlations of the inputs, (input, input)."""
    links = np.eye(len(INPUTS))
    for name, (one, other) in LINKED.items():
        at = INPUTS.index(one), INPUTS.index(other)
        links[at] = links[at[::-1]] = getattr(terms.links, name)
    if np.linalg.eigvalsh(links)[0] <= 1e-9:
        raise UnreadableInput(
            "{where}: what is said to go together can't all be true at once; the links "
            "should be nearer to 0.",
            where=terms.rows["links"]["crop_reed_price"].table,
        )
    return links


def _other_use(terms, name, chances, beside):
    """`OtherUse`; its years are good and its prices high when the wheat's are."""
    use, at = terms.uses[name], INPUTS.index
    tonnes = ranges.triangular(chances[at("crop")], *use.tonnes)
    price = ranges.triangular(chances[at("grain_price")], *use.price)
    costs = use.cost_gbp_per_ha + use.hours_per_ha * wage(terms)
    costs += float(cash.interest(costs, WAIT, terms.outlay.interest))
    margins = margin(tonnes, price, use.straw_gbp_per_ha, costs)
    likely = margin(use.tonnes[1], use.price[1], use.straw_gbp_per_ha, costs)
    return OtherUse(name, float(likely), margins, float(np.mean(margins > beside)))


def _months(question, likely):
    terms = question.terms
    last = max(months_of(terms, name)[1] for name in MONTHS_OF)
    paid, got = (
        _laid_out(terms, {n: x for n, x in lines.items() if n in MONTHS_OF}, last + 1)
        for lines in (likely.costs, likely.income)
    )
    balance = np.cumsum(got - paid)
    for at in range(last + 1):
        year, month = divmod(question.harvest_year * 12 - 4 + at, 12)
        yield Month(
            year, month + 1, float(paid[at]), float(got[at]), float(balance[at])
        )


def _laid_out(terms, lines, n_months):
    ends = [months_of(terms, name) for name in lines]
    amounts = [float(each) for each in lines.values()]
    return cash.by_month(amounts, *zip(*ends, strict=True), n_months).sum(axis=0)


def _flat(name, band):
    return {f"{name}_{at}": round(each, 2) for at, each in band.items()}


def _use_to_json(use):
    return {
        "use": use.name,
        "says": say(wording.USES[use.name]),
        "likely_gbp_per_ha": round(use.likely, 2),
        **_flat("gbp_per_ha", banded(use.margins)),
        "chance_better": round(use.chance_better, 3),
    }


def _month_to_json(month):
    return {
        "month": f"{month.year:04d}-{month.month:02d}",
        "paid_gbp": round(month.paid, 2),
        "got_gbp": round(month.got, 2),
        "balance_gbp": round(month.balance, 2),
    }
