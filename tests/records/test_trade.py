"""From an enquiry to money in the bank, each kilogram and each penny accounted for."""

import dataclasses
import datetime
import uuid
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, connection, transaction
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

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
from sheafwright.documents.epcis import epcis_document
from sheafwright.documents.typst import as_json
from sheafwright.records.errors import (
    NotOurs,
    SaidOtherwise,
    SetApart,
    StillNeeded,
    TooLittleThere,
)
from sheafwright.records.models import (
    Lot,
    Movement,
    Order,
    Paper,
    Place,
    Sale,
    SavedAnswer,
    Sowing,
)
from sheafwright.records.money import exact
from sheafwright.records.papers.events import events_of
from sheafwright.records.papers.record_book import record_book_of
from sheafwright.records.selectors.allotment import MOST_LOTS, allotment
from sheafwright.records.selectors.drum_order import order_of_ricks
from sheafwright.records.selectors.mass_balance import mass_balance
from sheafwright.records.selectors.money import harvest_money
from sheafwright.records.selectors.orders import order_now, orders_now, reserved_of
from sheafwright.records.selectors.posted import money_book
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.ground import field_status_add
from sheafwright.records.services.made import lot_place
from sheafwright.records.services.papers import (
    invoice_issue,
    lot_paper_issue,
    paper_issue,
)
from sheafwright.records.services.stock import entry_undo, sale_record
from sheafwright.records.services.trade import (
    customer_wants_say,
    delivery_record,
    order_end,
    order_take,
    reserve,
    return_record,
    roof_report_record,
    visit_record,
)
from sheafwright.records.verify import verify

__all__ = [
    "credit", "deliver", "enquire", "invoice", "order", "order_of", "orla", "pay",
    "quote",
]  # fmt: skip
NOON = datetime.datetime(2026, 11, 10, 12, tzinfo=datetime.UTC)
WHOLE = Decimal("3462.60")
"""2 t at £1,400 and £85.50 of haulage, each with 20%."""


def now(order):
    return order_now(Order.objects.get(pk=order.pk))


# Enquiries and quotations.


def test_a_roof_in_squares_is_asked_for_in_kilograms(enquire):
    asked = enquire(squares=14.0, coat="new_coat")
    # 30 bundles of 28 lb to the square, and a tenth thrown out.
    assert asked.weight_kg == pytest.approx(14 * 30 * 12.70058636 * 1.1, rel=1e-4)


def test_an_overcoat_takes_less_than_a_new_coat(enquire):
    less = enquire(squares=10.0, coat="over_coat").weight_kg
    assert less < enquire(squares=10.0, coat="new_coat").weight_kg


@pytest.mark.parametrize("said", [{}, {"squares": 4.0}, {"coat": "new_coat"}])
def test_an_enquiry_says_how_much_or_what_roof(enquire, said):
    with pytest.raises(ValidationError, match="squares and the coat"):
        enquire(**said)


def test_a_quotation_is_a_paper_with_its_sum(quote):
    paper = quote().pk and Paper.objects.get(kind="quotation")
    assert (paper.code, paper.gross) == ("Q-0001", WHOLE)
    assert paper.said["open_until"] == "2026-12-24"


def test_a_quotation_ends_no_sooner_than_it_begins(quote):
    with pytest.raises(ValidationError):
        quote(open_until=datetime.date(2026, 11, 1))


# Orders, reservations, deliveries.


def test_an_order_is_confirmed_on_paper(order):
    assert Paper.objects.get(order=order).code == "O-0001"
    assert now(order).left_kg == 2000


def test_what_is_sent_twice_is_one_order_and_one_paper(writes, orla, order_of):
    first = order_of()
    said = {
        field: getattr(first, field)
        for field in (
            *("customer", "date", "kind", "weight_kg", "price_per_t", "vat_pct"),
            *("haulage", "haulage_vat_pct"),
        )
    }
    again = writes(order_take, id=first.pk, **said)
    assert again == first
    assert Paper.objects.count() == 1


def test_a_part_delivery_leaves_the_rest(order, deliver, reed, kg_in):
    deliver(1200, bundles=90)
    assert now(order).left_kg == 800
    assert kg_in(Place.Kind.LOT, reed) == 2800
    note = Paper.objects.get(kind="delivery")
    assert (note.code, note.lot) == ("D-0001", reed)


