"""What a lot brought, what it cost from field to buyer, and what nobody wrote."""

import datetime
from decimal import Decimal

import pytest

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
from sheafwright.core.money.pence import pounds_of
from sheafwright.records.lot_worth_wording import how_shared, in_short
from sheafwright.records.models import Lot
from sheafwright.records.selectors.lot_worth import USUAL, lot_worth
from sheafwright.records.selectors.posted import money_book
from sheafwright.records.services.grain import (
    dressing_record,
    drying_record,
    milling_record,
)
from sheafwright.records.services.money import purchase_record
from sheafwright.records.services.stock import entry_undo, sale_record
from sheafwright.records.services.work import labour_rate_set, labour_record

__all__ = [
    "credit",
    "deliver",
    "enquire",
    "invoice",
    "order",
    "order_of",
    "orla",
    "pay",
    "quote",
]


@pytest.fixture
def spends(writes, sowing, reed):
    """£90 on the field, £40 on the lot's way, eight hours at the drum at £10."""
    writes(labour_rate_set, since=datetime.date(2026, 1, 1), rate="10")
    writes(
        labour_record,
        date=datetime.date(2026, 11, 3),
        who="Ben",
        hours=8,
        job="drum",
        task="threshing",
    )
    said = {"date": DAY, "what": "it", "supplier": "Combe Stores"}
    writes(purchase_record, **said, line="seed", net=Decimal(90), sowing=sowing)
    writes(purchase_record, **said, line="haulage", net=Decimal(40), lot=reed)


def test_a_lot_bears_its_part_of_field_drum_and_road(spends, reed, deliver, invoice):
    deliver(2000)
    invoice()
    worth = lot_worth(reed)
    lines = {each.line: each for each in worth.lines}
    # 4 t of reed of 6.5 t that the drum gave; the rest was waste.
    assert lines["seed"].pence == round(9000 * 4 / 6.5)
    assert lines["work_threshing"].pence == round(8000 * 4 / 6.5)
    assert lines["haulage"].pence == 4000
    assert [lines[x].ways for x in ("seed", "work_threshing", "haulage")] == [
        {"sheaves"},
        {"day"},
        {"own"},
    ]
    spent = sum(each.pence or 0 for each in worth.lines)
    assert worth.left == worth.brought["GBP"] - pounds_of(spent)
    assert worth.fields == pytest.approx({"Long Meadow": 4 / 6.5})


def test_what_nobody_wrote_is_told_as_missing_and_not_as_nothing(spends, reed):
    worth = lot_worth(reed)
    assert set(worth.missing) == set(USUAL) - {
        "seed",
        "work_threshing",
        "haulage",
        "work_grain",
    }
    assert worth.left is None, "it brought nothing yet"


def test_all_lots_of_a_harvest_bear_together_what_was_spent(spends, reed, grain):
    both = [lot_worth(lot).cost for lot in (reed, grain)]
    assert sum(both) == Decimal(90 + 40 + 80)


def test_haulage_that_the_buyer_pays_is_brought_too(reed, deliver, invoice):
    deliver(2000)
    issued = invoice()
    assert lot_worth(reed).brought == {"GBP": issued.net}


def test_what_is_invoiced_and_not_paid_is_told_until_it_is(reed, deliver, invoice, pay):
    deliver(2000)
    issued = invoice()
    (unpaid,) = lot_worth(reed).unpaid
    assert (unpaid.paper, unpaid.owed) == (issued, issued.gross)
    assert f"£{issued.gross:,.2f} of I-0001" in in_short(lot_worth(reed))
    pay(issued, issued.gross)
    assert lot_worth(reed).unpaid == ()


def test_a_sale_without_an_invoice_is_brought_until_it_is_undone(writes, reed):
    sale = writes(
        sale_record, lot=reed, date=DAY, kg=100, buyer_name="Dan", price="95.50"
    )
    worth = lot_worth(reed)
    assert worth.brought == {"GBP": Decimal("95.50")} and worth.sales == 1
    writes(entry_undo, movement=sale_movement(sale), date=DAY)
    assert lot_worth(reed) is None


def sale_movement(sale):
    from sheafwright.records.models import Movement

    return Movement.objects.get(subject=sale.pk)


def test_a_lot_of_which_nothing_is_written_has_no_worth(reed):
    assert lot_worth(reed) is None


# Grain that was dried, dressed and milled.


def lot(code):
    return Lot.objects.get(code=code)


@pytest.fixture
def dressed(writes, grain):
    """2,500 kg dried to 2,400 and dressed to 2,208 clean and 96 of tail corn."""
    said = {"lot": grain, "date": DAY}
    writes(
        drying_record, **said, how="floor", moisture_before_pct=18,
        moisture_after_pct=14, after_kg=2400,
    )  # fmt: skip
    writes(
        dressing_record, **said, clean_kg=2208, clean_code="C", screenings_to="kept",
        screenings_kg=96, screenings_code="T",
    )  # fmt: skip
    return lot("C")


