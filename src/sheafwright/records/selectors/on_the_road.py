"""How what may be delivered now goes on the road."""

import dataclasses

from sheafwright.answers.order_loads import MOST_DROPS, Drop, order_loads
from sheafwright.core.inputs.orders import Vehicle
from sheafwright.feeds.orders import VEHICLES
from sheafwright.records.models import Bundles, Machine
from sheafwright.records.models.store import STRAW
from sheafwright.records.selectors.grading import tally_of
from sheafwright.records.selectors.machines import machines_now

LEAST_KG = 1


def loads_of(*, holding, allotted):
    """`OrderLoads` of all straw that may go now, or None if none may.

    On the holding's own trailer, the largest that is fit for use; in bundles as heavy
    as those weighed of the lots that go.
    """
    going = [told for told in _told(allotted) if _may_go(allotted, told)]
    if not going:
        return None
    name, own = _own(holding)
    drops = [_drop(allotted, told) for told in going]
    loads = order_loads(drops[:MOST_DROPS], name, _bundle(allotted, going), own)
    return dataclasses.replace(loads, left_out=max(0, len(drops) - MOST_DROPS))


def _told(allotted):
    return allotted.answer.orders if allotted.answer else ()


def _may_go(allotted, told):
    asked = told.asked
    begun = asked.since is None or asked.since <= allotted.answer.as_of
    is_order = asked.name in allotted.orders
    return (
        is_order
        and begun
        and asked.kind in STRAW
        and sum(told.from_store.values()) > LEAST_KG
    )


def _drop(allotted, told):
    customer = allotted.orders[told.asked.name].order.customer
    kg = sum(told.from_store.values())
    return Drop(customer.name, kg, customer.distance_km or 0.0, customer.bearing)


def _own(holding):
    """The holding's own trailer and what it is called, or what the tables have."""
    decks = [
        (each.machine.name, deck)
        for each in machines_now(holding=holding)
        if each.is_ready and (deck := _deck(each.machine)) is not None
    ]
    return max(decks, key=lambda each: each[1].payload, default=(VEHICLES[0], None))


def _deck(machine):
    said = machine.deck_length_m, machine.deck_width_m, machine.payload_kg
    if machine.kind not in (Machine.Kind.CART, Machine.Kind.OTHER) or None in said:
        return None
    return Vehicle(*said)


def _bundle(allotted, going):
    """Mean weight of a bundle of the lots that go; None where none was weighed. [kg]"""
    codes = {code for told in going for code in told.from_store}
    ids = [allotted.lots[code].pk for code in codes if code in allotted.lots]
    by_lot = {}
    for each in Bundles.objects.filter(lot__in=ids):
        by_lot.setdefault(each.lot_id, []).append(each)
    tallies = [tally_of(each) for each in by_lot.values()]
    weighed = [told.each for told in tallies if told.each is not None]
    return sum(weighed) / len(weighed) if weighed else None
