"""What wants doing next with each lot of grain, flour and bran."""

import dataclasses

from sheafwright.feeds.grain import buyers_terms
from sheafwright.records import grain_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import Lot, Place
from sheafwright.records.remembered import remembered, written
from sheafwright.records.selectors.grain import flour_checks, grain_now
from sheafwright.records.selectors.lots import lots_held

KINDS = (Lot.Kind.GRAIN, Lot.Kind.TAIL, Lot.Kind.FLOUR, Lot.Kind.BRAN)
WAITS, SPOILS = 5, 9
"""From so much pressing a step waits to be done, or what it is about goes off."""


@dataclasses.dataclass(frozen=True)
class NextStep:
    """One thing to do with a lot, and the entry or the question that it is."""

    says: str
    entry: str
    """A kind of entry, or ``grain-choice``."""
    given: dict
    """What the entry begins with besides the lot."""
    presses: int
    """The more, the sooner."""

    @property
    def waits(self):
        """Whether it is to be done soon; what is not, *Grain* alone tells."""
        return self.presses >= WAITS

    @property
    def spoils(self):
        """Whether grain goes off where nobody does it."""
        return self.presses >= SPOILS


def next_step(now, *, day, left):
    """The `NextStep` of a `GrainNow`.

    Parameters
    ----------
    now : sheafwright.records.selectors.grain.GrainNow
    day : datetime.date
    left : int
        Things not done that come before flour is sold.
    """
    if now.lot.set_apart:
        return NextStep(wording.clear_or_write_off(), "lot-clear", {}, 4)
    if wording.is_amiss(now.checked):
        return NextStep(wording.amiss(now.checked), "store-check", {}, 9)
    return _of_grain(now, day) if now.is_grain else _of_the_mill(now, left)


def _of_grain(now, day):
    keeping = now.keeping
    if keeping and keeping.level in ("too_warm", "too_damp"):
        return NextStep(keeping.sentence, *_drying(now), 10)
    if now.lot.kind == Lot.Kind.TAIL:
        return NextStep(wording.feed_or_sell(), "grain-move", {"to": "fed"}, 1)
    if now.moisture is None:
        return NextStep(wording.take_its_moisture(), "store-check", {}, 7)
    if now.is_damp:
        most = 100 * buyers_terms().moisture_most
        return NextStep(wording.dry_it(now.moisture, most), *_drying(now), 8)
    if now.dressed is None:
        return NextStep(wording.dress_it(), "dressing", {}, 6)
    if not now.looked_at_by(day):
        return NextStep(wording.look_at_it(now.checked, day), "store-check", {}, 5)
    if now.untested:
        return NextStep(wording.have_it_tested(now.untested), "lot-test", {}, 3)
    return NextStep(wording.choose(), "grain-choice", now.asked, 2)


def _drying(now):
    return "drying", {"moisture_before_pct": f"{now.moisture:g}"}


def _of_the_mill(now, left):
    if now.lot.kind == Lot.Kind.BRAN:
        return NextStep(wording.feed_or_sell(), "sale", {}, 1)
    if not now.bags:
        return NextStep(wording.bag_it(), "flour-bags", {}, 4)
    if left:
        return NextStep(wording.finish_checklist(left), "flour-check", {}, 5)
    return NextStep(wording.sell_it(), "sale", {}, 3)


def steps_by_pressing(lots, *, day, checks):
    """Pairs of `GrainNow` and `NextStep`, what presses first."""
    left = sum(not each.is_done for each in checks)
    steps = [(now, next_step(now, day=day, left=left)) for now in lots]
    return sorted(steps, key=lambda each: -each[1].presses)


@remembered(until=written)
def steps_waiting(*, holding):
    """Each pair of `GrainNow` and `NextStep` that waits, what presses first."""
    lots = grain_now(lots_held(holding=holding, kinds=KINDS).lots)
    checks = flour_checks(holding=holding) if lots else ()
    return tuple(_waiting(lots, today(holding), checks))


def _waiting(lots, day, checks):
    """What comes before flour is sold is one thing, however many lots there are."""
    told_of_flour = False
    for now, step in steps_by_pressing(lots, day=day, checks=checks):
        is_list = step.entry == "flour-check"
        if step.waits and not (is_list and told_of_flour):
            told_of_flour = told_of_flour or is_list
            yield now, step


def at_mill(*, holding):
    """Pairs of a lot of grain and what of it lies at the mill. [g]"""
    places = Place.objects.filter(
        holding=holding, kind=Place.Kind.MILL, balance__grams__gt=0
    )
    grams = dict(places.values_list("subject", "balance__grams"))
    lots = Lot.objects.filter(pk__in=grams).order_by("code") if grams else ()
    return [(lot, grams[lot.pk]) for lot in lots]
