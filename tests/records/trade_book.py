"""A buyer, an order and what comes of it, as Ann writes them on Marl Hollow."""

import datetime
from decimal import Decimal

import pytest

from sheafwright.records.models import Lot
from sheafwright.records.services.papers import credit_note_issue, invoice_issue
from sheafwright.records.services.trade import (
    customer_add,
    delivery_record,
    enquiry_record,
    order_take,
    payment_record,
    quotation_make,
)

DAY = datetime.date(2026, 11, 10)
TERMS = {
    "price_per_t": Decimal("1400.00"),
    "vat_pct": Decimal(20),
    "haulage": Decimal("85.50"),
    "haulage_vat_pct": Decimal(20),
}


@pytest.fixture
def orla(writes):
    return writes(
        customer_add,
        name="Orla Quince",
        trade="thatcher",
        address="Ridge Cottage\nWithy Lane",
        distance_km=20.0,
        bearing="n",
    )


@pytest.fixture
def enquire(writes, orla):
    def write(**said):
        asked = {"customer": orla, "date": DAY, "kind": Lot.Kind.REED}
        return writes(enquiry_record, **asked | said)

    return write


@pytest.fixture
def quote(writes, enquire):
    def write(enquiry=None, **said):
        said = {"weight_kg": 2000.0, "open_until": datetime.date(2026, 12, 24)} | said
        enquiry = enquiry or enquire(weight_kg=2000.0)
        return writes(quotation_make, enquiry=enquiry, date=DAY, **TERMS | said)

    return write


@pytest.fixture
def order_of(writes, orla):
    def write(**said):
        asked = {"customer": orla, "date": DAY, "kind": "reed", "weight_kg": 2000.0}
        return writes(order_take, **asked | TERMS | said)

    return write


@pytest.fixture
def order(order_of):
    """Two tonnes of reed at £1,400, with £85.50 of haulage, VAT at 20%."""
    return order_of()


@pytest.fixture
def deliver(writes, order, reed):
    def write(kg=2000, **said):
        said = {"order": order, "lot": reed, "date": DAY} | said
        return writes(delivery_record, kg=kg, **said)

    return write


@pytest.fixture
def invoice(writes, order):
    def write(of=None, **said):
        said = {"date": DAY} | said
        return writes(invoice_issue, order=of or order, **said)

    return write


@pytest.fixture
def credit(writes):
    def write(paper, **said):
        said = {"date": DAY, "why": "short in the stem"} | said
        return writes(credit_note_issue, invoice=paper, **said)

    return write


@pytest.fixture
def pay(writes):
    def write(paper, amount, **said):
        said = {"date": DAY} | said
        return writes(payment_record, invoice=paper, amount=Decimal(amount), **said)

    return write
