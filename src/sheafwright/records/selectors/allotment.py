"""What the orders answer is asked from the book: orders, lots, and what is to come."""

import collections
import dataclasses
import datetime

from django.utils.translation import gettext as _

from sheafwright.answers.asked_grades import asked_grades
from sheafwright.answers.orders import Orders, orders
from sheafwright.answers.orders_question import (
    LotAsked,
    OrderAsked,
    OrdersQuestion,
    ToCome,
)
from sheafwright.answers.organic import ORGANIC
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.orders import to_come
from sheafwright.feeds.outturns import usual_shares
from sheafwright.feeds.telling import refusal
from sheafwright.records.clock import today
from sheafwright.records.due.yields import combs
from sheafwright.records.models import (
    Lot,
    Paper,
    Place,
    Rick,
)
from sheafwright.records.models.store import STRAW
from sheafwright.records.papers.standing import may_be_sold_as
from sheafwright.records.remembered import remembered, written
from sheafwright.records.saved import saved, standing
from sheafwright.records.selectors.lot_known import known_before, lots_known
from sheafwright.records.selectors.lots import lots_held
from sheafwright.records.selectors.milled import not_organic_by_mill
from sheafwright.records.selectors.orders import (
    enquiries_open,
    likes,
    orders_now,
    quotation_of,
)
from sheafwright.records.selectors.walk import sown_behind
from sheafwright.records.selectors.weighed_prices import (
    Priced,
    Weighed,
    last_prices,
    rates_now,
    weighed_prices,
)

CM_PER_M, KG_PER_T = 100, 1000
MOST_ORDERS, MOST_LOTS = 20, 30
"""Weighed against each other while somebody waits: those wanted first."""
AUGUST = 8


@dataclasses.dataclass(frozen=True)
class Allotted:
    """The answer, and what its names stand for."""

    answer: Orders | None
    refused: str
    """Why the engine would not tell."""
    orders: dict
    """Name to `OrderNow`."""
    enquiries: dict
    """Name to `Enquiry`."""
    lots: dict
    """Code to `Lot`."""
    weighed: Weighed
    """At which prices."""
    left_out: int = 0
    """Orders and enquiries that are wanted so late that they weren't weighed."""

    def of(self, name):
        """`OrderTold` of an order or an enquiry, or None."""
        all_told = self.answer.orders if self.answer else ()
        return next((each for each in all_told if each.asked.name == name), None)


@remembered(until=written)
def allotment(*, holding):
    """`Allotted` of all open orders and enquiries."""
    return allotment_with((), holding=holding)


def allotment_with(besides, *, holding):
    """The same with orders besides, as if they were taken.

    Parameters
    ----------
    besides : iterable of OrderAsked
    """
    # Of one that was ended, money is still to come.
    open_orders = orders_now(holding=holding)
    asked_about = enquiries_open(holding=holding)
    liked = likes(
        {each.order.customer for each in open_orders}
        | {each.customer for each in asked_about}
    )
    named = {_code(now): now for now in open_orders}
    called = {_called(n): each for n, each in enumerate(asked_about, 1)}
    named_left = {name: now for name, now in named.items() if now.left_kg}
    weighed, usual = _weighed(holding, named_left, called)
    prices = weighed.gbp_per_t
    asked = [_order(*each, liked, prices) for each in named_left.items()]
    asked += [_enquiry(*each, liked, prices, usual) for each in called.items()]
    asked = [*besides, *sorted(asked, key=_turn)]
    kinds = {each.kind for each in asked}
    held = lots_held(holding=holding, kinds=kinds, most=MOST_LOTS)
    answer, refused = None, ""
    try:
        answer = orders(_question(holding, asked, held.lots))
    except SheafwrightError as error:
        refused = refusal(error)
    lots = {each.lot.code: each.lot for each in held.lots}
    left_out = max(0, len(asked) - MOST_ORDERS)
    return Allotted(answer, refused, named, called, lots, weighed, left_out)


