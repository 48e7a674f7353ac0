"""Sell it as wheat, mill it, feed it, give back what is owed, or keep it for seed?

Grain is dressed and dried first; what is owed and what is to be sown comes off; the
rest is set beside a buyer's terms, and beside what it brings as feed and as flour.
"""

import dataclasses
from typing import NamedTuple

from sheafwright.answers import grain_wording as wording
from sheafwright.answers.grain_working import grain_steps
from sheafwright.answers.limits import Limit, check_given, check_moisture
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.moisture.weight import weight_at
from sheafwright.core.money.grain import deduction, flour, grain_for
from sheafwright.core.money.pence import pence_of
from sheafwright.feeds import grain as table
from sheafwright.feeds.telling import joined, mark, say

LIMITS = {
    "mass": Limit(mark("{measure} of grain"), 1, 10_000_000, "kg"),
    "protein": Limit(mark("Protein of {measure}"), 4, 25, "%"),
    "hagberg": Limit(mark("A falling number of {measure}"), 60, 600, mark("s")),
    "specific_weight": Limit(mark("{measure} to the hectolitre"), 40, 95, "kg"),
    "admixture": Limit(mark("Admixture of {measure}"), 0, 100, "%"),
    "seed": Limit(mark("{measure} kept for seed"), 0, 10_000_000, "kg"),
    "owed": Limit(mark("{measure} owed"), 0, 10_000_000, "kg"),
    "flour_outlet": Limit(mark("{measure} of flour sold"), 0, 10_000_000, "kg"),
    "milling_price": Limit(mark("£{value:,g} a tonne"), 0, 5000, mark("pounds")),
    "feed_price": Limit(mark("£{value:,g} a tonne"), 0, 5000, mark("pounds")),
    "flour_price": Limit(mark("£{value:,g} a kg of flour"), 0, 50, mark("pounds")),
    "flour_costs": Limit(mark("£{value:,g} a tonne"), 0, 50_000, mark("pounds")),
}


@dataclasses.dataclass(frozen=True)
class GrainQuestion:
    """A heap of grain; what is not given is as the tables have it, or not tested."""

    mass: float
    """As it lies. [kg]"""
    moisture: float
    """Wet basis. [1]"""
    protein: float | None = None
    """Of dry matter. [%]"""
    hagberg: float | None = None
    """[s]"""
    specific_weight: float | None = None
    """[kg/hl]"""
    admixture: float | None = None
    """[%]"""
    seed: float = 0.0
    """To be sown next. [kg]"""
    owed: float = 0.0
    """To the seed's owner. [kg]"""
    dressed: bool = False
    """Nothing more is dressed out of it."""
    kind: str = "wholemeal"
    """One of ``feeds.grain.FLOURS``."""
    flour_outlet: float | None = None
    """Flour that can be sold; all, if nobody says. [kg]"""
    milling_price: float | None = None
    """Full quality. [£/t]"""
    feed_price: float | None = None
    """[£/t]"""
    flour_price: float | None = None
    """[£/kg]"""
    flour_costs: float | None = None
    """Of milling and packing. [£/t of grain]"""
    terms: table.Terms | None = None
    """A buyer's own; the package's, if nobody says."""
    buyer: str = ""
    """Whose terms they are."""

    def __post_init__(self):
        check_given(self, LIMITS)
        check_moisture("grain", say("in the heap"), self.moisture)
        if self.kind not in table.FLOURS:
            raise OutOfRange(
                "{kind!r} is no kind of flour; it should be one of {kinds}.",
                kind=self.kind,
                kinds=", ".join(table.FLOURS),
            )

    @property
    def buyers_terms(self):
        """`Terms` that it is held against."""
        return self.terms or table.buyers_terms()


class Damp(NamedTuple):
    """What selling it as damp as it is would cost, beside drying it first."""

    over: float
    """Moisture above what has the full price. [%]"""
    off: float
    """What the buyer takes off. [£/t]"""
    refused: bool
    drying: float
    """Of dressed grain. [£/t]"""


class Heap(NamedTuple):
    """What becomes of it before it is sold. [kg]"""

    screenings: float
    dry: float
    """Dressed and dried."""
    owed: float
    seed: float
    left: float


class Test(NamedTuple):
    """One test beside a buyer's terms."""

    name: str
    found: float | None
    full: float
    least: float
    off: float
    """[£/t]"""
    refused: bool


