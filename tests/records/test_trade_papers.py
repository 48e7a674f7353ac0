"""Every paper of a sale is printed, and says what the sale says."""

import datetime
import io
from decimal import Decimal

import pytest
from pypdf import PdfReader

from records.trade_book import (
    DAY,
    credit,
    deliver,
    enquire,
    invoice,
    order,
    order_of,
    orla,
    pay,
    quote,
)
from sheafwright.documents.trade_paper import trade_paper_pdf
from sheafwright.documents.ubl import ubl_document
from sheafwright.records.models import Paper
from sheafwright.records.papers.bills import bill_of, bills_of
from sheafwright.records.papers.trade_paper import trade_paper_of
from sheafwright.records.services.grading import (
    grade_rule_set,
    hand_grade_record,
    stem_sample_record,
)
from sheafwright.records.services.ground import field_status_add
from sheafwright.records.services.inspection import certificate_add
from sheafwright.records.services.papers import lot_paper_issue
from sheafwright.records.services.store import lot_test_record
from sheafwright.records.services.trade import letterhead_write, order_take

__all__ = [
    "credit", "deliver", "enquire", "invoice", "order", "order_of", "orla", "pay",
    "quote",
]  # fmt: skip


@pytest.fixture
def head(writes):
    return writes(
        letterhead_write,
        since=datetime.date(2026, 1, 1),
        name="Marl Hollow Straw",
        address="Marl Hollow\nCombe Lane",
        vat_number="GB 000 0000 00",
        pay_to="Invented Bank\n00-00-00 00000000",
        days_to_pay=14,
    )


@pytest.fixture
def certified(writes, long_meadow):
    """Long Meadow is organic, and a certificate covers its straw."""
    writes(
        field_status_add,
        field=long_meadow,
        way="organic",
        since=datetime.date(2020, 3, 1),
    )
    return writes(
        certificate_add,
        holder="Marl Hollow",
        is_own=True,
        body="Invented Certifiers",
        code="XX-ORG-00",
        scope="cereals, straw",
        covers_straw=True,
        since=datetime.date(2026, 1, 1),
        expires=datetime.date(2026, 12, 31),
    )


def printed(paper):
    """The words of its only page."""
    paper.refresh_from_db()
    said = trade_paper_of(paper, lambda lot: f"https://book.example/lots/{lot}/")
    [page] = PdfReader(io.BytesIO(trade_paper_pdf(said))).pages
    return " ".join(page.extract_text().split())


def says(page, *words):
    missing = [each for each in words if each not in page]
    assert not missing, (missing, page)


def test_a_quotation_says_what_is_offered_and_until_when(head, quote):
    quote()
    says(
        printed(Paper.objects.get(kind="quotation")),
        "Quotation",
        "Q-0001",
        "Marl Hollow Straw",
        "VAT number GB 000 0000 00",
        "Orla Quince",
        "Withy Lane",
        "Open until 24 December 2026",
        "Combed reed 2,000 kg £1,400.00 20% £2,800.00",
        "Haulage 20% £85.50",
        "VAT at 20% of £2,885.50 £577.10",
        "In all £3,462.60",
    )


def test_an_order_says_what_it_is_to_be_like(head, order_of):
    order = order_of(
        roof="Mill House",
        wanted_by=datetime.date(2027, 4, 30),
        least_length_cm=90.0,
        grades="coat",
        organic=True,
    )
    says(
        printed(Paper.objects.get(order=order)),
        "Order",
        "O-0001",
        "Roof Mill House",
        "Wanted by 30 April 2027",
        "Stems from 90 cm",
        "Grades coat",
        "Organic alone yes",
        "Delivered to Ridge Cottage, Withy Lane",
    )


def test_a_delivery_note_has_no_prices_and_room_to_sign(head, deliver):
    deliver(1200.5, bundles=90, vehicle="Rowan Pike, blue tractor")
    page = printed(Paper.objects.get(kind="delivery"))
    says(
        page,
        "Delivery note",
        "D-0001",
        "Order O-0001",
        "Driver and vehicle Rowan Pike, blue tractor",
        "Combed reed, Maris Widgeon 2026 R-26-1 90 1,200.5 kg",
        "Local codes and trained people first.",
        "Received by, and on what day",
    )
    assert "£" not in page


