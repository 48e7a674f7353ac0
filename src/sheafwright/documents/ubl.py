"""Invoices and credit notes as UBL 2.1 documents, the open standard for them.

References
----------
.. [1] OASIS, Universal Business Language Version 2.1, OASIS Standard, 2013.
"""

import datetime
from dataclasses import dataclass
from decimal import Decimal
from xml.etree import ElementTree

NAMES = "urn:oasis:names:specification:ubl:schema:xsd:"
CAC, CBC = f"{NAMES}CommonAggregateComponents-2", f"{NAMES}CommonBasicComponents-2"
VERSION = "2.1"
INVOICE, CREDIT_NOTE = "380", "381"
"""Kinds of document, by UN/CEFACT 1001."""
KILOGRAM, PIECE = "KGM", "C62"
"""Units, by UN/ECE Recommendation 20."""
STANDARD, ZERO, OUTSIDE = "S", "Z", "O"
"""VAT of a rate above nothing, of nothing, and of one who charges none."""


@dataclass(frozen=True)
class Party:
    """Seller or buyer."""

    name: str
    address: str
    country: str
    vat_number: str = ""


@dataclass(frozen=True)
class Line:
    """One line."""

    name: str
    net: Decimal
    vat_pct: Decimal
    kg: Decimal | None = None
    """None of what is not weighed."""
    price_per_t: Decimal | None = None
    lot: str = ""


@dataclass(frozen=True)
class Bill:
    """An invoice, or the credit note that corrects one."""

    code: str
    id: str
    date: datetime.date
    currency: str
    seller: Party
    customer: Party
    lines: tuple[Line, ...]
    rates: tuple[tuple[Decimal, Decimal, Decimal], ...]
    """Rate, net and VAT. [%]"""
    net: Decimal
    vat: Decimal
    gross: Decimal
    due: datetime.date | None = None
    corrects: tuple[str, datetime.date] | None = None
    """Number and day of the invoice, of a credit note."""
    order: str = ""
    pay_to: str = ""
    why: str = ""


def ubl_document(bill):
    """A bill as UBL.

    Parameters
    ----------
    bill : Bill

    Returns
    -------
    bytes
    """
    name = "CreditNote" if bill.corrects else "Invoice"
    main = f"{NAMES}{name}-2"
    for prefix, space in (("", main), ("cac", CAC), ("cbc", CBC)):
        ElementTree.register_namespace(prefix, space)
    root = ElementTree.Element(f"{{{main}}}{name}")
    _head(root, bill)
    _party(root, "AccountingSupplierParty", bill.seller)
    _party(root, "AccountingCustomerParty", bill.customer)
    if bill.pay_to and not bill.corrects:
        terms = _part(root, "PaymentTerms")
        _say(terms, "Note", bill.pay_to)
    _tax_total(root, bill)
    _monetary_total(root, bill)
    for number, line in enumerate(bill.lines, 1):
        _line(root, bill, number, line)
    ElementTree.indent(root)
    return ElementTree.tostring(root, "utf-8", xml_declaration=True)


def _head(root, bill):
    _say(root, "UBLVersionID", VERSION)
    _say(root, "ID", bill.code)
    _say(root, "UUID", bill.id)
    _say(root, "IssueDate", bill.date.isoformat())
    if bill.corrects:
        _say(root, "CreditNoteTypeCode", CREDIT_NOTE)
    else:
        if bill.due:
            _say(root, "DueDate", bill.due.isoformat())
        _say(root, "InvoiceTypeCode", INVOICE)
    if bill.why:
        _say(root, "Note", bill.why)
    _say(root, "DocumentCurrencyCode", bill.currency)
    if bill.order:
        _say(_part(root, "OrderReference"), "ID", bill.order)
    if bill.corrects:
        code, day = bill.corrects
        refers = _part(_part(root, "BillingReference"), "InvoiceDocumentReference")
        _say(refers, "ID", code)
        _say(refers, "IssueDate", day.isoformat())


def _party(root, name, told):
    party = _part(_part(root, name), "Party")
    _say(_part(party, "PartyName"), "Name", told.name)
    address = _part(party, "PostalAddress")
    for line in told.address.splitlines():
        if line.strip():
            _say(_part(address, "AddressLine"), "Line", line.strip())
    _say(_part(address, "Country"), "IdentificationCode", told.country)
    if told.vat_number:
        scheme = _part(party, "PartyTaxScheme")
        _say(scheme, "CompanyID", told.vat_number)
        _vat(scheme)
    _say(_part(party, "PartyLegalEntity"), "RegistrationName", told.name)


def _tax_total(root, bill):
    total = _part(root, "TaxTotal")
    _money(total, "TaxAmount", bill.vat, bill)
    for rate, net, vat in bill.rates:
        part = _part(total, "TaxSubtotal")
        _money(part, "TaxableAmount", net, bill)
        _money(part, "TaxAmount", vat, bill)
        _category(part, "TaxCategory", rate, bill)


def _monetary_total(root, bill):
    total = _part(root, "LegalMonetaryTotal")
    for name, amount in (
        ("LineExtensionAmount", bill.net),
        ("TaxExclusiveAmount", bill.net),
        ("TaxInclusiveAmount", bill.gross),
        ("PayableAmount", bill.gross),
    ):
        _money(total, name, amount, bill)


def _line(root, bill, number, told):
    credits = bool(bill.corrects)
    line = _part(root, "CreditNoteLine" if credits else "InvoiceLine")
    _say(line, "ID", str(number))
    weighed = told.kg is not None
    quantity = "CreditedQuantity" if credits else "InvoicedQuantity"
    unit = KILOGRAM if weighed else PIECE
    _say(line, quantity, _plain(told.kg if weighed else Decimal(1)), unitCode=unit)
    _money(line, "LineExtensionAmount", told.net, bill)
    item = _part(line, "Item")
    _say(item, "Name", told.name)
    if told.lot:
        _say(_part(item, "SellersItemIdentification"), "ID", told.lot)
    _category(item, "ClassifiedTaxCategory", told.vat_pct, bill)
    price = _part(line, "Price")
    priced = weighed and told.price_per_t is not None
    _money(price, "PriceAmount", told.price_per_t if priced else told.net, bill)
    base = Decimal(1000) if priced else Decimal(1)
    _say(price, "BaseQuantity", _plain(base), unitCode=unit)


def _category(parent, name, rate, bill):
    category = _part(parent, name)
    code = STANDARD if rate else ZERO
    _say(category, "ID", code if bill.seller.vat_number else OUTSIDE)
    _say(category, "Percent", _plain(rate))
    _vat(category)


def _vat(parent):
    _say(_part(parent, "TaxScheme"), "ID", "VAT")


def _money(parent, name, amount, bill):
    _say(parent, name, f"{amount:f}", currencyID=bill.currency)


def _part(parent, name):
    return ElementTree.SubElement(parent, f"{{{CAC}}}{name}")


def _say(parent, name, text, **attributes):
    said = ElementTree.SubElement(parent, f"{{{CBC}}}{name}", attributes)
    said.text = _readable(text)


def _readable(text):
    """Without the letters that XML can't hold."""
    return "".join(each for each in text if each in "\t\n\r" or _is_letter(each))


def _is_letter(each):
    return "\x20" <= each <= "\ud7ff" or "\ue000" <= each <= "\ufffd" or each > "\uffff"


def _plain(number):
    return f"{number.normalize():f}"