class Way(NamedTuple):
    """What the left grain brings one way."""

    name: str
    tonnes: float
    """Of grain that goes that way; what is over goes as wheat or feed. [t]"""
    brings: float
    """[£]"""
    costs: float
    """[£]"""

    @property
    def leaves(self):
        """[£]"""
        return self.brings - self.costs

    @property
    def each(self):
        """[£/t]"""
        return self.leaves / self.tonnes if self.tonnes else 0.0


@dataclasses.dataclass(frozen=True)
class GrainChoice:
    """The answer."""

    question: GrainQuestion
    heap: Heap
    tests: tuple[Test, ...]
    ways: tuple[Way, ...]
    """``wheat`` if a mill would have it, ``feed`` and ``flour``."""
    getting_ready: float
    """Dressing and drying, whatever becomes of it. [£]"""
    damp: Damp
    saved: float
    """What the seed that is kept back would cost to buy. [£]"""
    flour_kg: float
    times: float
    """What a tonne brings as flour before all costs, by what it brings as grain. [1]"""

    @property
    def refused(self):
        """Tests for which a mill would send it back."""
        return tuple(test for test in self.tests if test.refused)

    @property
    def untested(self):
        """Tests that nobody made."""
        return tuple(test for test in self.tests if test.found is None)

    @property
    def best(self):
        """The `Way` that leaves most a tonne."""
        return max(self.ways, key=lambda way: way.each)

    @property
    def over(self):
        """Grain that the best way has no room for. [t]"""
        return max(self.heap.left / 1000 - self.best.tonnes, 0.0)

    def way(self, name):
        """One `Way` by its name; None if it is not open."""
        return next((way for way in self.ways if way.name == name), None)

    @property
    def as_grain(self):
        """The better `Way` of the two that mill nothing."""
        ways = [way for way in self.ways if way.name != "flour"]
        return max(ways, key=lambda way: way.each)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if not self.heap.left:
            return wording.all_kept(self)
        return joined(
            wording.leaves_most(self),
            wording.several_times(self),
            wording.at_the_mill(self),
            wording.sold_damp(self),
            wording.kept(self),
        )

    @property
    def checklist(self):
        """What comes before the first bag of flour is sold: every `Step`."""
        return wording.CHECKLIST

    @property
    def cautions(self):
        """What the law says of seed, and what is safe."""
        return wording.cautions()

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(grain_steps(self))

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "cautions": list(self.cautions),
            **{f"{name}_kg": round(x, 2) for name, x in self.heap._asdict().items()},
            "getting_ready_pence": pence_of(self.getting_ready),
            "seed_saves_pence": pence_of(self.saved),
            "moisture": _damp_to_json(self),
            "tests": [_test_to_json(each) for each in self.tests],
            "ways": [_way_to_json(each) for each in self.ways],
            "best": self.best.name,
            "flour_kg": round(self.flour_kg, 1),
            "times_its_price": round(self.times, 2),
            "checklist": steps_to_json(self.checklist),
            "working": steps_to_json(self.working),
        }


def grain_choice(question):
    """The `GrainChoice` of a `GrainQuestion`."""
    heap = _heap(question)
    tests = tuple(_tests(question))
    tonnes = heap.left / 1000
    milled = _milled(question, tonnes)
    wheat, feed = _sold(question, tests, tonnes)
    flour_way, made, gross = _flour(question, milled)
    as_grain = max((way for way in (wheat, feed) if way), key=lambda way: way.each)
    return GrainChoice(
        question=question,
        heap=heap,
        tests=tests,
        ways=tuple(way for way in (wheat, feed, flour_way) if way),
        getting_ready=_getting_ready(question),
        damp=_damp(question),
        saved=question.seed / 1000 * table.usual_prices().seed_gbp_per_t,
        flour_kg=made,
        times=_times(gross, milled, as_grain),
    )


def _times(gross, milled, as_grain):
    """What a tonne milled brings, by its price as grain."""
    if not milled or not as_grain.brings:
        return 0.0
    return (gross / milled) / (as_grain.brings / as_grain.tonnes)


def _heap(question):
    """Dressed, dried where it is damp, and what is left when others have theirs."""
    screenings = question.mass * _screened(question)
    clean, most = question.mass - screenings, question.buyers_terms.moisture_most
    dry = clean
    if question.moisture > most:
        dry = float(weight_at(clean, question.moisture, most))
    owed, seed = question.owed, question.seed
    if owed + seed > dry + 1e-6:
        raise OutOfRange(
            "{owed:,.0f} kg are owed and {seed:,.0f} kg to be sown, and there are only "
            "{dry:,.0f} kg, dressed and dry; they should not be more than that.",
            owed=owed,
            seed=seed,
            dry=dry,
        )
    return Heap(screenings, dry, owed, seed, max(dry - owed - seed, 0.0))


