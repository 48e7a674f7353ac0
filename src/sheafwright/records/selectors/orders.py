"""Orders as they now stand: what is delivered, kept, invoiced and paid."""

import dataclasses
import datetime
import functools
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db.models import Q, Sum

from sheafwright.records.clock import today
from sheafwright.records.models import (
    CustomerWants,
    Delivery,
    Enquiry,
    Letterhead,
    Line,
    Movement,
    Order,
    OrderEnd,
    Paper,
    Payment,
    Place,
    Quotation,
    Reservation,
)

LEAST_LEFT = 0.5
"""No less is said to be still to come. [kg]"""
NOTHING = Decimal(0)
LATELY = datetime.timedelta(180)
"""So long an order that was ended is still looked at; then, while anything is owed."""


@dataclasses.dataclass(frozen=True)
class DeliveryNow:
    """A delivery, with what of it came back."""

    delivery: Delivery
    grams: int
    """That went."""
    back: int
    """[g]"""

    @property
    def kept(self):
        """[g]"""
        return self.grams - self.back


@dataclasses.dataclass(frozen=True)
class InvoiceNow:
    """An invoice, what was credited of it and what was paid."""

    paper: Paper
    credited: Decimal
    paid: Decimal

    @property
    def owed(self):
        """Less than nothing, if too much was paid."""
        return self.paper.gross - self.credited - self.paid

    @property
    def stands(self):
        """Whether it was not credited whole: then it is as if it had never been."""
        return self.credited < self.paper.gross or not self.paper.gross

    @property
    def deliveries(self):
        """Ids of the deliveries that it names."""
        return set(self.paper.said.get("deliveries", ()))


@dataclasses.dataclass(frozen=True)
class OrderNow:
    """One order."""

    order: Order
    deliveries: tuple[DeliveryNow, ...]
    reserved: dict
    """Lot to what is still kept of it. [kg]"""
    invoices: tuple[InvoiceNow, ...]
    papers: tuple[Paper, ...]
    ended: OrderEnd | None

    @property
    def delivered_kg(self):
        return sum(each.kept for each in self.deliveries) / 1000

    @property
    def left_kg(self):
        """Still to go; nothing of an order that was ended."""
        left = self.order.weight_kg - self.delivered_kg
        return 0.0 if self.ended or left < LEAST_LEFT else left

    @functools.cached_property
    def to_invoice(self):
        """Deliveries that no invoice names, or only such as were credited whole."""
        return self._not_named([each for each in self.invoices if each.stands])

    @functools.cached_property
    def uninvoiced(self):
        """Those that wait for it: of an ended order, what was never invoiced."""
        return self._not_named(self.invoices) if self.ended else self.to_invoice

    def _not_named(self, invoices):
        named = set().union(*(each.deliveries for each in invoices))
        return tuple(
            each
            for each in self.deliveries
            if str(each.delivery.pk) not in named and each.kept > 0
        )

    @property
    def owed(self):
        return sum((each.owed for each in self.invoices), NOTHING)

    @property
    def is_done(self):
        """Nothing is to be delivered, invoiced or paid."""
        return not (self.left_kg or self.uninvoiced or self.owed)


def orders_now(*, holding, customers=None, done=False, most=200):
    """`OrderNow` of each that something is still to do of, or of all; the last first.

    Parameters
    ----------
    customers : query of Customer, optional
        Theirs alone.
    """
    orders = Order.objects.filter(holding=holding).select_related(
        "customer", "quotation__enquiry"
    )
    if customers is not None:
        orders = orders.filter(customer__in=customers)
    if not done:
        orders = orders.exclude(pk__in=_settled(holding))
    return tuple(_now(list(orders[:most]), done))


def order_now(order):
    """`OrderNow` of one."""
    (only,) = _now([order], True)
    return only


def _settled(holding):
    """Orders ended long ago and paid: years of old ones aren't gone over."""
    long_ago = today(holding) - LATELY
    ended = OrderEnd.objects.filter(holding=holding, date__lt=long_ago).values("order")
    invoices = Paper.objects.filter(order__in=ended, kind=Paper.Kind.INVOICE)
    credited, paid = _credited(ended), _paid(ended)
    owing = {
        order
        for pk, order, gross in invoices.values_list("pk", "order", "gross")
        if gross != credited.get(pk, NOTHING) + paid.get(pk, NOTHING)
    }
    return ended.exclude(order__in=owing)


def _now(orders, done):
    pks = [order.pk for order in orders]
    deliveries, reserved = _deliveries(pks), _reserved(pks)
    papers, invoices = _papers(pks), {}
    credited, paid = _credited(pks), _paid(pks)
    ends = {end.order_id: end for end in OrderEnd.objects.filter(order__in=pks)}
    for order_id, its in papers.items():
        invoices[order_id] = tuple(
            InvoiceNow(each, credited.get(each.pk, NOTHING), paid.get(each.pk, NOTHING))
            for each in its
            if each.kind == Paper.Kind.INVOICE
        )
    for order in orders:
        now = OrderNow(
            order=order,
            deliveries=tuple(deliveries.get(order.pk, ())),
            reserved=_still(reserved.get(order.pk, {}), deliveries.get(order.pk, ())),
            invoices=invoices.get(order.pk, ()),
            papers=tuple(papers.get(order.pk, ())),
            ended=ends.get(order.pk),
        )
        if done or not now.is_done:
            yield now


