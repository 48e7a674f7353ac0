"""Who gets which lot, by when is it ready, and is more promised than there is?"""

import dataclasses
import datetime
import math

import numpy as np

from sheafwright.answers import orders_wording as words
from sheafwright.answers import wording
from sheafwright.answers.orders_question import KINDS, OrderAsked, problem_of
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.feeds.orders import allotting
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, say, say_n
from sheafwright.planning.allocation.problem import Plan
from sheafwright.planning.allocation.promises import filled_on, seasons
from sheafwright.planning.allocation.reasons import against
from sheafwright.planning.allocation.solve import SECONDS, cost_of_filling, solve

FAR = datetime.date.max
CRUMB = 0.5
"""No less is said to lack. [kg]"""
USUAL_PAIRS = 400
"""Of an order and a lot; more take longer."""
MOST_COSTED = 3
"""Orders of which it is worked out what filling them would cost."""
CRAFT = mark("Ours: a mixed-integer model, solved by HiGHS and checked by its own sums")
WEIGHED = mark(
    "Each lot is weighed against each order that it suits: its price, promises kept, "
    "haulage, old lots first, and what is to come by its odds."
)
GRADED = mark(
    "A lot's grade and length are as its stems were measured, else as a handful was, "
    "else as written down. It is given where it is likelier of the grade asked than "
    "not, and its price counts by how sure that is."
)
FIRST = mark(
    "What suits a buyer of first refusal goes to nobody else until he is served, if it "
    "could serve him."
)
ONE_SUMMER = mark(
    "A poor summer is taken to be poor for every field, and weights and days apart "
    "from one another."
)


NOT_FOUND = mark("No record was found of how fields differ in one summer")


@dataclasses.dataclass(frozen=True)
class OrderTold:
    """What one order gets, and when."""

    asked: OrderAsked
    given: dict[str, float]
    """Lot to what is allotted of it. [kg]"""
    in_store: frozenset[str]
    """Of those lots."""
    chance: float
    """That it is filled in time. [0–1]"""
    sure_by: datetime.date | None
    """End of the month by which it is filled with the chance of the tables."""
    sure_chance: float
    """That it is by then. [0–1]"""
    unsuited: dict[str, tuple]
    """Lots of its kind that don't suit, with what is against them."""
    unmeasured: tuple[str, ...] = ()
    """Lots that it gets, of a length that nobody knows though one is asked."""
    lots: tuple = ()
    """Those that it gets, as `LotAsked` or `ToCome`."""
    cost: float | None = None
    """Of filling it, to the others; None where nothing could, NaN where nobody knows.
    [GBP]"""

    @property
    def short(self):
        """[kg]"""
        return max(0.0, self.asked.kg - sum(self.given.values()))

    @property
    def is_short(self):
        """Whether more than a crumb lacks."""
        return self.short > CRUMB

    @property
    def is_costed(self):
        """Whether it is known what filling it would cost."""
        return self.cost is not None and not math.isnan(self.cost)

    @property
    def from_store(self):
        """What of it may leave now. [kg]"""
        return {lot: kg for lot, kg in self.given.items() if lot in self.in_store}

    @property
    def is_in_store(self):
        """Whether all of it may leave now."""
        return not self.is_short and set(self.given) <= self.in_store

    @property
    def sentence(self):
        """What it gets, and when."""
        return joined(words.given(self), words.promise(self))

    @property
    def why(self):
        """Reasons, a sentence each."""
        return tuple(self._why())

    def _why(self):
        if self.is_short:
            yield from words.short(self)
        for lot, kg in self.asked.reserved.items():
            if kg > 0 and lot in self.given:
                yield say(
                    "{mass} of {lot} is reserved.", mass=words.weight(kg), lot=lot
                )
        for lot in self.unmeasured:
            yield say("Nobody measured {lot}: do, before it goes.", lot=lot)
        for lot in self.lots:
            yield from words.known_as(self, lot)
        if self.asked.first_refusal:
            yield say("{who} has first refusal.", who=self.asked.customer)
        for lot, reasons in self.unsuited.items():
            yield words.lot_against(lot, reasons, _day)

    def to_json(self):
        """As it leaves Python."""
        return {
            "sentence": self.sentence,
            "name": self.asked.name,
            "customer": self.asked.customer,
            "kind": self.asked.kind,
            "wanted_kg": round(self.asked.kg, 1),
            "since": self.asked.since and self.asked.since.isoformat(),
            "by": self.asked.by and self.asked.by.isoformat(),
            "promised": self.asked.promised,
            "given": [
                {"lot": lot, "kg": round(kg, 1), "in_store": lot in self.in_store}
                for lot, kg in self.given.items()
            ],
            "short_kg": round(self.short, 1),
            "chance_in_time": round(self.chance, 3),
            "sure_by": self.sure_by and self.sure_by.isoformat(),
            "cost_of_filling_gbp": round(self.cost, 2) if self.is_costed else None,
            "why": list(self.why),
        }