def test_a_delivery_is_a_sale_like_any_other(deliver):
    sale = deliver(1200).sale
    assert sale.buyer_name == "Orla Quince"
    assert sale.price == Decimal("1680.00")
    [account] = [
        a
        for a in mass_balance(holding=sale.holding, since=DAY, until=DAY)
        if a.material == "reed"
    ]
    assert [(item.what, item.kg) for item in account.went_out if item.kg] == [
        ("sold", 1200)
    ]


def test_no_more_than_a_lot_holds_is_delivered(deliver):
    with pytest.raises(TooLittleThere):
        deliver(5000)
    assert not Paper.objects.filter(kind="delivery").exists()
    assert not Sale.objects.exists()


def test_a_lot_set_apart_is_not_delivered(deliver, reed):
    Lot.objects.filter(pk=reed.pk).update(set_apart=True)
    with pytest.raises(SetApart):
        deliver(100)


def test_grain_fills_no_order_for_reed(deliver, grain):
    with pytest.raises(ValidationError, match="something else"):
        deliver(100, lot=grain)


def test_what_is_reserved_is_kept_from_others(writes, order, order_of, deliver, reed):
    other = order_of()
    writes(reserve, order=other, lot=reed, date=DAY, weight_kg=3500.0)
    with pytest.raises(TooLittleThere, match=r"all but 500\.0 kg are kept for others"):
        deliver(600)
    deliver(500)
    writes(reserve, order=other, lot=reed, date=DAY, weight_kg=0.0)
    deliver(600)


def test_what_is_reserved_is_not_sold_past_its_order(writes, order, deliver, reed):
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=1900.0)
    said = {"lot": reed, "date": DAY, "buyer_name": "Dan"}
    with pytest.raises(TooLittleThere, match=r"all but 2,100\.0 kg are kept"):
        writes(sale_record, kg=2101, **said)
    writes(sale_record, kg=2100, **said)
    deliver(1900)


def test_no_more_is_reserved_than_is_free(writes, order, order_of, reed):
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=3000.0)
    with pytest.raises(TooLittleThere, match=r"1,000\.0 kg are free"):
        writes(reserve, order=order_of(), lot=reed, date=DAY, weight_kg=1500.0)


def test_what_was_delivered_is_reserved_no_more(writes, order, deliver, reed):
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=2000.0)
    deliver(1200)
    assert reserved_of(reed) == {order: pytest.approx(800)}
    assert now(order).reserved == {reed: pytest.approx(800)}


def test_an_ended_order_keeps_nothing(writes, order, reed):
    writes(reserve, order=order, lot=reed, date=DAY, weight_kg=2000.0)
    writes(order_end, order=order, date=DAY, why="the roof was sold")
    assert reserved_of(reed) == {}
    assert now(order).left_kg == 0


def test_what_came_back_is_in_its_lot_again(writes, order, deliver, reed, kg_in):
    sent = deliver(1200)
    back = {"delivery": sent, "date": DAY, "weight_kg": 300.0, "why": "wet"}
    writes(return_record, **back)
    assert kg_in(Place.Kind.LOT, reed) == 3100
    assert kg_in(Place.Kind.SOLD, sent.sale) == 900
    assert now(order).left_kg == 1100
    assert verify().is_sound


def test_no_more_comes_back_than_went(writes, deliver):
    sent = deliver(1200)
    with pytest.raises(TooLittleThere):
        writes(return_record, delivery=sent, date=DAY, weight_kg=1300.0, why="all wet")


def test_what_came_back_brings_no_money(writes, deliver, marl, reed):
    sent = deliver(1200)
    back = {"delivery": sent, "date": DAY, "weight_kg": 300.0, "why": "wet"}
    came = writes(return_record, **back)
    assert _got(marl, reed) == [126_000]
    writes(entry_undo, movement=Movement.objects.get(pk=came.pk), date=DAY)
    assert _got(marl, reed) == [168_000]
    money = harvest_money(holding=marl, harvest_year=reed.harvest_year + 1)
    assert money.prices.reed == pytest.approx(1400)


