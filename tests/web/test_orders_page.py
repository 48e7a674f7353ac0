"""Orders: what to deliver next is said first, and each order shows its next step."""

import datetime
import re
import uuid
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
from sheafwright.accounts.models import Membership, Person
from sheafwright.accounts.services import token_make
from sheafwright.records.models import Customer, Labour, LabourRate, Order, Paper
from sheafwright.records.services.grading import grade_rule_set
from sheafwright.records.services.grain import grain_terms_set
from sheafwright.records.services.made import lot_place
from sheafwright.records.services.stock import weight_adjust
from sheafwright.records.services.trade import (
    customer_add,
    order_end,
    order_take,
    reserve,
    roof_report_record,
    visit_record,
)
from told import METRIC

__all__ = [
    "credit", "deliver", "enquire", "invoice", "order", "order_of", "orla", "pay",
    "quote",
]  # fmt: skip


@pytest.fixture
def as_ann(ann):
    client = Client()
    client.force_login(ann)
    return client


@pytest.fixture
def page(as_ann):
    """The words of a page."""

    def read(path="orders/", client=as_ann, **said):
        answer = client.get(f"/marl-hollow/{path}", said)
        assert answer.status_code == 200, answer.content[-3000:]
        return words(answer)

    return read


def words(answer):
    text = answer.content.decode()
    text = re.sub(r"<(script|style).*?</\1>", " ", text, flags=re.S)
    # What others wrote is quoted in their own units.
    text = re.sub(r'<(\w+) class="src".*?</\1>', " ", text, flags=re.S)
    text = re.sub(r"<[^>]+>", " ", text)
    return " ".join(text.replace("&#x27;", "'").replace("\u00a0", " ").split())


def test_a_leap_day_has_a_year_before_it_too(marl, order, as_ann):
    marl.looked_at_as_of = datetime.date(2028, 2, 29)
    marl.save()
    answer = as_ann.get("/marl-hollow/orders/")
    assert answer.status_code == 200
    assert "begins=2027-03-01&amp;ends=2028-02-29" in answer.content.decode()


def test_no_order_is_said_so(page):
    assert "No order is open, and nobody asks." in page()


def test_what_to_deliver_next_is_said_first(order_of, reed, page):
    order_of(wanted_by=datetime.date(2027, 4, 30))
    said = page()
    assert "Deliver 2.00 t of R-26-1 to Orla Quince by 30 April 2027." in said
    assert "It is in store now." in said
    assert "Deliver 2.00 t of R-26-1" in said


def test_oversell_is_said_before_it_happens(order_of, reed, page):
    order_of(weight_kg=3000.0)
    said = page("write/order/", kind="reed", weight_kg="2 t")
    assert "Oversold: 5.00 t of combed reed is promised, and 4.00 t" in said
    assert "Oversold" not in page("write/order/", kind="reed", weight_kg="900 kg")
    assert "Oversold" not in page()


def test_what_is_oversold_is_told_on_the_page(order_of, reed, page):
    order_of(weight_kg=3000.0)
    order_of(weight_kg=2000.0)
    assert page().count("Oversold: 5.00 t of combed reed is promised") >= 1


def test_the_next_step_follows_what_was_done(order, deliver, invoice, pay, page):
    deliver(2000)
    assert "Invoice Orla Quince for what was delivered." in page()
    paper = invoice()
    assert "Orla Quince owes £3,462.60." in page()
    assert "£3,462.60 for I-0001 came in" in page()
    pay(paper, "3462.60")
    assert "No order is open, and nobody asks." in page()


def test_an_enquiry_is_quoted_and_then_ordered(enquire, quote, page, reed):
    asked = enquire(squares=6.0, coat="over_coat")
    said = page()
    assert "No order is open; 1 buyer asks." in said
    assert "For 6 squares: a coat over the old one." in said
    quote(asked, weight_kg=1500.0)
    said = page()
    assert "Quoted 1.50 t at £1,400.00 a tonne, open until 24 December 2026." in said
    assert "Take an order" in said