@dataclasses.dataclass(frozen=True)
class Oversold:
    """More promised of a kind than may be counted on."""

    kind: str
    promised: float
    """[kg]"""
    surely: float
    """[kg]"""
    chance: float | None
    """That there is enough after all; None where nothing is to come. [0–1]"""

    @property
    def sentence(self):
        """Said before it happens."""
        return words.oversold(self)


@dataclasses.dataclass(frozen=True)
class Orders:
    """The answer."""

    as_of: datetime.date
    orders: tuple[OrderTold, ...]
    """By the day on which they are wanted, those promised first."""
    oversold: tuple[Oversold, ...]
    plan: Plan
    has_to_come: bool

    @property
    def next(self):
        """The order to deliver to, or to wait for, next; None if there is none."""
        return next((each for each in self.orders if each.from_store), None)

    @property
    def sentence(self):
        """What to do next, and what goes wrong before it does."""
        if not self.orders:
            return say("No order is open.")
        return joined(self._next(), *(each.sentence for each in self.oversold[:2]))

    def _next(self):
        if self.next is not None:
            return words.deliver(self.next)
        return words.wait(self.orders[0])

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        rows, told = shipped("orders")["allotting"], allotting()
        yield Step(WEIGHED, CRAFT, "common practice")
        yield Step(FIRST, YOU, GIVEN)
        yield self._graded(rows)
        says = say(
            "A promise kept counts £{promise:.0f}, haulage £{haulage:.2f} a kilometre, "
            "each lot £{lot:.0f}, and a year more in store £{ageing:.0f} a tonne.",
            promise=told.promise,
            haulage=told.haulage,
            lot=told.lot,
            ageing=1000 * told.ageing,
        )
        names = ("promise", "haulage", "lot", "ageing")
        yield step_from_rows(says, *(rows[name] for name in names))
        if self.has_to_come:
            says = say_n(
                "What is to come is counted on as far as it comes in {n} year of 10.",
                "What is to come is counted on as far as it comes in {n} years of 10.",
                round(10 * told.counted_on),
            )
            yield step_from_rows(says, rows["counted_on"])
            yield Step(ONE_SUMMER, NOT_FOUND, "assumed")
        says = say(
            "This allotment is worth £{worth:,.0f}, promises counted; none is worth "
            "more than £{bound:,.0f}.",
            worth=self.plan.worth,
            bound=self.plan.bound,
        )
        yield Step(says, CRAFT, "common practice")

    def _graded(self, rows):
        long = say(
            "As long as {share:.0%} of the stems measured are, or longer.",
            share=allotting().long_enough,
        )
        return step_from_rows(joined(say(GRADED), long), rows["long_enough"])

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "as_of": self.as_of.isoformat(),
            "next": self.next and self.next.asked.name,
            "orders": [each.to_json() for each in self.orders],
            "oversold": [
                {
                    "sentence": each.sentence,
                    "kind": each.kind,
                    "promised_kg": round(each.promised, 1),
                    "surely_kg": round(each.surely, 1),
                    "chance_enough": each.chance and round(each.chance, 3),
                }
                for each in self.oversold
            ],
            "worth_gbp": round(self.plan.worth, 2),
            "bound_gbp": round(self.plan.bound, 2),
            "working": steps_to_json(self.working),
        }


def orders(question):
    """The `Orders` of who wants what, and of what there is.

    Parameters
    ----------
    question : OrdersQuestion
    """
    asked = tuple(sorted(question.orders, key=_turn))
    question = dataclasses.replace(question, orders=asked)
    problem = problem_of(question)
    plan = solve(problem, seconds=SECONDS * max(1.0, _pairs(problem) / USUAL_PAIRS))
    kg, ready = _seasons(question)
    filled = _since(asked, _filled(problem, plan, kg, ready))
    told = [_told(question, problem, plan, n, filled[n]) for n in range(len(asked))]
    return Orders(
        as_of=question.as_of,
        orders=_with_costs(problem, plan, told),
        oversold=tuple(_oversold(question, kg)),
        plan=plan,
        has_to_come=bool(question.to_come),
    )


