"""What an issued paper says: plain texts and exact decimals, kept with it for good."""

from sheafwright.records.models import Paper
from sheafwright.records.money import exact, price_of, rounded, vat_by_rate
from sheafwright.records.papers.labels import lot_may_be_sold_as, sowings_behind
from sheafwright.records.papers.standing import certificate_on
from sheafwright.records.selectors.orders import letterhead_of

HAULAGE = "haulage"


def seller_of(holding, date):
    """The holding as its papers name it."""
    head = letterhead_of(holding)
    certificate = certificate_on(holding=holding, begins=date, ends=date)
    return {
        "name": head.name if head else holding.name,
        "address": head.address if head else "",
        "vat_number": head.vat_number if head else "",
        "country": head.country if head else "GB",
        "pay_to": head.pay_to if head else "",
        "days_to_pay": head.days_to_pay if head else 30,
        "organic_body": certificate.body if certificate else "",
        "organic_code": certificate.code if certificate else "",
        "organic_covers_straw": bool(certificate and certificate.covers_straw),
    }


def customer_of(customer):
    """A buyer as papers name them."""
    return {
        name: getattr(customer, name)
        for name in (
            *("name", "address", "vat_number", "country", "email"),
            "organic_reference",
        )
    }


def goods(kind, kg, terms, lot=None, bundles=None):
    """A line of straw or grain.

    Parameters
    ----------
    kind : str
        One of ``Lot.Kind``.
    kg : Decimal or float
    terms : Quotation or Order
    lot : Lot, optional
    """
    return {
        "kind": kind,
        "kg": str(exact(kg)),
        "bundles": bundles,
        "price_per_t": str(exact(terms.price_per_t)),
        "vat_pct": str(exact(terms.vat_pct)),
        "net": str(price_of(kg, terms.price_per_t, terms.currency)),
        **(of_lot(lot) if lot else {}),
    }


def of_lot(lot):
    """What a line says of its lot."""
    return {
        "lot": lot.code,
        "lot_id": str(lot.pk),
        "variety": lot.variety,
        "harvest_year": lot.harvest_year,
        "grade": lot.grade,
        "length_cm": lot.length_cm,
        "sold_as": lot_may_be_sold_as(lot, sowings_behind(lot)),
    }


def haulage(terms):
    """Lines of haulage: one, or none where none is charged."""
    if not terms.haulage:
        return []
    return [
        {
            "kind": HAULAGE,
            "vat_pct": str(exact(terms.haulage_vat_pct)),
            "net": str(rounded(terms.haulage, terms.currency)),
        }
    ]


def summed(lines, currency):
    """What lines come to, with the VAT of each rate rounded once."""
    rates = vat_by_rate(
        ((exact(line["net"]), exact(line["vat_pct"])) for line in lines), currency
    )
    net = sum((exact(line["net"]) for line in lines), exact(0))
    vat = sum((vat for _rate, _net, vat in rates), exact(0))
    return {
        "rates": [[f"{rate:f}", str(n), str(vat)] for rate, n, vat in rates],
        "net": net,
        "vat": vat,
        "gross": net + vat,
    }


def said_of(paper, lines, **more):
    """All that a paper says, before it has its number.

    Parameters
    ----------
    paper : Paper
        With its holding, date, customer and currency.
    lines : list of dict
    **more
        What else this kind of paper says.
    """
    priced = [line for line in lines if "net" in line]
    sums = summed(priced, paper.currency) if priced else {}
    paper.net, paper.vat, paper.gross = (
        sums.get(name, exact(0)) for name in ("net", "vat", "gross")
    )
    return {
        "seller": seller_of(paper.holding, paper.date),
        "customer": customer_of(paper.customer) if paper.customer else None,
        "lines": lines,
        "rates": sums.get("rates", []),
        **more,
    }


PRICED = (
    *(Paper.Kind.QUOTATION, Paper.Kind.ORDER),
    *(Paper.Kind.INVOICE, Paper.Kind.CREDIT),
)
