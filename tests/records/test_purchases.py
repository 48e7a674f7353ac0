"""Money spent: written once, struck out, beside the budget, and shared to the penny."""

import datetime
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.records.errors import NotOurs, SaidOtherwise
from sheafwright.records.models import Field, Purchase, PurchaseStruck, Sowing
from sheafwright.records.papers.record_book import record_book_of
from sheafwright.records.selectors.money import against_budget, harvest_money
from sheafwright.records.selectors.posted import MoneyBook, Posted, money_book
from sheafwright.records.selectors.purchases import harvest_of, purchases_for
from sheafwright.records.selectors.sheaf_shares import SheafShares
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.money import purchase_record, purchase_strike
from sheafwright.records.services.stock import sale_record
from sheafwright.records.services.work import labour_rate_set, labour_record

TODAY = datetime.date(2027, 2, 1)
DAY = datetime.date(2026, 9, 30)


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def buys(writes):
    """Buy something for the harvest of 2026, for all the holding if not said."""

    def buy(line, net, date=DAY, **said):
        said = {"what": "something", "supplier": "Combe Stores"} | said
        said = {"harvest_year": 2026} | said
        return writes(purchase_record, date=date, line=line, net=Decimal(net), **said)

    return buy


@pytest.fixture
def brook(marl, ann, seed_lot):
    """A second field, of 1 ha, sown for the same harvest."""
    field = Field.objects.create(holding=marl, made_by=ann, name="Brook", area_ha=1.0)
    return Sowing.objects.create(
        holding=marl,
        made_by=ann,
        field=field,
        seed_lot=seed_lot,
        date=datetime.date(2025, 9, 30),
        harvest_year=2026,
        area_ha=1.0,
    )


def against(marl):
    answer = harvest_money(holding=marl, harvest_year=2026).budget()
    return against_budget(holding=marl, answer=answer)


def book_of(marl):
    return money_book(holding=marl, harvest_year=2026)


# Written, and struck out.


def test_a_bill_is_written_once_however_often_it_is_sent(buys, marl):
    written = buys("twine", "48.20", vat=Decimal("9.64"))
    again = buys("twine", "48.20", vat=Decimal("9.64"), id=written.pk)
    assert again.pk == written.pk
    assert Purchase.objects.count() == 1
    with pytest.raises(SaidOtherwise):
        buys("twine", "50.00", id=written.pk)


def test_vat_is_a_cost_unless_it_is_claimed_back(buys, marl):
    assert buys("fuel", "100", vat=Decimal(5)).cost == Decimal(105)
    assert buys("fuel", "100", vat=Decimal(5), vat_back=True).cost == Decimal(100)
    assert book_of(marl).by_line() == {"fuel": 20500}


def test_what_is_struck_out_counts_no_more_and_stays_written(buys, writes, marl):
    wrong = buys("seed", "500")
    writes(purchase_strike, purchase=wrong, date=TODAY, why="it was £300")
    buys("seed", "300")
    assert book_of(marl).by_line() == {"seed": 30000}
    assert Purchase.objects.count() == 2


def test_nothing_is_struck_out_twice(buys, writes):
    wrong = buys("seed", "500")
    writes(purchase_strike, purchase=wrong, date=TODAY, why="wrong")
    with pytest.raises(ValidationError, match="struck out already"):
        writes(purchase_strike, purchase=wrong, date=TODAY, why="again")
    assert PurchaseStruck.objects.count() == 1


def test_it_is_of_a_field_or_of_a_lot_and_never_ahead(buys, sowing, reed):
    with pytest.raises(ValidationError, match="only one of them"):
        buys("hire", "10", sowing=sowing, lot=reed)
    with pytest.raises(ValidationError, match="still to come"):
        buys("hire", "10", date=datetime.date(2027, 3, 1))
    with pytest.raises(ValidationError, match="greater than or equal to 0"):
        buys("hire", "-10")
    with pytest.raises(ValidationError, match="2 decimal places"):
        buys("hire", "10.005")
    assert not Purchase.objects.exists()


def test_anothers_bill_is_not_ours_to_strike(buys, cleo, other_holding):
    theirs = buys("seed", "500")
    with pytest.raises(NotOurs):
        purchase_strike(
            id=None,
            holding=other_holding,
            made_by=cleo,
            purchase=theirs,
            date=TODAY,
            why="not mine",
        )