def _weighed(holding, orders, enquiries):
    """`Weighed` of orders and of what was quoted; and the usual prices. [£/t]"""
    priced = {name: _priced(now.order.kind, now.order) for name, now in orders.items()}
    for name, enquiry in enquiries.items():
        if quotation := quotation_of(enquiry):
            priced[name] = _priced(enquiry.kind, quotation)
    rates = rates_now(holding=holding)
    kinds = {each.kind for each in (*priced.values(), *enquiries.values())}
    usual = last_prices(holding=holding, kinds=kinds, rates=rates)
    return weighed_prices(priced, rates=rates, usual=usual), usual


def _priced(kind, terms):
    return Priced(kind, terms.price_per_t, terms.currency)


def _turn(order):
    return not order.promised, order.by or datetime.date.max


def ordered_from(*, holding):
    """Name of what is to come to the first day by which an order wants some of it."""
    answer = allotment(holding=holding).answer
    first = {}
    for told in answer.orders if answer else ():
        if told.asked.promised and told.asked.by:
            for name in told.given.keys() - told.in_store:
                first[name] = min(told.asked.by, first.get(name, told.asked.by))
    return first


def _question(holding, asked, held):
    kinds = {each.kind for each in asked}
    buyers = {each.customer for each in asked if each.customer}
    day = today(holding)
    before = {
        kind: known_before(holding=holding, kind=kind, buyers=buyers)
        for kind in kinds.intersection(STRAW)
    }
    coming = tuple(
        _as_before(each, *before.get(each.kind, (None, {})))
        for each in _told_apart(_coming(holding, kinds, day), held)
    )
    return OrdersQuestion(
        as_of=day,
        orders=tuple(asked[:MOST_ORDERS]),
        lots=tuple(_lots(holding, held, kinds, buyers)),
        to_come=coming[: max(0, MOST_LOTS - len(held))],
    )


def _told_apart(coming, held):
    """Each under a name of its own: a field may bear two crops, and ricks be alike."""
    said = collections.Counter(each.lot.code for each in held)
    for each in coming:
        said[each.name] += 1
        times = said[each.name]
        name = each.name if times == 1 else f"{each.name} ({times})"
        yield dataclasses.replace(each, name=name)


def _as_before(coming, known, known_for):
    """What is to come, as good as lots before it were found."""
    return dataclasses.replace(coming, known=known, known_for=known_for)


def _code(now):
    paper = next((p for p in now.papers if p.kind == Paper.Kind.ORDER), None)
    return paper.code if paper else str(now.order.pk)[:8]


def _called(number):
    return f"E-{number}"


def _order(name, now, liked, prices):
    order = now.order
    likes_of = liked.get((order.customer_id, order.kind))
    return OrderAsked(
        name=name,
        customer=order.customer.name,
        kind=order.kind,
        kg=now.left_kg,
        gbp_per_t=float(prices[name]),
        since=order.wanted_from,
        by=order.wanted_by,
        most_lots=order.most_lots,
        whole=order.whole and not now.deliveries,
        first_refusal=bool(likes_of and likes_of.first_refusal),
        distance=order.customer.distance_km or 0.0,
        reserved={lot.code: kg for lot, kg in now.reserved.items()},
        **_like(order),
    )


def _enquiry(name, enquiry, liked, prices, usual):
    """As it was quoted, or else at the last price of its kind."""
    quotation = quotation_of(enquiry)
    price = prices[name] if quotation else usual.get(enquiry.kind, 0)
    likes_of = liked.get((enquiry.customer_id, enquiry.kind))
    return OrderAsked(
        name=name,
        customer=enquiry.customer.name,
        kind=enquiry.kind,
        kg=quotation.weight_kg if quotation else enquiry.weight_kg,
        gbp_per_t=float(price),
        since=enquiry.wanted_from,
        by=enquiry.wanted_by,
        most_lots=enquiry.most_lots,
        first_refusal=bool(likes_of and likes_of.first_refusal),
        promised=False,
        distance=enquiry.customer.distance_km or 0.0,
        **_like(enquiry),
    )