def _getting_ready(question):
    """Dressing and drying of all of it. [£]"""
    tonnes, screened = question.mass / 1000, _screened(question)
    dressing = 0 if question.dressed else table.handling().dressing_gbp_per_t
    return tonnes * (dressing + _damp(question).drying * (1 - screened))


def _screened(question):
    """Share of it that dressing will take. [1]"""
    return 0.0 if question.dressed else table.handling().screenings


def _damp(question):
    terms, point = question.buyers_terms, table.handling().drying_gbp_per_point
    over = 100 * max(question.moisture - terms.moisture_most, 0.0)
    refused = question.moisture > terms.moisture_refused
    return Damp(over, over * terms.moisture_gbp_per_point, refused, over * point)


def _tests(question):
    terms = question.buyers_terms
    asked = (
        ("protein", question.protein, terms.protein_full, terms.protein_least),
        ("hagberg", question.hagberg, terms.hagberg_full, terms.hagberg_least),
        ("weight", question.specific_weight, terms.weight_full, terms.weight_least),
    )
    rates = {
        "protein": terms.protein_gbp_per_point,
        "hagberg": terms.hagberg_gbp_per_s,
        "weight": terms.weight_gbp_per_kg,
    }
    for name, found, full, least in asked:
        off = 0.0 if found is None else float(deduction(found, full, rates[name]))
        yield Test(name, found, full, least, off, found is not None and found < least)
    dirt, most = question.admixture, terms.admixture_most
    yield Test("admixture", dirt, most, most, 0.0, dirt is not None and dirt > most)


def _sold(question, tests, tonnes):
    """As milling wheat, where a mill would have it, and as feed."""
    usual, haulage = table.usual_prices(), table.handling().wheat_haulage_gbp_per_t
    feed = _or(question.feed_price, usual.feed_gbp_per_t)
    full = _or(question.milling_price, usual.milling_gbp_per_t)
    fed = Way("feed", tonnes, tonnes * feed, tonnes * haulage)
    if any(test.refused or test.found is None for test in tests):
        return None, fed
    price = max(full - sum(test.off for test in tests), 0.0)
    return Way("wheat", tonnes, tonnes * price, tonnes * haulage), fed


def _extraction(question):
    return sum(getattr(table.milling(), question.kind)) / 2


def _milled(question, tonnes):
    """Grain that is milled: no more than its flour can be sold. [t]"""
    if question.flour_outlet is None:
        return tonnes
    lost = table.milling().lost
    wanted = grain_for(question.flour_outlet / 1000, _extraction(question), lost)
    return min(tonnes, float(wanted))


def _flour(question, milled):
    """The `Way`, the flour and what it brings before all costs. [kg, £]"""
    costs, usual = table.milling(), table.usual_prices()
    made, offal = flour(milled, _extraction(question), costs.lost)
    sold = 1000 * float(made) * _or(question.flour_price, usual.flour_gbp_per_kg)
    brings = sold + float(offal) * usual.offal_gbp_per_t
    each = _or(question.flour_costs, costs.milling_gbp_per_t + costs.packing_gbp_per_t)
    spent = milled * each + sold * costs.selling_share
    return Way("flour", milled, brings, spent), 1000 * float(made), brings


def _or(given, usual):
    return usual if given is None else given


def _damp_to_json(answer):
    terms, damp = answer.question.buyers_terms, answer.damp
    return {
        "found": round(100 * answer.question.moisture, 2),
        "full": round(100 * terms.moisture_most, 2),
        "refused_above": round(100 * terms.moisture_refused, 2),
        "off_if_sold_damp_gbp_per_t": round(damp.off, 2),
        "refused_if_sold_damp": damp.refused,
        "drying_gbp_per_t": round(damp.drying, 2),
    }


def _test_to_json(test):
    return {
        "test": test.name,
        "found": test.found,
        "full": test.full,
        "least_taken": test.least,
        "off_gbp_per_t": round(test.off, 2),
        "refused": test.refused,
    }


def _way_to_json(way):
    return {
        "way": way.name,
        "grain_t": round(way.tonnes, 3),
        "brings_pence": pence_of(way.brings),
        "costs_pence": pence_of(way.costs),
        "leaves_pence": pence_of(way.brings) - pence_of(way.costs),
        "leaves_gbp_per_t": round(way.each, 2),
    }
