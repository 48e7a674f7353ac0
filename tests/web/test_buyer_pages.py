"""A buyer's page and an order's; what an inspector sees of both: goods, never money."""

import datetime
from decimal import Decimal

import pytest
from django.test import Client

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
from sheafwright.accounts.keys import key_sha256
from sheafwright.accounts.models import Membership, Person, Token
from sheafwright.records.models import CustomerWants, Enquiry, Machine, Paper
from sheafwright.records.selectors.buyers import next_window
from sheafwright.records.services.grading import (
    bundles_record,
    grade_rule_set,
    stem_sample_record,
)
from sheafwright.records.services.hands import machine_add
from sheafwright.records.services.trade import (
    currency_rate_say,
    customer_wants_say,
    reserve,
    roof_report_record,
    visit_record,
)
from web.test_orders_page import words

__all__ = [
    "credit", "deliver", "enquire", "invoice", "order", "order_of", "orla", "pay",
    "quote",
]  # fmt: skip
STEMS = [
    {"length_mm": 950 + 5 * n, "butt_mm": 4.0, "bends": 0, "damage": 0, "bundle": n}
    for n in range(1, 41)
]


@pytest.fixture
def page(ann):
    client = Client()
    client.force_login(ann)

    def read(path, **said):
        answer = client.get(f"/marl-hollow/{path}", said)
        assert answer.status_code == 200, answer.content[-3000:]
        return words(answer)

    return read


@pytest.fixture
def inspector(marl):
    """A client, and a key for programs."""
    person = Person.objects.create(email="iris@example.org", name="Iris")
    Membership.objects.create(person=person, holding=marl, role="inspector")
    Token.objects.create(person=person, label="k", key_sha256=key_sha256("k"))
    client = Client(headers={"Authorization": "Bearer k"})
    client.force_login(person)
    return client


@pytest.fixture
def looked(writes, orla, reed):
    writes(
        visit_record,
        customer=orla,
        lot=reed,
        date=DAY,
        looked_at="six bundles",
        would_take_kg=900.0,
        said="stiff enough",
        handful="over the bench",
    )
    writes(
        roof_report_record,
        customer=orla,
        lot=reed,
        date=DAY,
        roof="Mill House",
        laid=2019,
        state="worn",
    )


def test_a_buyer_is_told_on_one_page(writes, orla, looked, order, page):
    writes(
        customer_wants_say,
        customer=orla,
        since=DAY,
        kind="reed",
        least_length_cm=90.0,
        grades="coatwork 1",
        most_lots=1,
        first_refusal=True,
        from_month=2,
        to_month=4,
    )
    writes(grade_rule_set, use="coatwork", buyer_name="Orla Quince", length_least_cm=95)
    said = page(f"buyers/{orla.pk}/")
    for each in (
        "Orla Quince, thatcher: 1 order is open.",
        "combed reed, from 90 cm, coatwork 1, a single lot, February to April, first",
        "Their own rule for coatwork: A stem for coatwork is 950 mm to 1600 mm long",
        "900 kg stiff enough over the bench",
        "worn as its age says, after 7 years",
        "O-0001",
        "Ridge Cottage Withy Lane",
    ):
        assert each in said, each


def test_an_enquiry_begins_with_what_its_buyer_likes(writes, orla, ann):
    writes(
        customer_wants_say,
        customer=orla,
        since=DAY,
        kind="reed",
        least_length_cm=90.0,
        organic=True,
        from_month=2,
        to_month=4,
    )
    client = Client()
    client.force_login(ann)
    said = client.get(f"/marl-hollow/buyers/{orla.pk}/").content.decode()
    [begun] = [part for part in said.split('"') if "write/enquiry/" in part]
    form = client.get(begun.replace("&amp;", "&")).content.decode()
    for each in ("90 cm", "2027-02-01", "2027-04-30", "checked"):
        assert each in form, each


@pytest.mark.parametrize(
    ("months", "day", "window"),
    [
        ((2, 4), (2026, 1, 5), ((2026, 2, 1), (2026, 4, 30))),
        ((2, 4), (2026, 3, 5), ((2026, 2, 1), (2026, 4, 30))),
        ((2, 4), (2026, 5, 1), ((2027, 2, 1), (2027, 4, 30))),
        ((11, 2), (2026, 12, 5), ((2026, 11, 1), (2027, 2, 28))),
        ((11, 2), (2027, 1, 5), ((2026, 11, 1), (2027, 2, 28))),
        ((11, 2), (2027, 3, 5), ((2027, 11, 1), (2028, 2, 29))),
        ((None, 4), (2026, 5, 1), (None, (2027, 4, 30))),
        ((9, None), (2026, 10, 1), ((2027, 9, 1), None)),
        ((None, None), (2026, 10, 1), (None, None)),
    ],
)
def test_a_window_is_the_next_that_has_not_ended(months, day, window):
    begins, ends = months
    wants = CustomerWants(from_month=begins, to_month=ends)
    expected = tuple(each and datetime.date(*each) for each in window)
    assert next_window(wants, datetime.date(*day)) == expected


def test_an_order_tells_what_it_gets_why_and_what_went(
    writes, order_of, reed, looked, deliver, page
):
    writes(stem_sample_record, lot=reed, date=DAY, stems=STEMS)
    order = order_of(
        grades="coatwork 1",
        most_lots=1,
        wanted_from=datetime.date(2027, 2, 1),
        wanted_by=datetime.date(2027, 4, 30),
    )
    deliver(500, order=order, bundles=40, vehicle="Ben, the trailer")
    said = page(f"orders/{order.pk}/")
    for each in (
        "Invoice Orla Quince for what was delivered.",
        "from 1 February 2027 to 30 April 2027. 500 kg is delivered.",
        "By 40 stems R-26-1 is grade 1 for coatwork, with 99% confidence.",
        "Of grade coatwork 1.",
        "Of a single lot.",
        "40 500 kg – Ben, the trailer",
        "over the bench",
        "Some of a delivery comes back",
        "All of Orla Quince",
    ):
        assert each in said, each