def test_reasons_stand_behind_a_summary(order_of, reed, page):
    order_of(least_length_cm=120.0, organic=True)
    said = page()
    assert "Why so" in said
    assert "Lot R-26-1 does not suit: it is not organic." in said


def test_loads_are_told_with_their_caution(order, reed, page):
    said = page()
    assert "How it goes on the road" in said
    assert "158 bundles to Orla Quince" in said
    assert "Bundles slip" in said


def test_who_thinks_in_hundredweights_reads_no_kilogram(
    ann, order_of, deliver, reed, enquire, page
):
    order_of(least_length_cm=120.0, wanted_by=datetime.date(2027, 4, 30))
    enquire(weight_kg=900.0, least_length_cm=80.0)
    Person.objects.filter(pk=ann.pk).update(units="imperial")
    assert not METRIC.search(re.sub(r"in kg, or", "", page()))


def test_a_paper_is_printed_and_an_invoice_is_for_programs_too(
    as_ann, deliver, invoice
):
    deliver(2000)
    paper = invoice()
    pdf = as_ann.get(f"/marl-hollow/papers/{paper.pk}.pdf")
    assert b"".join(pdf.streaming_content).startswith(b"%PDF")
    ubl = as_ann.get(f"/marl-hollow/papers/{paper.pk}.xml")
    assert b"I-0001" in b"".join(ubl.streaming_content)
    note = Paper.objects.get(kind="delivery")
    assert as_ann.get(f"/marl-hollow/papers/{note.pk}.xml").status_code == 404
    table = as_ann.get(
        "/marl-hollow/orders/invoices.csv?begins=2026-01-01&ends=2026-12-31"
    )
    assert b"I-0001" in b"".join(table.streaming_content)


def test_the_form_writes_what_the_button_begins(as_ann, order, reed):
    answer = as_ann.post(
        "/marl-hollow/write/delivery/",
        {
            "id": uuid.uuid4(),
            "order": order.pk,
            "lot": reed.pk,
            "date": DAY.isoformat(),
            "kg": "1.2 t",
            "bundles": "90",
        },
    )
    assert answer.status_code == 302
    assert order.deliveries.get().sale.bundles == 90


def test_a_refused_delivery_says_why_and_writes_nothing(as_ann, order, reed):
    answer = as_ann.post(
        "/marl-hollow/write/delivery/",
        {
            "id": uuid.uuid4(),
            "order": order.pk,
            "lot": reed.pk,
            "date": DAY.isoformat(),
            "kg": "9 t",
        },
    )
    assert answer.status_code == 400
    assert "take no more than that" in words(answer)
    assert not order.deliveries.exists()


@pytest.fixture
def quince(marl, orla):
    """Orla, who signs in."""
    person = Person.objects.create(email="orla@example.org", name="Orla")
    Membership.objects.create(person=person, holding=marl, role="buyer")
    Customer.objects.filter(pk=orla.pk).update(person=person)
    orla.refresh_from_db()
    client = Client()
    client.force_login(person)
    return client


def test_a_buyer_sees_her_own_orders_and_papers_alone(
    quince, writes, order, deliver, invoice, page, reed
):
    bram = writes(customer_add, name="Bram Tolliver", trade="thatcher")
    other = writes(
        order_take,
        customer=bram,
        date=DAY,
        kind="reed",
        weight_kg=700.0,
        price_per_t=Decimal(1300),
        vat_pct=Decimal(20),
    )
    deliver(500)
    mine, theirs = invoice(), Paper.objects.get(order=other)
    said = page("bought/", client=quince)
    assert "I-0001" in said and "500 kg is delivered." in said
    assert "Tolliver" not in said and "£1,300" not in said
    assert quince.get("/marl-hollow/orders/").status_code == 404
    own = "/marl-hollow/bought/papers/{}.pdf"
    assert quince.get(own.format(mine.pk)).status_code == 200
    assert quince.get(own.format(theirs.pk)).status_code == 404
    assert quince.get(f"/marl-hollow/papers/{mine.pk}.pdf").status_code == 404