def test_what_was_credited_is_taken_off_what_a_harvest_brought(
    deliver, invoice, credit, marl, reed
):
    deliver(1200)
    bill = invoice()
    credit(bill, net=bill.net / 4)
    # Haulage is credited in its part.
    assert _got(marl, reed) == [168_000 * 3 // 4]


def test_what_was_credited_whole_is_as_if_it_was_never_invoiced(
    deliver, invoice, credit, marl, reed
):
    deliver(1200)
    credit(invoice())
    assert _got(marl, reed) == [168_000]


def test_what_came_back_is_paid_for_until_it_is_credited(
    writes, deliver, invoice, marl, reed
):
    sent, _bill = deliver(1200), invoice()
    writes(return_record, delivery=sent, date=DAY, weight_kg=300.0, why="wet")
    assert _got(marl, reed) == [168_000]


def _got(holding, lot):
    book = money_book(holding=holding, harvest_year=lot.harvest_year)
    return [each.pence for each in book.got]


def test_a_delivery_that_was_undone_counts_no_more(writes, order, deliver, reed):
    sent = deliver(1200)
    movement = Movement.objects.get(pk=sent.sale_id)
    writes(entry_undo, movement=movement, date=DAY, note="the wrong lot")
    assert now(order).left_kg == 2000
    assert now(order).uninvoiced == ()


def test_a_delivery_of_which_some_came_back_is_not_undone(writes, deliver):
    sent = deliver(1200)
    writes(return_record, delivery=sent, date=DAY, weight_kg=300.0, why="wet")
    with pytest.raises(StillNeeded):
        writes(entry_undo, movement=Movement.objects.get(pk=sent.sale_id), date=DAY)


def test_a_delivery_that_was_invoiced_is_credited_before_it_is_undone(
    writes, order, deliver, invoice, credit
):
    sent, bill = deliver(1200), invoice()
    said = {"movement": Movement.objects.get(pk=sent.sale_id), "date": DAY}
    with pytest.raises(StillNeeded, match="invoiced as I-0001"):
        writes(entry_undo, **said)
    assert now(order).left_kg == 800
    credit(bill)
    writes(entry_undo, **said)
    deliver(2000)
    assert invoice().gross == WHOLE
    assert now(order).owed == WHOLE


# Invoices, credit notes, payments.


def test_an_invoice_is_for_what_went_and_its_haulage(deliver, invoice):
    deliver(2000)
    paper = invoice()
    assert (paper.code, paper.net, paper.vat, paper.gross) == (
        "I-0001",
        Decimal("2885.50"),
        Decimal("577.10"),
        WHOLE,
    )
    assert [line["lot"] for line in paper.said["lines"][:1]] == ["R-26-1"]


def test_two_part_deliveries_are_two_invoices_and_one_haulage(
    order, deliver, invoice, order_of
):
    deliver(1200)
    first = invoice()
    deliver(800)
    second = invoice()
    assert first.gross + second.gross == WHOLE
    assert (first.number, second.number) == (1, 2)


def test_nothing_is_invoiced_twice(deliver, invoice):
    deliver(2000)
    invoice()
    with pytest.raises(ValidationError, match="not invoiced yet"):
        invoice()
    assert Paper.objects.filter(kind="invoice").count() == 1


def test_what_came_back_before_is_not_invoiced(writes, deliver, invoice):
    sent = deliver(2000)
    writes(return_record, delivery=sent, date=DAY, weight_kg=500.0, why="wet")
    assert invoice().net == Decimal("2185.50")


def test_each_rate_has_its_own_vat(order_of, deliver, invoice):
    order = order_of(vat_pct=Decimal(0))
    deliver(2000, order=order)
    paper = invoice(order)
    assert [(exact(r), exact(n), exact(v)) for r, n, v in paper.said["rates"]] == [
        (0, 2800, 0),
        (20, Decimal("85.5"), Decimal("17.1")),
    ]


def test_a_whole_invoice_is_credited(deliver, invoice, credit, order):
    deliver(2000)
    paper = invoice()
    note = credit(paper)
    assert (note.code, note.gross, note.corrects) == ("C-0001", WHOLE, paper)
    assert now(order).owed == 0


def test_an_invoice_that_was_wrong_is_credited_whole_and_made_anew(
    deliver, invoice, credit, order, pay, writes
):
    deliver(2000)
    credit(invoice())
    assert now(order).ended is None and now(order).uninvoiced
    again = invoice()
    assert (again.code, again.gross) == ("I-0002", WHOLE)
    with pytest.raises(ValidationError, match="not invoiced yet"):
        invoice()
    pay(again, WHOLE)
    assert now(order).ended.why == "paid in full"
    # Found wrong only after it was paid, it is made anew all the same.
    credit(again)
    assert now(order).owed == -WHOLE
    assert invoice().gross == WHOLE
    assert now(order).owed == 0


def test_what_was_credited_whole_and_closed_is_asked_for_no_more(
    deliver, invoice, credit, order, writes
):
    deliver(2000)
    credit(invoice())
    writes(order_end, order=order, date=DAY, why="a gift")
    assert now(order).is_done


def test_a_part_is_credited_at_its_rate(deliver, invoice, credit, order):
    deliver(2000)
    note = credit(invoice(), net=Decimal("140.00"))
    assert (note.net, note.vat, note.gross) == (140, 28, 168)
    assert now(order).owed == WHOLE - 168


def test_no_more_is_credited_than_was_invoiced(deliver, invoice, credit):
    deliver(2000)
    paper = invoice()
    credit(paper, net=Decimal("2000.00"))
    with pytest.raises(ValidationError, match="More would be credited"):
        credit(paper, net=Decimal("1000.00"))
    assert Paper.objects.filter(kind="credit").count() == 1


def test_nothing_is_credited_before_it_was_invoiced(deliver, invoice, credit):
    deliver(2000)
    bill = invoice()
    with pytest.raises(ValidationError, match="when it was issued"):
        credit(bill, date=DAY - datetime.timedelta(1))


def test_no_rate_is_credited_that_was_not_invoiced(deliver, invoice, credit):
    deliver(2000)
    with pytest.raises(ValidationError, match="no line at 5%"):
        credit(invoice(), net=Decimal("10.00"), vat_pct=Decimal(5))


def test_what_is_paid_in_full_closes_the_order(order, deliver, invoice, pay):
    deliver(2000)
    paper = invoice()
    pay(paper, "1000.00")
    assert now(order).owed == WHOLE - 1000
    assert orders_now(holding=order.holding)
    pay(paper, "2462.60")
    assert now(order).is_done
    assert now(order).ended.why == "paid in full"
    assert orders_now(holding=order.holding) == ()


def test_what_is_owed_is_not_forgotten_however_long_ago_its_order_ended(
    writes, marl, order, deliver, invoice, pay
):
    deliver(1200)
    paper = invoice()
    writes(order_end, order=order, date=DAY, why="they want no more")
    marl.looked_at_as_of = DAY + datetime.timedelta(400)
    assert [now.owed for now in orders_now(holding=marl)] == [paper.gross]
    pay(paper, paper.gross)
    assert orders_now(holding=marl) == ()


def test_no_more_is_paid_than_is_owed(deliver, invoice, pay):
    deliver(2000)
    with pytest.raises(ValidationError, match="is owed on it"):
        pay(invoice(), "3462.61")


def test_money_may_go_back(deliver, invoice, pay, credit, order):
    deliver(2000)
    paper = invoice()
    pay(paper, WHOLE)
    credit(paper, net=Decimal("140.00"))
    assert now(order).owed == -168
    pay(paper, "168.00", back=True)
    assert now(order).owed == 0


def test_no_half_penny_is_paid(deliver, invoice, pay):
    deliver(2000)
    with pytest.raises(ValidationError, match="whole coins"):
        pay(invoice(), "1.005")


@settings(
    max_examples=25,
    deadline=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
@given(
    grams=st.lists(st.integers(1000, 900_000), min_size=1, max_size=4),
    price=st.decimals(1, 3000, places=2),
    rate=st.sampled_from([Decimal(n) for n in ("0", "5", "12.5", "20")]),
    currency=st.sampled_from(("GBP", "EUR", "JPY", "KWD")),
)
def test_whatever_goes_invoices_and_payments_agree_to_the_coin(
    grams, price, rate, currency, order_of, deliver, invoice, pay, credit
):
    with transaction.atomic():
        order = order_of(
            price_per_t=price, vat_pct=rate, currency=currency, weight_kg=4000.0
        )
        for each in grams:
            deliver(each / 1000, order=order)
        paper = invoice(order)
        assert paper.gross == paper.net + paper.vat
        lines = sum(exact(line["net"]) for line in paper.said["lines"])
        assert lines == paper.net
        half = paper.gross // 2
        if half:
            pay(paper, half)
        if paper.gross - half:
            pay(paper, paper.gross - half)
        assert now(order).owed == 0
        transaction.set_rollback(True)


# Papers stay as they were.


def test_papers_are_numbered_by_kind_without_a_gap(writes, order_of, marl):
    for _ in range(3):
        order_of()
    numbers = Paper.objects.filter(holding=marl, kind="order").values_list("number")
    assert sorted(n for (n,) in numbers) == [1, 2, 3]


def test_a_refused_paper_leaves_no_gap(deliver, invoice, credit):
    deliver(2000)
    paper = invoice()
    with pytest.raises(ValidationError):
        credit(paper, net=Decimal("9999.00"))
    assert credit(paper).number == 1


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE records_paper SET gross = 1",
        "UPDATE records_paper SET said = '{}'",
        "DELETE FROM records_paper",
    ],
)
def test_the_database_refuses_to_change_a_paper(order, sql):
    with (
        pytest.raises(DatabaseError, match="never changes"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(sql)


def test_the_database_refuses_a_gap(order, marl, ann):
    with pytest.raises(DatabaseError, match="without a gap"), transaction.atomic():
        Paper.objects.create(
            holding=marl, made_by=ann, kind="order", number=5, date=DAY, said={}
        )


def test_each_holding_counts_for_itself(writes, order, other_holding, ann):
    paper = paper_issue(
        id=uuid.uuid4(),
        holding=other_holding,
        made_by=ann,
        kind="order",
        date=DAY,
        lines=[],
    )
    assert paper.number == 1


# What goes with a delivery.


def test_an_organic_statement_needs_an_organic_crop(writes, deliver):
    with pytest.raises(ValidationError, match="may not be sold as organic"):
        writes(lot_paper_issue, delivery=deliver(100), kind="organic", date=DAY)


def test_what_papers_call_organic_fills_an_order_for_organic_alone(
    writes, marl, order_of, long_meadow, reed, deliver
):
    order_of(organic=True)
    assert not _gives(marl, "O-0002")
    since = datetime.date(2022, 3, 1)
    writes(field_status_add, field=long_meadow, way="converting", since=since)
    assert _gives(marl, "O-0002") == [reed.code]
    paper = writes(lot_paper_issue, delivery=deliver(100), kind="organic", date=DAY)
    assert paper.said["lines"][0]["lot"] == reed.code


def _gives(holding, order):
    return list(allotment(holding=holding).of(order).given)


def test_a_grain_note_is_for_grain(writes, deliver):
    with pytest.raises(ValidationError, match="this lot is straw"):
        writes(lot_paper_issue, delivery=deliver(100), kind="grain", date=DAY)


def test_a_lot_certificate_names_its_field(writes, deliver):
    paper = writes(lot_paper_issue, delivery=deliver(100), kind="certificate", date=DAY)
    assert paper.code == "L-0001"
    assert paper.said["fields"] == ["Long Meadow"]


def test_no_paper_goes_with_a_delivery_that_was_undone(writes, deliver):
    sent = deliver(100)
    writes(entry_undo, movement=Movement.objects.get(pk=sent.sale_id), date=DAY)
    with pytest.raises(ValidationError, match="was undone"):
        writes(lot_paper_issue, delivery=sent, kind="certificate", date=DAY)


def test_one_id_is_one_paper(writes, order, deliver, invoice):
    sent, bill = deliver(100), invoice()
    with pytest.raises(SaidOtherwise, match="already issued as I-0001"):
        writes(lot_paper_issue, id=bill.pk, delivery=sent, kind="certificate", date=DAY)
    assert writes(invoice_issue, id=bill.pk, order=order, date=DAY) == bill


# Buyers.


def test_a_visit_and_how_it_lasted_are_kept(writes, orla, reed):
    visit = writes(
        visit_record,
        customer=orla,
        date=DAY,
        lot=reed,
        looked_at="six bundles off the top",
        would_take_kg=2000.0,
        handful="nail by the comb",
    )
    report = writes(
        roof_report_record,
        customer=orla,
        lot=reed,
        date=DAY,
        roof="Mill House",
        laid=2026,
        state="sound",
    )
    assert (visit.handful, report.state) == ("nail by the comb", "sound")


def test_a_roof_is_not_laid_after_it_was_seen(writes, orla, reed):
    with pytest.raises(ValidationError, match="after it was seen"):
        writes(
            roof_report_record,
            customer=orla,
            lot=reed,
            date=DAY,
            roof="Mill House",
            laid=2027,
            state="sound",
        )


def test_a_buyer_of_another_holding_is_nobody_here(writes, orla, other_holding, ann):
    with pytest.raises(NotOurs):
        customer_wants_say(
            id=uuid.uuid4(),
            holding=other_holding,
            made_by=ann,
            customer=orla,
            since=DAY,
            kind="reed",
        )


def test_an_order_of_another_holding_is_not_delivered(order, reed, other_holding, ann):
    with pytest.raises(NotOurs):
        delivery_record(
            id=uuid.uuid4(),
            holding=other_holding,
            made_by=ann,
            order=order,
            lot=reed,
            date=DAY,
            kg=10,
        )


def test_what_came_back_is_told_to_others_and_in_the_book(writes, marl, deliver):
    sent = deliver(1200)
    writes(return_record, delivery=sent, date=DAY, weight_kg=300.0, why="wet")
    events = list(events_of(holding=marl, begins=DAY, ends=DAY))
    assert events
    document = as_json(epcis_document(events, base_url="https://x/", made_at=NOON))
    assert f'"https://x/lots/{sent.sale.lot_id}", "quantity": 300.0' in document
    book = record_book_of(holding=marl, begins=DAY, ends=DAY, units="metric")
    assert any(300 in dataclasses.astuple(line) for line in book.movements)
    [account] = [
        each
        for each in mass_balance(holding=marl, since=DAY, until=DAY)
        if each.material == "reed"
    ]
    moved = sum(item.grams for item in account.went_out + account.lost)
    came = sum(item.grams for item in account.came_in)
    assert account.opening_grams + came == moved + account.closing_grams
    assert account.closing_grams == 3_100_000


def test_a_rick_that_is_to_fill_an_order_tells_by_when(marl, ricked, order_of):
    [before] = order_of_ricks(holding=marl).turns
    assert before.asked.ordered_for is None
    day = datetime.date(2027, 8, 31)
    order_of(wanted_by=day)
    [turn] = order_of_ricks(holding=marl).turns
    assert turn.asked.ordered_for == day
    assert "It is to fill an order by 31 August." in turn.why


def test_an_order_is_told_of_its_lot_however_much_else_is_in_store(
    writes, marl, ann, order, reed
):
    about = {"kind": "tail", "variety": "Red", "harvest_year": 2027, "made_by": ann}
    bought = place_of(holding=marl, kind=Place.Kind.BOUGHT)
    for number in range(MOST_LOTS):
        lot = Lot.objects.create(holding=marl, code=f"T-{number}", **about)
        steps = [Step(bought, -1000), Step(lot_place(lot), 1000)]
        writes(movement_write, kind="buy", date=DAY, steps=steps)
    [told] = allotment(holding=marl).answer.orders
    assert list(told.given) == [reed.code]


def test_two_crops_of_a_field_are_told_apart(marl, ann, order, long_meadow, seed_lot):
    marl.looked_at_as_of = DAY
    sown = {"date": datetime.date(2026, 9, 28), "harvest_year": 2027, "area_ha": 1.0}
    share = {"p10": 1.0, "p50": 2.0, "p90": 3.0}
    said = {"product": "reed", "product_t_per_ha": share, "grain_t_per_ha": share}
    about = {"holding": marl, "field": long_meadow, "seed_lot": seed_lot}
    for _ in range(2):
        crop = Sowing.objects.create(made_by=ann, **about, **sown)
        SavedAnswer.objects.create(
            holding=marl, question="yield", subject=crop.pk, day=DAY, seed=1, said=said
        )
    told = allotment(holding=marl)
    assert not told.refused
    [told_of] = told.answer.orders
    assert set(told_of.given) == {"Long Meadow 2027", "Long Meadow 2027 (2)"}
