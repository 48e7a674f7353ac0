"""Invoices and credit notes as they were issued, to hand over to other programs."""

import datetime

from django.utils.translation import gettext as _

from sheafwright.documents.ubl import Bill, Line, Party
from sheafwright.records.models import Paper
from sheafwright.records.money import exact, rounded
from sheafwright.records.papers.trade_paper import one_line, what_of

BILLS = (Paper.Kind.INVOICE, Paper.Kind.CREDIT)


def bills_of(*, holding, begins, ends):
    """The `Bill` of each invoice and credit note of a period, by day."""
    papers = Paper.objects.filter(
        holding=holding, kind__in=BILLS, date__range=(begins, ends)
    )
    return [bill_of(paper) for paper in papers.order_by("date", "made_at")]


def bill_of(paper):
    """The `Bill` of one."""
    told, currency = paper.said, paper.currency
    corrects = None
    if paper.kind == Paper.Kind.CREDIT:
        corrects = (told.get("of_invoice", ""), _day(told.get("of_date")) or paper.date)
    return Bill(
        code=paper.code,
        id=str(paper.pk),
        date=paper.date,
        currency=currency,
        seller=_party(told.get("seller") or {"name": str(paper.holding)}),
        customer=_party(told.get("customer") or {"name": _("not known")}),
        lines=tuple(_line(line, currency) for line in told.get("lines", [])),
        rates=tuple(
            (exact(rate), rounded(net, currency), rounded(vat, currency))
            for rate, net, vat in told.get("rates", [])
        ),
        net=rounded(paper.net, currency),
        vat=rounded(paper.vat, currency),
        gross=rounded(paper.gross, currency),
        due=_day(told.get("due")),
        corrects=corrects,
        order=told.get("of_order", ""),
        pay_to=one_line((told.get("seller") or {}).get("pay_to")),
        why=told.get("why", ""),
    )


def _party(told):
    return Party(
        name=told["name"],
        address=told.get("address", ""),
        country=told.get("country", "GB"),
        vat_number=told.get("vat_number", ""),
    )


def _line(line, currency):
    price = line.get("price_per_t")
    return Line(
        name=what_of(line),
        net=rounded(line["net"], currency),
        vat_pct=exact(line["vat_pct"]),
        kg=exact(line["kg"]) if line.get("kg") else None,
        price_per_t=exact(price) if price else None,
        lot=line.get("lot", ""),
    )


def _day(text):
    return datetime.date.fromisoformat(text) if text else None