def test_a_lot_tells_what_it_brought(writes, marl, ann, reed, deliver, invoice, page):
    deliver(2000)
    invoice()
    LabourRate.objects.create(
        holding=marl, made_by=ann, since=datetime.date(2026, 1, 1), rate=Decimal(12)
    )
    Labour.objects.create(
        holding=marl, made_by=ann, date=DAY, who="Ben", hours=10, job="loaded", lot=reed
    )
    said = page(f"lots/{reed.pk}/")
    assert "It has brought £2,885.50 so far." in said, "£85.50 is haulage"
    assert "Costs of £120.00 are written down, and £2,765.50 is left of it." in said
    assert "I-0001, for 2.00 t" in said
    assert "Haulage not written down" in said


def test_what_is_reserved_is_told(writes, order, reed, page):
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=1500.0)
    assert "1.50 t of R-26-1 is reserved." in page()
    assert Order.objects.count() == 1


def test_a_lot_tells_who_looked_and_how_it_lasted(writes, orla, reed, page):
    writes(
        visit_record,
        customer=orla,
        lot=reed,
        date=DAY,
        looked_at="six bundles",
        said="stiff enough",
        handful="over the bench",
    )
    writes(
        roof_report_record,
        customer=orla,
        lot=reed,
        date=DAY,
        roof="Mill House",
        laid=2026,
        state="sound",
    )
    said = page(f"lots/{reed.pk}/")
    assert "six bundles – stiff enough over the bench" in said
    assert "Mill House 2026 10 Nov 2026 sound, in its first year Orla Quince" in said


def test_buyers_terms_and_prices_of_grain_are_not_for_ben(page, writes, orla, ben):
    writes(grain_terms_set, customer=orla, since=DAY, price=345)
    writes(grain_terms_set, since=DAY, price=312)
    for path in ("grain/", "ask/grain-choice/"):
        assert "Orla Quince" in page(path)
    his = Client()
    his.force_login(ben)
    for path in ("grain/", "ask/grain-choice/"):
        said = page(path, client=his)
        assert "Orla Quince" not in said
        assert not re.search(r"\b3(45|12)\b", said)


def test_bens_program_reads_no_buyers_terms_and_rules(writes, orla, ben, ann):
    writes(grain_terms_set, customer=orla, since=DAY, price=345)
    writes(grade_rule_set, use="ridge", buyer_name="Orla Quince", length_least_cm=80)
    for person, terms, rules in ((ann, 200, 1), (ben, 404, 0)):
        _token, key = token_make(person=person, label="a program")
        client = Client(headers={"Authorization": f"Bearer {key}"})
        assert client.get("/api/marl-hollow/grain-terms/").status_code == terms
        assert len(client.get("/api/marl-hollow/grade-rule/").json()) == rules


def test_no_button_asks_for_more_than_the_lot_has(as_ann, writes, order, reed):
    place = lot_place(reed)
    writes(weight_adjust, place=place, kg=Decimal("812.36"), date=DAY)
    said = as_ann.get("/marl-hollow/orders/").content.decode()
    assert "&amp;kg=812.36+kg" in said
    assert "&amp;weight_kg=812.36+kg" in said


def test_whole_kilograms_are_written_without_a_point(as_ann, order, reed):
    assert "&amp;kg=2000+kg" in as_ann.get("/marl-hollow/orders/").content.decode()


def test_what_is_owed_of_an_order_that_was_closed_is_still_told(
    page, writes, order, deliver, invoice
):
    deliver(1000)
    writes(order_end, order=order, date=DAY, why="they want no more")
    assert "Invoice Orla Quince for what was delivered." in page()
    invoice()
    said = page()
    assert "£1,782.60 is owed. It was closed: they want no more." in said
    assert "1.00 t of R-26-1" not in said
