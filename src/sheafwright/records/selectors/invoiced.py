"""What invoices name for deliveries, less what was credited of them since."""

import collections
from decimal import Decimal

from sheafwright.records.models import Paper
from sheafwright.records.money import exact


def invoiced_for(orders):
    """Id of each delivery that an invoice names to its net, in the invoice's money.

    A part that was credited comes off all that its invoice names, by their net. An
    invoice that was credited whole is as if it had never been.

    Parameters
    ----------
    orders : iterable of Order
        Or their ids.
    """
    papers = Paper.objects.filter(order__in=orders)
    credited = collections.defaultdict(Decimal)
    notes = papers.filter(kind=Paper.Kind.CREDIT)
    for invoice, net in notes.values_list("corrects", "net"):
        credited[invoice] += net
    found = {}
    for invoice in papers.filter(kind=Paper.Kind.INVOICE):
        left = invoice.net - credited[invoice.pk]
        if left > 0:
            # Haulage is named after the deliveries.
            goods = zip(
                invoice.said.get("deliveries", ()), invoice.said["lines"], strict=False
            )
            for delivery, line in goods:
                found[delivery] = exact(line["net"]) * left / invoice.net
    return found
