"""What a lot brought, and what its hours cost."""

import dataclasses
from decimal import Decimal

from sheafwright.records.models import Labour, LabourRate, Paper
from sheafwright.records.money import exact

NOTHING = Decimal(0)


@dataclasses.dataclass(frozen=True)
class LotWorth:
    """One lot, in each currency it was sold in."""

    brought: dict
    """Currency to net invoiced, less what was credited of whole invoices."""
    sold_kg: Decimal
    """Invoiced."""
    hours: float
    """Written down to it. [h]"""
    cost: Decimal | None
    """Of those hours; None where any has no rate. [£]"""

    def left(self, currency):
        """Once the hours are taken off; None where their cost isn't known."""
        if self.cost is None:
            return None
        return self.brought.get(currency, NOTHING) - self.cost


def lot_worth(lot):
    """`LotWorth`, or None where none of it was invoiced."""
    orders = lot.sales.filter(delivery__isnull=False).values("delivery__order")
    papers = Paper.objects.filter(
        order__in=orders, kind__in=(Paper.Kind.INVOICE, Paper.Kind.CREDIT)
    )
    brought, sold = {}, NOTHING
    for paper in papers:
        sign = -1 if paper.kind == Paper.Kind.CREDIT else 1
        for line in _of(lot, paper):
            at = paper.currency
            brought[at] = brought.get(at, NOTHING) + sign * exact(line["net"])
            sold += sign * exact(line.get("kg") or 0)
    if not brought:
        return None
    worked = list(Labour.objects.filter(lot=lot))
    return LotWorth(brought, sold, sum(each.hours for each in worked), _cost(worked))


def _of(lot, paper):
    """Lines of a lot; a part is its own where the invoice was of this lot alone."""
    lots = {
        line["lot_id"]
        for line in (paper.corrects or paper).said["lines"]
        if "lot_id" in line
    }
    for line in paper.said["lines"]:
        whose = line.get("lot_id")
        alone = line["kind"] == "part" and lots == {str(lot.pk)}
        if whose == str(lot.pk) or alone:
            yield line


def _cost(worked):
    """[£]"""
    rates = [_rate(each) for each in worked]
    if None in rates:
        return None
    return sum(
        (rate * exact(each.hours) for rate, each in zip(rates, worked, strict=True)),
        NOTHING,
    )


def _rate(entry):
    """The rate that says most of who and at what, of those that hold on its day."""
    rates = LabourRate.objects.filter(
        holding=entry.holding_id,
        since__lte=entry.date,
        who__in=("", entry.who),
        task__in=("", entry.task),
    )
    best = max(
        rates,
        key=lambda rate: (bool(rate.who) + bool(rate.task), rate.since, rate.made_at),
        default=None,
    )
    return best and best.rate