def _deliveries(orders):
    """Order's id to `DeliveryNow` of each that wasn't undone."""
    undone = Movement.objects.filter(reverses__subject__isnull=False)
    found = (
        Delivery.objects.filter(order__in=orders)
        .exclude(sale__in=undone.values("reverses__subject"))
        .select_related("sale__lot", "order")
    )
    went = _grams_sold([each.sale_id for each in found])
    back = dict(
        Movement.objects.filter(
            subject__in=[each.pk for each in found],
            reversed_by=None,
            lines__place__kind=Place.Kind.LOT,
        )
        .values("subject")
        .annotate(back=Sum("lines__grams", filter=Q(lines__grams__gt=0)))
        .values_list("subject", "back")
    )
    by_order = {}
    for each in found:
        now = DeliveryNow(each, went.get(each.sale_id, 0), back.get(each.pk) or 0)
        by_order.setdefault(each.order_id, []).append(now)
    return by_order


def _grams_sold(sales):
    """Sale's id to what went by it."""
    lines = Line.objects.filter(
        movement__in=sales, place__kind=Place.Kind.SOLD, grams__gt=0
    )
    return dict(lines.values_list("movement_id", "grams"))


def _reserved(orders):
    """Order's id to each lot's last word. [kg]"""
    by_order = {}
    kept = Reservation.objects.filter(order__in=orders).select_related("lot")
    for each in kept.order_by("date", "made_at"):
        by_order.setdefault(each.order_id, {})[each.lot] = each
    return by_order


def _still(reserved, deliveries):
    """What is kept yet: what went of a lot since it was reserved is no longer kept."""
    left = {}
    for lot, each in reserved.items():
        gone = sum(
            now.kept
            for now in deliveries
            if now.delivery.sale.lot_id == lot.pk
            and now.delivery.made_at > each.made_at
        )
        kg = each.weight_kg - gone / 1000
        if kg > 0:
            left[lot] = kg
    return left


def _papers(orders):
    by_order = {}
    papers = Paper.objects.filter(order__in=orders).select_related("customer")
    for paper in papers.order_by("date", "made_at"):
        by_order.setdefault(paper.order_id, []).append(paper)
    return by_order


def _credited(orders):
    notes = Paper.objects.filter(order__in=orders, kind=Paper.Kind.CREDIT)
    return _summed(notes.values_list("corrects", "gross"))


def _paid(orders):
    paid = Payment.objects.filter(invoice__order__in=orders)
    return _summed(
        (invoice, -amount if back else amount)
        for invoice, amount, back in paid.values_list("invoice", "amount", "back")
    )


def _summed(pairs):
    """Exact: some databases add decimals as floats."""
    sums = {}
    for key, amount in pairs:
        sums[key] = sums.get(key, NOTHING) + amount
    return sums


def invoice_now(paper):
    """`InvoiceNow` of one invoice."""
    credited = _summed(
        Paper.objects.filter(corrects=paper).values_list("corrects", "gross")
    )
    paid = _summed(
        (paper.pk, -each.amount if each.back else each.amount)
        for each in Payment.objects.filter(invoice=paper)
    )
    return InvoiceNow(
        paper, credited.get(paper.pk, NOTHING), paid.get(paper.pk, NOTHING)
    )


def reserved_of(lot):
    """What is kept of a lot for orders that are open. [kg]"""
    orders = Order.objects.filter(reservations__lot=lot).distinct()
    now = _now(list(orders.select_related("customer")), True)
    return {
        each.order: each.reserved[lot]
        for each in now
        if lot in each.reserved and not each.ended
    }


def letterhead_of(holding):
    """The last `Letterhead` that counts; None if nobody wrote one."""
    return (
        Letterhead.objects.filter(holding=holding, since__lte=today(holding))
        .order_by("-since", "-made_at")
        .first()
    )


def likes(customers):
    """(customer, kind) to the last `CustomerWants`."""
    wants = CustomerWants.objects.filter(customer__in=customers)
    return {(w.customer_id, w.kind): w for w in wants.order_by("since", "made_at")}


def enquiries_open(*, holding, most=40):
    """Enquiries of late that no order came of, unless their quotation has run out."""
    day = today(holding)
    ordered = Order.objects.filter(holding=holding, quotation__isnull=False)
    asked = (
        Enquiry.objects.filter(holding=holding, date__gte=day - LATELY)
        .exclude(pk__in=ordered.values("quotation__enquiry"))
        .exclude(quotations__open_until__lt=day)
    )
    return list(
        asked.select_related("customer")
        .prefetch_related("quotations")
        .distinct()[:most]
    )


def quotation_of(enquiry):
    """The last quotation for an enquiry, or None."""
    return max(
        enquiry.quotations.all(), key=lambda q: (q.date, q.made_at), default=None
    )


def roof_of_quotation(holding, id):
    """The roof that was described with what a quotation is for, or None."""
    try:
        found = Quotation.objects.select_related("enquiry").get(holding=holding, pk=id)
    except (ValidationError, Quotation.DoesNotExist):
        return None
    return found.enquiry.roof_plan


def papers_of(*, holding, most, customers=None, begins=None, ends=None):
    """The last papers, of everybody or of some buyers, of all days or of some."""
    papers = Paper.objects.filter(holding=holding).select_related("customer")
    if begins and ends:
        papers = papers.filter(date__range=(begins, ends))
    if customers is not None:
        papers = papers.filter(customer__in=customers)
    return list(papers[:most])


def sent_for_roofs(lot):
    """Deliveries of a lot for orders that name or describe a roof, the last first."""
    undone = Movement.objects.filter(reverses__subject__isnull=False)
    described = Q(order__roof_plan__isnull=False)
    described |= Q(order__quotation__enquiry__roof_plan__isnull=False)
    return (
        Delivery.objects.filter(sale__lot=lot)
        .filter(~Q(order__roof="") | described)
        .exclude(sale__in=undone.values("reverses__subject"))
        .select_related("sale", "order__customer", "order__quotation__enquiry")
        .order_by("-sale__date", "-made_at")
    )
