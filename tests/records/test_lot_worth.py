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
from sheafwright.records.lot_worth_wording import in_short
from sheafwright.records.selectors.lot_worth import USUAL, lot_worth
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