@pytest.fixture
def milled(writes, dressed):
    """Half of what is clean milled to 828 kg of flour and 207 of bran."""
    run = {"lot": dressed, "date": DAY, "flour": "brown", "weight_kg": 1104}
    writes(
        milling_record, **run, flour_kg=828, flour_code="F", bran_kg=207, bran_code="B"
    )
    return lot("F")


def of_a_line(code, line):
    worth = lot_worth(lot(code))
    return next((x.pence or 0 for x in worth.lines if x.line == line), 0)


def test_a_dressed_lot_keeps_its_fields_and_bears_what_the_grain_cost(
    spends, grain, dressed
):
    worth = lot_worth(dressed)
    clean = 2208 / (2208 + 96)
    assert worth.fields == pytest.approx({"Long Meadow": 2.5 / 6.5 * clean})
    assert of_a_line("C", "seed") == pytest.approx(9000 * 2.5 / 6.5 * clean, abs=1)
    assert worth.came_of == (grain.code,)
    assert any("made of G-26-1" in said for said in how_shared(worth))


def test_grain_that_was_all_dressed_bears_nothing_and_says_where_it_went(
    spends, grain, dressed
):
    worth = lot_worth(grain)
    assert (worth.cost, worth.missing, worth.fields) == (0, (), {})
    assert in_short(worth) == (
        "Its costs went on with what was made of it, by weight: 96% to C and 4% to T."
    )


def test_flour_and_bran_bear_what_their_grain_cost_and_the_miller(
    spends, writes, milled, sowing
):
    said = {"date": DAY, "what": "milling", "supplier": "Combe Mill", "line": "other"}
    writes(purchase_record, **said, net=Decimal("66.24"), lot=milled)
    # By 828 and 207 kg, and as much again of the dressed grain that is left.
    shares = money_book(holding=milled.holding, harvest_year=2026).shares
    assert shares.of_lot["F"] == {sowing.pk: 1.0}
    clean = shares.in_lot["C"][sowing.pk]
    assert shares.in_lot["F"][sowing.pk] == pytest.approx(0.8 * clean)
    assert shares.in_lot["B"][sowing.pk] == pytest.approx(0.2 * clean)
    assert of_a_line("F", "other") == 6624
    worth = lot_worth(milled)
    assert worth.came_of == ("C", "G-26-1")
    assert worth.missing == lot_worth(lot("C")).missing
    sale = {"lot": milled, "date": DAY, "kg": 100, "buyer_name": "Combe Bakery"}
    writes(sale_record, **sale, price="250")
    assert lot_worth(milled).left == Decimal(250) - worth.cost


def test_a_bill_that_names_the_raw_lot_goes_on_with_what_was_made_of_it(
    writes, milled, grain
):
    said = {"date": DAY, "what": "milling", "supplier": "Combe Mill", "line": "other"}
    writes(purchase_record, **said, net=Decimal(100), lot=lot("C"))
    assert [of_a_line(code, "other") for code in ("F", "B", "C")] == [4000, 1000, 5000]
    worth = lot_worth(milled)
    (line,) = (each for each in worth.lines if each.line == "other")
    assert line.ways == {"before"}


def test_all_that_was_made_of_a_harvest_bears_together_what_was_spent(
    spends, writes, milled, reed, grain
):
    writes(sale_record, lot=lot("C"), date=DAY, kg=300, buyer_name="Combe Mill")
    codes = (reed.code, grain.code, "C", "T", "F", "B")
    assert sum(lot_worth(lot(code)).cost for code in codes) == Decimal(90 + 40 + 80)


def test_what_was_sold_before_keeps_its_costs_in_its_lot(spends, writes, grain):
    writes(sale_record, lot=grain, date=DAY, kg=500, buyer_name="Combe Mill")
    writes(
        dressing_record, lot=grain, date=DAY, clean_kg=1800, clean_code="C",
        screenings_to="away",
    )  # fmt: skip
    seed = 9000 * 2.5 / 6.5
    assert of_a_line(grain.code, "seed") == pytest.approx(0.2 * seed, abs=1)
    assert of_a_line("C", "seed") == pytest.approx(0.8 * seed, abs=1)
    assert lot_worth(grain).went_on == pytest.approx({"C": 0.8})


def test_a_dressing_that_was_undone_hands_nothing_on(spends, writes, grain):
    before = lot_worth(grain).cost
    run = writes(
        dressing_record, lot=grain, date=DAY, clean_kg=2300, clean_code="C",
        screenings_to="fed",
    )  # fmt: skip
    assert lot_worth(grain).cost < before
    from sheafwright.records.models import Movement

    writes(entry_undo, movement=Movement.objects.get(pk=run.pk), date=DAY)
    assert lot_worth(grain).cost == before
    assert lot_worth(lot("C")) is None