def test_a_bill_that_is_no_photograph_is_refused_and_nothing_written(buys, settings):
    with pytest.raises(ValidationError, match="not a photograph"):
        buys("seed", "500", photo=ContentFile(b"%PDF-1.4", "bill.pdf"))
    assert not Purchase.objects.exists()


@pytest.mark.parametrize(
    ("line", "day", "year"),
    [
        ("seed", "2025-08-20", 2026),
        ("seed", "2026-03-01", 2026),
        ("contractor", "2025-09-20", 2026),
        ("contractor", "2026-08-20", 2026),
        ("twine", "2026-06-30", 2026),
        ("haulage", "2027-05-01", 2026),
        ("hire", "2026-11-10", 2026),
    ],
)
def test_what_says_no_harvest_is_of_one_by_what_for_and_when(
    buys, marl, line, day, year
):
    marl.looked_at_as_of = datetime.date(2027, 6, 1)
    marl.save()
    date = datetime.date.fromisoformat(day)
    bought = buys(line, "1", date=date, harvest_year=None)
    assert harvest_of(bought) == year
    assert purchases_for(holding=marl, harvest_year=year) == [bought]


def test_a_crops_bill_is_of_its_harvest_whenever_it_was_paid(buys, marl, sowing):
    late = datetime.date(2027, 1, 20)
    bought = buys("seed", "90", date=late, harvest_year=None, sowing=sowing)
    assert harvest_of(bought) == 2026
    assert purchases_for(holding=marl, harvest_year=2027) == []


# Beside the budget.


def test_a_bill_stands_beside_its_line_and_silence_is_not_nothing(buys, marl, sowing):
    buys("twine", "48.20")
    buys("rent", "200")
    found = against(marl)
    lines = {each.line: each for each in found.lines}
    assert lines["twine"].actual == 4820
    assert lines["twine"].difference == 4820 - lines["twine"].planned
    assert lines["fuel"].actual is None and lines["fuel"].difference is None
    assert lines["rent"].planned is None and lines["rent"].actual == 20000
    assert found.spent == 24820
    assert "twine" not in found.unwritten and "fuel" in found.unwritten


def test_where_nothing_is_written_no_sum_is_said(marl, sowing):
    found = against(marl)
    assert (found.got, found.spent, found.left) == (None, None, None)
    assert [(x.got, x.spent, x.left) for x in found.fields] == [(None, None, None)]


def test_each_field_bears_its_own_and_its_part_of_the_rest(buys, marl, sowing, brook):
    buys("seed", "300", sowing=brook)
    buys("certification", "100.01")
    fields = {each.name: each for each in against(marl).fields}
    assert fields["Long Meadow"].spent == 6667
    assert fields["Brook"].spent == 30000 + 3334
    assert sum(each.spent for each in fields.values()) == against(marl).spent


def test_a_lots_money_goes_to_the_fields_that_its_sheaves_came_from(
    writes, marl, brook, cut, ricked, reed
):
    writes(sale_record, lot=reed, date=TODAY, kg=100, buyer_name="Dan", price="95.50")
    fields = {each.name: each for each in against(marl).fields}
    assert fields["Long Meadow"].got == 9550
    assert fields["Brook"].got is None


def test_hours_without_a_rate_are_told_and_not_counted(writes, marl, sowing):
    writes(
        labour_record,
        date=DAY,
        who="Ben",
        hours=6,
        job="carting",
        task="carting",
        sowing=sowing,
    )
    book = book_of(marl)
    assert book.unpriced == {"work_carting": 6}
    assert book.spent == ()


def test_the_record_book_has_every_bill_and_why_it_was_struck_out(buys, writes, marl):
    wrong = buys("seed", "500", what="seed wheat")
    writes(purchase_strike, purchase=wrong, date=TODAY, why="it was £300")
    buys("twine", "48.20")
    book = record_book_of(holding=marl, begins=DAY, ends=TODAY, units="metric")
    assert [(x.what, x.supplier, x.struck) for x in book.purchases] == [
        ("seed wheat", "Combe Stores", "it was £300"),
        ("something", "Combe Stores", ""),
    ]