def test_an_invoice_says_what_is_to_pay_by_when_and_how(head, deliver, invoice):
    deliver(2000)
    says(
        printed(invoice()),
        "Invoice",
        "I-0001",
        "To pay by 24 November 2026",
        "lot R-26-1 2,000 kg £1,400.00 20% £2,800.00",
        "Net £2,885.50",
        "VAT at 20% of £2,885.50 £577.10",
        "To pay £3,462.60",
        "Please pay to: Invented Bank, 00-00-00 00000000. Name the invoice, I-0001.",
    )


def test_an_invoice_in_another_currency_says_so(head, order_of, deliver, invoice):
    order = order_of(currency="EUR", vat_pct=Decimal(0), haulage=Decimal(0))
    deliver(1000, order=order)
    says(printed(invoice(order)), "€1,400.00", "To pay €1,400.00", "VAT at 0%")


def test_a_sale_in_another_currency_is_no_pounds_in_the_book(
    order_of, deliver, invoice, pay
):
    order = order_of(
        currency="EUR", price_per_t=Decimal("1400.005"), vat_pct=Decimal("19")
    )
    sent = deliver(333.335, order=order)
    assert sent.sale.price is None
    paper = invoice(order)
    # 333.335 kg at €1,400.005 is €466.670666…; haulage of €85.50 bears its own 20%.
    assert (paper.net, paper.vat) == (Decimal("552.17"), Decimal("105.77"))
    says(printed(paper), "€1,400.005 19% €466.67", "VAT at 19% of €466.67 €88.67")
    document = ubl_document(bill_of(paper)).decode()
    assert 'currencyID="EUR">657.94<' in document and "GBP" not in document
    assert 'currencyID="EUR">1400.005<' in document
    pay(paper, "657.94")


def test_a_credit_note_names_what_it_corrects(deliver, invoice, credit):
    deliver(2000)
    says(
        printed(credit(invoice(), net=Decimal("140.00"))),
        "Credit note",
        "C-0001",
        "Corrects invoice I-0001 of 10 November 2026",
        "Why short in the stem",
        "Part of the invoice 20% £140.00",
        "Credited £168.00",
    )


def test_a_grain_note_says_what_was_measured(writes, orla, grain, deliver):
    writes(
        lot_test_record,
        lot=grain,
        date=DAY,
        moisture_pct=14.2,
        protein_pct=11.4,
        hagberg_s=260.0,
    )
    order = writes(
        order_take,
        customer=orla,
        date=DAY,
        kind="grain",
        weight_kg=2000.0,
        price_per_t=Decimal(320),
        vat_pct=Decimal(0),
    )
    sent = deliver(2000, order=order, lot=grain)
    says(
        printed(writes(lot_paper_issue, delivery=sent, kind="grain", date=DAY)),
        "Grain note",
        "Grown on Long Meadow",
        "Moisture 14.2%",
        "Protein in dry matter 11.4%",
        "Hagberg falling number 260 s",
        "The lorry's last three loads",
        "For the buyer, or the lorry",
    )


def test_an_organic_statement_names_both_certificates(writes, certified, orla, deliver):
    sent = deliver(2000)
    says(
        printed(writes(lot_paper_issue, delivery=sent, kind="organic", date=DAY)),
        "Organic transaction statement",
        "T-0001",
        "Seller's control body Invented Certifiers",
        "Its code XX-ORG-00",
        "Sold as organic",
        "Straw on the certificate yes",
        "Buyer's organic reference",
        "We declare that what this statement names was grown",
    )


def test_a_lot_certificate_leads_back_to_its_field(writes, certified, deliver):
    sent = deliver(2000, bundles=150)
    paper = writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY)
    says(
        printed(paper),
        "Lot certificate",
        "L-0001",
        "Grown on Long Meadow",
        "Sown 28 September 2025",
        "Variety Maris Widgeon",
        "Harvest 2026",
        "Organic organic, XX-ORG-00",
        "walk it back to its field",
        "There is no public standard for thatching straw",
    )
    said = trade_paper_of(paper, lambda lot: f"https://book.example/lots/{lot}/")
    assert said.walk_back_url.endswith(f"/lots/{sent.sale.lot_id}/")


def test_a_paper_is_printed_as_it_was_whatever_changes(head, writes, deliver, invoice):
    deliver(2000)
    paper = invoice()
    before = printed(paper)
    writes(
        letterhead_write,
        since=DAY,
        name="Another Name",
        address="Elsewhere",
    )
    paper.lot = None
    assert printed(Paper.objects.get(pk=paper.pk)) == before