def _pairs(problem):
    return len(problem.wants) * len(problem.stocks)


def _turn(order):
    return not order.promised, order.by or FAR, order.name


def _seasons(question):
    """Weights and days of every lot, season by season: those in store first."""
    day = question.as_of.toordinal()
    bands = [[lot.kg] * 3 for lot in question.lots]
    bands += [lot.kg for lot in question.to_come]
    days = [[day] * 3 for _lot in question.lots]
    days += [
        [max(day, each.toordinal()) for each in lot.ready] for lot in question.to_come
    ]
    return seasons(bands, days)


def _filled(problem, plan, kg, ready):
    wants, stocks = problem.wants, problem.stocks
    given = [
        [plan.given.get((want.name, stock.name), 0.0) for stock in stocks]
        for want in wants
    ]
    # One who wants few lots is not helped by odds and ends of others.
    fit = [
        [
            want.most_lots is None and not against(_any_day(want), stock)
            for stock in stocks
        ]
        for want in wants
    ]
    shape = len(wants), len(stocks)
    return filled_on(
        [max(0.0, want.kg - CRUMB) for want in wants],
        np.reshape(given, shape),
        kg,
        ready,
        np.reshape(np.array(fit, dtype=bool), shape),
    )


def _since(asked, filled):
    """No order is filled before the first day on which it is taken."""
    first = [order.since.toordinal() if order.since else -np.inf for order in asked]
    return np.maximum(filled, np.reshape(first, (len(asked), 1)))


def _any_day(want):
    """As it is wanted, whenever it comes: whether in time is told of each season."""
    return dataclasses.replace(want, by=None)


def _told(question, problem, plan, n, filled):
    want, asked = problem.wants[n], question.orders[n]
    there = (*question.lots, *question.to_come)
    in_time = np.isfinite(filled) & (filled <= (want.by or np.inf))
    chance = float(in_time.mean()) if filled.size else 0.0
    sure_by = _sure_by(filled)
    reached = sure_by is not None and (filled <= sure_by.toordinal()).mean()
    return OrderTold(
        asked=asked,
        given=plan.to(want.name),
        in_store=frozenset(lot.name for lot in question.lots),
        unmeasured=tuple(
            stock.name
            for stock in problem.stocks
            if stock.name in plan.to(want.name)
            and stock.length is None
            and want.least_length is not None
        ),
        lots=tuple(x for x in there if x.name in plan.to(want.name)),
        chance=chance,
        sure_by=sure_by,
        sure_chance=float(reached or 0.0),
        unsuited={
            stock.name: reasons
            for stock in problem.stocks
            if stock.kind == want.kind and (reasons := against(want, stock))
        },
    )


def _sure_by(filled):
    """End of the month by which an order is filled as surely as the tables ask."""
    if not filled.size:
        return None
    day = np.quantile(filled, allotting().shown_sure, method="inverted_cdf")
    if not np.isfinite(day):
        return None
    first = datetime.date.fromordinal(int(np.ceil(day))).replace(day=1)
    return (first + datetime.timedelta(31)).replace(day=1) - datetime.timedelta(1)


def _with_costs(problem, plan, told):
    """With what filling the first few that are short would cost the others."""
    short = [each.asked.name for each in told if each.is_short][:MOST_COSTED]
    costs = {name: cost_of_filling(problem, plan, name) for name in short}
    return tuple(
        dataclasses.replace(each, cost=costs.get(each.asked.name, math.nan))
        for each in told
    )


def _oversold(question, kg):
    """Of each kind, where more is promised than may be counted on."""
    for kind in KINDS:
        promised = sum(o.kg for o in question.orders if o.promised and o.kind == kind)
        in_store = [lot.kind == kind and not lot.apart for lot in question.lots]
        rows = np.array([*in_store, *(x.kind == kind for x in question.to_come)], bool)
        there = kg[rows].sum(axis=0) if len(rows) else np.zeros(1)
        share = 1 - allotting().counted_on
        surely = float(np.quantile(there, share, method="inverted_cdf"))
        if promised > surely + CRUMB:
            comes = any(lot.kind == kind for lot in question.to_come)
            enough = float((there >= promised).mean()) if comes else None
            yield Oversold(kind, promised, surely, enough)


def _day(number):
    return wording.date(datetime.date.fromordinal(number))
