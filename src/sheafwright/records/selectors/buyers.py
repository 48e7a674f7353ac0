"""One buyer: what they like, looked at and bought, and how it lasted."""

import calendar
import dataclasses
import datetime

from sheafwright.records.models import Customer, RoofReport, Visit
from sheafwright.records.selectors.lot_known import own_rules
from sheafwright.records.selectors.orders import likes, orders_now, papers_of

MOST = 30


@dataclasses.dataclass(frozen=True)
class BuyerNow:
    """All that the book knows of a buyer; of each list the last, first."""

    customer: Customer
    likes: tuple
    """`CustomerWants`, one of each kind."""
    rules: dict
    """Use to the engine's rule that they alone have."""
    visits: tuple[Visit, ...]
    reports: tuple[RoofReport, ...]
    orders: tuple
    """`OrderNow`."""
    papers: tuple

    @property
    def open_orders(self):
        return [each for each in self.orders if not each.is_done]


def buyer_now(customer):
    """`BuyerNow`."""
    holding = customer.holding
    only = Customer.objects.filter(pk=customer.pk)
    return BuyerNow(
        customer=customer,
        likes=tuple(likes([customer]).values()),
        rules=own_rules(customer.name, holding=holding),
        visits=tuple(customer.visits.select_related("lot")[:MOST]),
        reports=tuple(customer.roof_reports.select_related("lot")[:MOST]),
        orders=orders_now(holding=holding, customers=only, done=True, most=MOST),
        papers=tuple(papers_of(holding=holding, customers=only, most=MOST)),
    )


def next_window(wants, day):
    """First and last day of the next months in which somebody likes deliveries.

    Parameters
    ----------
    wants : CustomerWants
    day : date
        Today: a window that has begun and not ended is the next.

    Returns
    -------
    (date or None, date or None)
    """
    begins, ends = wants.from_month, wants.to_month
    if not ends:
        return _first(begins, day.year + (begins < day.month)) if begins else None, None
    last = _last(ends, day.year)
    if last < day:
        last = _last(ends, day.year + 1)
    return begins and _first(begins, last.year - (begins > ends)), last


def _first(month, year):
    return datetime.date(year, month, 1)


def _last(month, year):
    return datetime.date(year, month, calendar.monthrange(year, month)[1])