# Which lot bears what.


@pytest.fixture
def mixed(writes, brook, sowing, rick):
    """A rick of both fields: 9 t of Long Meadow and 3 t of Brook, threshed."""
    from sheafwright.records.services.threshing import Outturn, threshing_record

    for of, sheaves in ((sowing, 1000), (brook, 500)):
        cut = writes(
            cut_record,
            sowing=of,
            date=datetime.date(2026, 8, 5),
            area_ha=1.0,
            sheaves=sheaves,
            kg_per_sheaf=9 if of == sowing else 6,
        )
        writes(
            carting_record,
            stook_set=cut.stook_set,
            rick=rick,
            date=datetime.date(2026, 8, 21),
        )
    return writes(
        threshing_record,
        rick=rick,
        date=datetime.date(2026, 11, 3),
        kg=6000,
        outturn=(
            Outturn("reed", 2400, "R-1"),
            Outturn("grain", 1600, "G-1"),
            Outturn("waste", 2000),
        ),
    )


def test_a_lot_is_of_its_fields_as_the_rick_was_and_half_stands_yet(
    marl, mixed, sowing, brook
):
    shares = book_of(marl).shares
    assert shares.of_lot["R-1"] == pytest.approx({sowing.pk: 0.75, brook.pk: 0.25})
    # Half the rick went through the drum, and 2.4 of 4 t of what it gave are reed.
    for code, part in (("R-1", 0.3), ("G-1", 0.2)):
        assert shares.in_lot[code] == pytest.approx({sowing.pk: part, brook.pk: part})


def test_a_fields_costs_go_with_its_sheaves(buys, marl, mixed, sowing):
    buys("seed", "100", sowing=sowing)
    book = book_of(marl)
    assert book.by_lot(book.spent[0]) == {"R-1": 3000, "G-1": 2000, "": 5000}


def test_a_lots_own_bill_is_its_own_and_hours_at_the_drum_are_the_days(
    buys, writes, marl, mixed
):
    from sheafwright.records.models import Lot

    writes(labour_rate_set, since=datetime.date(2026, 1, 1), rate="10")
    writes(
        labour_record,
        date=datetime.date(2026, 11, 3),
        who="Ben",
        hours=8,
        job="drum",
        task="threshing",
    )
    buys("haulage", "45", lot=Lot.objects.get(code="R-1"))
    book = book_of(marl)
    found = {each.line: book.by_lot(each) for each in book.spent}
    assert found["haulage"] == {"R-1": 4500}
    assert found["work_threshing"] == {"R-1": 4800, "G-1": 3200}


LOTS = ("A", "B", "C")
SHARES = st.lists(st.floats(0, 1), min_size=3, max_size=3).map(
    lambda parts: [each / max(1.0, sum(parts)) for each in parts]
)


@given(
    pence=st.integers(0, 10**9),
    areas=st.lists(st.floats(0.01, 60), min_size=1, max_size=4),
    shares=st.lists(SHARES, min_size=4, max_size=4),
    line=st.sampled_from(["seed", "work_straw", "work_grain", "hire"]),
    kept=st.floats(0, 1),
)
def test_no_penny_is_lost_or_made_among_fields_and_lots(
    pence, areas, shares, line, kept
):
    book = MoneyBook(None, 2026, (), (), {}, 0)
    known = {
        "sown": dict(enumerate(areas)),
        "kinds": {"A": "reed", "B": "grain", "C": "tail"},
        "shares": SheafShares(
            of_lot={
                code: {n: 1 / len(areas) for n, _a in enumerate(areas)} for code in LOTS
            },
            in_lot={
                code: {n: shares[n][at] for n, _a in enumerate(areas)}
                for at, code in enumerate(LOTS)
            },
            handed={"B": {"B": kept, "C": 1 - kept}},
        ),
    }
    # In place of what the database would tell.
    vars(book).update(known)
    posted = Posted(line, pence)
    assert sum(book.by_sowing(posted).values()) == pence
    assert sum(book.by_lot(posted).values()) == pence
    own = Posted(line, pence, lots=(("A", 0.3), ("B", 0.7)))
    assert sum(book.by_lot(own).values()) == pence
    assert sum(book.by_sowing(own).values()) == pence