def test_a_paper_that_says_next_to_nothing_is_printed(marl, ann):
    paper = Paper.objects.create(
        holding=marl, made_by=ann, kind="invoice", number=1, date=DAY, said={}
    )
    says(printed(paper), "Invoice", "I-0001", "Marl Hollow")


def test_bills_are_handed_over_as_they_were_issued(head, deliver, invoice, credit):
    deliver(2000)
    paper = invoice()
    note = credit(paper, net=Decimal("140.00"))
    bills = bills_of(holding=paper.holding, begins=DAY, ends=DAY)
    assert [(bill.code, bill.gross) for bill in bills] == [
        ("I-0001", Decimal("3462.60")),
        ("C-0001", Decimal("168.00")),
    ]
    assert bills[1].corrects == ("I-0001", DAY)
    assert sum(line.net for line in bills[0].lines) == bills[0].net
    assert bill_of(note).why == "short in the stem"
    for bill in bills:
        assert bill.code.encode() in ubl_document(bill)


def test_a_lot_certificate_says_what_was_measured_of_its_straw(writes, reed, deliver):
    rows = [{"length_mm": 900 + 10 * n, "butt_mm": 3.5 + n / 100} for n in range(31)]
    writes(stem_sample_record, lot=reed, date=DAY, stems=rows)
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", colour="bright")
    sent = deliver(2000)
    says(
        printed(writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY)),
        "31 stems, 1 bundle, 93 cm to 117 cm, middle 105 cm, butts 3.5 mm to 3.8 mm",
        # One bundle tells no interval: its stems are alike.
        "Mean length 105.0 cm Mean butt 3.65 mm",
        "it held, bright",
    )


def test_a_lot_certificate_gives_means_with_how_sure_they_are(writes, reed, deliver):
    for bundle, long in enumerate((1000, 1040, 1080), 1):
        rows = [
            {"length_mm": long + n, "taper_mm_per_m": 3.0, "brightness": 70 + bundle}
            for n in (-10, 0, 10)
        ]
        writes(stem_sample_record, lot=reed, date=DAY, bundle=bundle, stems=rows)
    sent = deliver(2000)
    # Bundles of 100, 104 and 108 cm: 104 ± 4.303 · 4 / √3.
    says(
        printed(writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY)),
        "Mean length 104.0 cm (94.1 to 113.9, 95 in 100)",
        "Mean taper 3.00 mm in a metre (3.00 to 3.00, 95 in 100)",
        "Mean brightness 72 of 100 (70 to 74, 95 in 100)",
        "Grade by its stems grade 1 for coatwork, with ",
        "The rule stems 76.2 to 160 cm, butts 2.5 to 6.5 mm",
    )


def test_a_buyers_own_rule_is_on_her_papers_alone(
    writes, reed, deliver, quote, orla, order
):
    rows = [{"length_mm": 900 + n, "bundle": n} for n in range(1, 31)]
    writes(stem_sample_record, lot=reed, date=DAY, stems=rows)
    assert "rule" not in printed(Paper.objects.get(order=order))
    writes(
        grade_rule_set, use="coatwork", buyer_name="Orla Quince", length_least_cm=100
    )
    quote()
    says(
        printed(Paper.objects.get(kind="quotation")),
        "Buyer's rule for coatwork stems 100 to 160 cm",
        "grade 1 asks that of 90% of them, grade 2 of 75%",
    )
    sent = deliver(500)
    said = printed(writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY))
    says(said, "grade 1 for ridge, with ", "The rule stems 45 to 160 cm")
    writes(grade_rule_set, use="ridge", buyer_name="Orla Quince", length_least_cm=40)
    says(
        printed(writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY)),
        "confidence, by the buyer's own rule",
        "The rule stems 40 to 160 cm",
    )


def test_an_inspector_reads_an_invoice_without_its_prices(head, deliver, invoice):
    deliver(2000)
    paper = invoice()
    said = trade_paper_of(paper, with_prices=False)
    [page] = PdfReader(io.BytesIO(trade_paper_pdf(said))).pages
    page = " ".join(page.extract_text().split())
    says(page, "I-0001", "Orla Quince", "R-26-1", "2,000 kg", "A copy without prices")
    for never in ("£", "1,400", "3,462", "Haulage", "Invented Bank"):
        assert never not in page