def test_an_order_in_another_currency_says_how_it_is_weighed(
    order_of, reed, page, writes
):
    order = order_of(currency="EUR")
    pages = ("orders/", f"orders/{order.pk}/")
    for address in pages:
        said = page(address)
        assert (
            "O\u20110001 is priced in EUR, and nobody said what that is worth in £: it "
            "is weighed by its kilograms and its promise, at the middle price of the "
            "others."
        ) in said
        assert "Say what 1 EUR is worth" in said
    writes(currency_rate_say, currency="EUR", since=DAY, pounds=Decimal("0.8615"))
    for address in pages:
        assert (
            "From 10 November 2026 on, 1 EUR is taken to be worth £0.8615: that is "
            "assumed, and what it fetches may differ."
        ) in page(address)
    pounds = order_of()
    assert "EUR" not in page(f"orders/{pounds.pk}/")


def test_a_lot_tells_for_whom_it_is_kept_and_by_whose_rule_it_is_graded(
    writes, order, reed, page
):
    writes(stem_sample_record, lot=reed, date=DAY, stems=STEMS)
    writes(
        grade_rule_set, use="coatwork", buyer_name="Orla Quince", length_least_cm=120
    )
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=700.0)
    said = page(f"lots/{reed.pk}/")
    assert "700 kg is kept for Orla Quince, combed reed, 10 November 2026." in said
    assert "By the own rule of Orla Quince: Grade 1 for ridge" in said


def test_a_rule_is_set_for_a_buyer_that_is_known(ann, orla, marl):
    client = Client()
    client.force_login(ann)
    form = client.get("/marl-hollow/write/grade-rule/?buyer_name=Orla+Quince")
    assert '<option value="Orla Quince" selected>' in form.content.decode()


def test_an_enquiry_that_nobody_quoted_is_weighed_at_the_last_price(
    order_of, enquire, reed, page
):
    order_of(weight_kg=500.0)
    enquire(weight_kg=700.0, wanted_from=datetime.date(2027, 1, 5))
    said = page("orders/")
    assert "700 kg of R-26-1" in said
    assert "Wanted from 5 January 2027 on." in said


def test_an_enquiry_ends_no_sooner_than_it_begins(ann, orla):
    client = Client()
    client.force_login(ann)
    answer = client.post(
        "/marl-hollow/write/enquiry/",
        {
            "id": "4b6ab4d0-3a63-4a5e-9d4b-0b7c0c1f0a01",
            "customer": orla.pk,
            "date": "2026-11-10",
            "kind": "reed",
            "weight_kg": "700 kg",
            "wanted_from": "2027-05-01",
            "wanted_by": "2027-04-01",
        },
    )
    assert answer.status_code == 400
    assert "It is wanted by 1 April 2027; it should be from no later" in words(answer)
    assert not Enquiry.objects.exists()


# On the road.


def test_loads_are_for_the_trailer_that_there_is(writes, order, reed, page):
    writes(
        machine_add,
        kind=Machine.Kind.CART,
        name="the green trailer",
        deck_length_m=3.0,
        deck_width_m=1.8,
        payload_kg=900.0,
    )
    writes(
        bundles_record, lot=reed, date=DAY, count=300, bundle_kg=10.0, moisture_pct=15.0
    )
    said = page("orders/")
    assert "3 loads on the green trailer." in said
    assert "90 bundles to Orla Quince: 900 kg" in said
    assert "takes 90 bundles of 10.0 kg: its weight says so." in said


def test_what_is_not_wanted_yet_is_not_loaded(order_of, reed, page):
    order_of(wanted_from=datetime.date(2027, 2, 1))
    said = page("orders/")
    assert "Deliver 2.00 t of R-26-1 to Orla Quince from 1 February 2027 on." in said
    assert "How it goes on the road" not in said


# What an inspector sees.


def test_an_inspector_finds_papers_in_the_book_and_no_price(
    inspector, looked, order, deliver, invoice, reed
):
    deliver(500)
    bill = invoice()
    for path in ("orders/", f"orders/{order.pk}/", f"buyers/{order.customer_id}/"):
        assert inspector.get(f"/marl-hollow/{path}").status_code == 404
    assert inspector.get(f"/marl-hollow/papers/{bill.pk}.xml").status_code == 404
    assert inspector.get("/marl-hollow/orders/invoices.csv").status_code == 404
    book = words(inspector.get("/marl-hollow/book/"))
    assert "I-0001" in book and "D-0001" in book and "£" not in book
    lot = words(inspector.get(f"/marl-hollow/lots/{reed.pk}/"))
    assert "£" not in lot and "over the bench" not in lot
    for paper in Paper.objects.all():
        answer = inspector.get(f"/marl-hollow/papers/{paper.pk}.pdf")
        assert answer.status_code == 200
        assert "£" not in _read(b"".join(answer.streaming_content))


def _read(pdf):
    import io

    from pypdf import PdfReader

    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_an_inspectors_program_reads_sales_without_their_price(inspector, ann, deliver):
    deliver(500)
    [sale] = inspector.get("/api/marl-hollow/sale/").json()
    assert sale["buyer_name"] == "Orla Quince" and sale["price"] is None
    assert inspector.get("/api/marl-hollow/order/").status_code == 404
    Token.objects.create(person=ann, label="a", key_sha256=key_sha256("a"))
    hers = Client(headers={"Authorization": "Bearer a"})
    [sale] = hers.get("/api/marl-hollow/sale/").json()
    assert float(sale["price"]) == 700