def _like(asked):
    """What it is to be like."""
    length = asked.least_length_cm
    return {
        "least_length": length and length / CM_PER_M,
        "grades": asked_grades(asked.grades),
        "varieties": _names(asked.varieties),
        "organic": asked.organic,
    }


def _names(text):
    return frozenset(name.strip() for name in text.split(",") if name.strip())


def _lots(holding, held, kinds, buyers):
    held = [each for each in held if each.lot.kind in kinds]
    places = Place.objects.filter(
        holding=holding,
        kind=Place.Kind.LOT,
        subject__in=[each.lot.pk for each in held],
    )
    behind = sown_behind(places)
    spoilt = not_organic_by_mill([each.lot for each in held])
    known = lots_known(holding=holding, lots=[each.lot for each in held], buyers=buyers)
    for each in held:
        lot = each.lot
        yield LotAsked(
            name=lot.code,
            kind=lot.kind,
            kg=each.grams / 1000,
            harvest_year=lot.harvest_year,
            grade=lot.grade,
            variety=lot.variety,
            organic=lot.pk not in spoilt and _is_organic(behind.get(lot.pk, ())),
            apart=lot.set_apart,
            **vars(known[lot.pk]),
        )


def _is_organic(sowings):
    """Whether papers would call what came of them so."""
    return may_be_sold_as(sowings) == ORGANIC


def _coming(holding, kinds, day):
    """What ricks and standing crops should give, of the kinds that are asked for."""
    if not kinds:
        return
    combed = combs(holding)
    yield from _from_ricks(holding, kinds, day, combed)
    yield from _from_crops(holding, kinds)


def _from_ricks(holding, kinds, day, combed):
    places = Place.objects.filter(
        holding=holding, kind=Place.Kind.RICK, balance__grams__gt=0
    ).select_related("balance")
    behind = sown_behind(places)
    ricks = Rick.objects.in_bulk([place.subject for place in places])
    ready = tuple(day + datetime.timedelta(n) for n in to_come().rick_days)
    for place in places:
        rick, sowings = ricks[place.subject], behind[place.subject]
        kg = place.balance.grams / 1000
        shares = usual_shares(combed and rick.fit_to_comb)
        for kind in kinds & shares.keys():
            low, high = shares[kind]
            band = (kg * low, kg * (low + high) / 2, kg * high)
            yield _one_coming(rick.name, kind, band, ready, sowings)


def _from_crops(holding, kinds):
    crops = list(standing(holding))
    kept = saved(question="yield", about=crops)
    for sowing in crops:
        answer = kept.get(sowing.pk)
        if answer is None or "refused" in answer.said:
            continue
        said = answer.said
        first = datetime.date(sowing.harvest_year, AUGUST, 1)
        ready = tuple(first + datetime.timedelta(n) for n in to_come().crop_days)
        gives = {
            said["product"]: said["product_t_per_ha"],
            Lot.Kind.GRAIN: said["grain_t_per_ha"],
        }
        for kind in kinds & gives.keys():
            band = tuple(
                KG_PER_T * sowing.area_ha * gives[kind][p]
                for p in ("p10", "p50", "p90")
            )
            yield _one_coming(
                f"{sowing.field.name} {sowing.harvest_year}",
                kind,
                band,
                ready,
                [sowing],
            )


def _one_coming(name, kind, band, ready, sowings):
    varieties = {sowing.seed_lot.variety for sowing in sowings}
    if kind not in STRAW:
        name = _("%(name)s, grain") % {"name": name}
    return ToCome(
        name=name,
        kind=kind,
        kg=band,
        ready=ready,
        variety=varieties.pop() if len(varieties) == 1 else "",
        organic=_is_organic(sowings),
    )
