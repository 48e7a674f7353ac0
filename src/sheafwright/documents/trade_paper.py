"""Quotations, orders, delivery notes, invoices and what goes with them, to print."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.labels import qr_svg
from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{seller}: {title} {code}"),
    "to": _("To"),
    "from": _("From"),
    "qr": _("QR code of {url}"),
    "walk_back": _("walk it back to its field"),
    "foot": _("{title} {code}"),
}


@dataclass(frozen=True)
class Fact:
    """One line above the table."""

    what: str
    said: str
    """Blank where it is to be written in."""


@dataclass(frozen=True)
class TradePaper:
    """One paper; every text is already in the reader's words."""

    title: str
    code: str
    made_on: date
    seller: tuple[str, ...]
    """Name, address, numbers: a line each."""
    customer: tuple[str, ...]
    facts: tuple[Fact, ...]
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()
    """Columns that stand to the right."""
    totals: tuple[Fact, ...] = ()
    """The last is what it comes to."""
    statements: tuple[str, ...] = ()
    to_sign: tuple[str, ...] = ()
    """Lines to write on."""
    walk_back_url: str = ""


def trade_paper_pdf(paper):
    """The paper to print."""
    return pdf("trade_paper", paper, **_more(paper))


def _more(paper):
    code = qr_svg(paper.walk_back_url) if paper.walk_back_url else ""
    return {"words": WORDS, "qr": code}
