"""At which prices orders are weighed against each other: in pounds, whatever they pay.

Money other than pounds is worth what was said of it last. Of which nothing was said,
the order is weighed at the middle price of the others: never as if it were pounds.
"""

import dataclasses
import statistics
from decimal import Decimal

from sheafwright.records.clock import today
from sheafwright.records.models import CurrencyRate, Order
from sheafwright.records.selectors.posted import POUNDS

NOTHING = Decimal(0)


@dataclasses.dataclass(frozen=True)
class Priced:
    """What is paid for something."""

    kind: str
    per_t: Decimal
    """A tonne, in its currency."""
    currency: str


@dataclasses.dataclass(frozen=True)
class Weighed:
    """Prices as they are weighed."""

    gbp_per_t: dict
    """Name of an order to its price. [£/t]"""
    rates: tuple[CurrencyRate, ...]
    """By which some of them were worked out."""
    unpriced: dict
    """Name of an order to its currency, of which nobody said what it is worth."""

    def of(self, name, currency):
        """What of it one order rests on."""
        rates = tuple(rate for rate in self.rates if rate.currency == currency)
        unpriced = {n: money for n, money in self.unpriced.items() if n == name}
        return Weighed(self.gbp_per_t, rates, unpriced)


def rates_now(*, holding):
    """Currency to the `CurrencyRate` that counts today: the last that was said."""
    said = CurrencyRate.objects.filter(holding=holding, since__lte=today(holding))
    return {rate.currency: rate for rate in said.order_by("since", "made_at")}


def weighed_prices(priced, *, rates, usual):
    """`Weighed`.

    Parameters
    ----------
    priced : dict
        Name of an order to what is `Priced`.
    rates : dict
        As `rates_now` has them.
    usual : dict
        Kind to its price, where nobody else pays one. [£/t]
    """
    known, unpriced, used = {}, {}, {}
    for name, each in priced.items():
        pounds = _pounds(each.per_t, each.currency, rates)
        if pounds is None:
            unpriced[name] = each.currency
            continue
        known[name] = pounds
        if each.currency != POUNDS:
            used[each.currency] = rates[each.currency]
    middle = usual | _middle(priced, known)
    filled = {name: middle.get(priced[name].kind, NOTHING) for name in unpriced}
    return Weighed(known | filled, tuple(used.values()), unpriced)


def last_prices(*, holding, kinds, rates):
    """Kind to the price of the last order for it that is known in pounds. [£/t]"""
    orders = Order.objects.filter(
        holding=holding, currency__in=(POUNDS, *rates), kind__in=kinds
    )
    last = orders.order_by("date", "made_at")
    return {
        kind: _pounds(per_t, currency, rates)
        for kind, per_t, currency in last.values_list("kind", "price_per_t", "currency")
    }


def _pounds(amount, currency, rates):
    """None where nobody said what its currency is worth."""
    if currency == POUNDS:
        return amount
    return amount * rates[currency].pounds if currency in rates else None


def _middle(priced, known):
    """Kind to the median of the prices that are known of it."""
    by_kind = {}
    for name, pounds in known.items():
        by_kind.setdefault(priced[name].kind, []).append(pounds)
    return {kind: statistics.median(prices) for kind, prices in by_kind.items()}
