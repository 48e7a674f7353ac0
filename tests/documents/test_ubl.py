"""Invoices as UBL 2.1: valid by the standard's own schema, and to the penny."""

import csv
import dataclasses
import datetime
import functools
import io
import zipfile
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.documents.bills_csv import HEADINGS, bills_csv
from sheafwright.documents.ubl import CAC, CBC, Bill, Line, Party, ubl_document

SCHEMAS = Path(__file__).with_name("ubl-2.1.zip")
"""Of the OASIS Standard of 4 November 2013, (c) OASIS Open 2013, as they were
published: the two that are used, and those that they import."""
DAY = datetime.date(2026, 11, 10)
NAMES = {"cac": CAC, "cbc": CBC}
BILL = Bill(
    code="I-0001",
    id="0192f7a8-6c1e-7d2c-9a31-55aa10c0ffee",
    date=DAY,
    currency="GBP",
    seller=Party("Marl Hollow", "Marl Hollow\nCombe Lane", "GB", "GB 000 0000 00"),
    customer=Party("Orla Quince", "Withy Lane", "GB"),
    lines=(
        Line(
            "Combed reed",
            Decimal("2800.00"),
            Decimal(20),
            Decimal("2000.500"),
            Decimal("1400.00"),
            "R-26-1",
        ),
        Line("Haulage", Decimal("85.50"), Decimal(0)),
    ),
    rates=(
        (Decimal(0), Decimal("85.50"), Decimal("0.00")),
        (Decimal(20), Decimal("2800.00"), Decimal("560.00")),
    ),
    net=Decimal("2885.50"),
    vat=Decimal("560.00"),
    gross=Decimal("3445.50"),
    due=DAY + datetime.timedelta(14),
    order="O-0001",
    pay_to="Invented Bank 00-00-00",
)
CREDIT = dataclasses.replace(
    BILL, code="C-0001", corrects=("I-0001", DAY), due=None, why="short in the stem"
)


@functools.cache
def folder_of(base):
    with zipfile.ZipFile(SCHEMAS) as packed:
        packed.extractall(base)
    return Path(base)


@pytest.fixture(scope="session")
def schemas(tmp_path_factory):
    """What each kind of document is valid by."""
    xmlschema = pytest.importorskip("xmlschema", reason="xmlschema is not installed")
    folder = folder_of(tmp_path_factory.mktemp("ubl"))
    return {
        name: xmlschema.XMLSchema(folder / f"maindoc/UBL-{name}-2.1.xsd")
        for name in ("Invoice", "CreditNote")
    }


def schema_of(schemas, bill):
    return schemas["CreditNote" if bill.corrects else "Invoice"]


def found(bill, path):
    root = ElementTree.fromstring(ubl_document(bill))
    return [each.text for each in root.iterfind(path, NAMES)]


@pytest.mark.parametrize("bill", [BILL, CREDIT], ids=["invoice", "credit note"])
def test_a_bill_is_valid_by_the_standards_schema(bill, schemas):
    schema_of(schemas, bill).validate(io.BytesIO(ubl_document(bill)))


def test_the_schema_finds_what_is_wrong(schemas):
    wrong = ubl_document(BILL).replace(b"IssueDate>2026-11-10", b"IssueDate>tomorrow")
    assert not schemas["Invoice"].is_valid(io.BytesIO(wrong))
    swapped = ubl_document(BILL).replace(b"cbc:UUID", b"cbc:Uuid")
    assert not schemas["Invoice"].is_valid(io.BytesIO(swapped))


texts = st.text(max_size=40)
money = st.decimals(0, 100_000, places=2)


@settings(max_examples=40, deadline=None)
@given(
    name=texts.filter(str.strip),
    address=texts,
    why=texts,
    lot=texts,
    net=money,
    credits=st.booleans(),
)
def test_whatever_is_written_the_document_stays_valid(
    schemas, name, address, why, lot, net, credits
):
    line = Line(name, net, Decimal("12.5"), Decimal("0.001"), Decimal("0.01"), lot)
    party = Party(name, address, "GB", "")
    bill = dataclasses.replace(
        CREDIT if credits else BILL,
        seller=party,
        customer=party,
        lines=(line,),
        why=why,
    )
    schema_of(schemas, bill).validate(io.BytesIO(ubl_document(bill)))


def test_sums_are_those_of_the_paper():
    assert found(BILL, "cac:LegalMonetaryTotal/cbc:PayableAmount") == ["3445.50"]
    assert found(BILL, "cac:TaxTotal/cac:TaxSubtotal/cbc:TaxAmount") == [
        "0.00",
        "560.00",
    ]
    lines = found(BILL, "cac:InvoiceLine/cbc:LineExtensionAmount")
    [net] = found(BILL, "cac:LegalMonetaryTotal/cbc:LineExtensionAmount")
    assert sum(map(Decimal, lines)) == Decimal(net)


def test_straw_is_counted_in_kilograms_and_priced_by_a_thousand():
    assert found(BILL, "cac:InvoiceLine/cbc:InvoicedQuantity") == ["2000.5", "1"]
    assert found(BILL, "cac:InvoiceLine/cac:Price/cbc:BaseQuantity") == ["1000", "1"]


def test_a_credit_note_names_its_invoice():
    path = "cac:BillingReference/cac:InvoiceDocumentReference/cbc:ID"
    assert found(CREDIT, path) == ["I-0001"]
    assert found(CREDIT, "cbc:Note") == ["short in the stem"]


def test_who_has_no_vat_number_charges_outside_of_it():
    seller = dataclasses.replace(BILL.seller, vat_number="")
    bill = dataclasses.replace(BILL, seller=seller)
    path = "cac:TaxTotal/cac:TaxSubtotal/cac:TaxCategory/cbc:ID"
    assert found(bill, path) == ["O", "O"]
    assert found(BILL, path) == ["Z", "S"]


def test_bills_as_a_table_count_credits_down():
    text = bills_csv([BILL, CREDIT]).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert tuple(rows[0]) == HEADINGS
    nets = [row["net"] for row in rows]
    assert nets == ["2800.00", "85.50", "-2800.00", "-85.50"]
    assert rows[2]["corrects"] == "I-0001"


def test_no_spreadsheet_runs_what_a_buyer_is_called():
    bill = dataclasses.replace(BILL, customer=Party("=HYPERLINK(1)", "", "GB"))
    assert b"'=HYPERLINK(1)" in bills_csv([bill])
