import datetime
import uuid

import pytest

from sheafwright.charts.walk import Edge, walk_svg
from sheafwright.records.models import Field, Lot, Movement, Sowing
from sheafwright.records.selectors.walk import walk_back, walk_on
from sheafwright.records.services.grain import milling_record
from sheafwright.records.services.harvest import carting_record, crop_expect, cut_record
from sheafwright.records.services.stock import (
    entry_undo,
    grain_move,
    sale_record,
)

DAY = datetime.date(2026, 11, 10)


@pytest.fixture
def sold(writes, reed):
    return writes(
        sale_record, lot=reed, date=DAY, kg=1000, buyer_name="Hob the thatcher"
    )


@pytest.fixture
def crow_piece(writes, marl, ann, seed_lot, rick):
    """Another field, with its sheaves in the same rick."""
    field = Field.objects.create(
        holding=marl, made_by=ann, name="Crow Piece", area_ha=1.0
    )
    sowing = Sowing.objects.create(
        holding=marl,
        made_by=ann,
        field=field,
        seed_lot=seed_lot,
        date=datetime.date(2025, 10, 2),
        harvest_year=2026,
        area_ha=1.0,
    )
    day = datetime.date(2026, 8, 7)
    cut = writes(cut_record, sowing=sowing, date=day, area_ha=1.0, sheaves=100)
    day = datetime.date(2026, 8, 20)
    writes(carting_record, stook_set=cut.stook_set, rick=rick, date=day)
    return field


def names(walk):
    return {node.name for node in walk.nodes}


def steps(walk):
    """(from, to) by name to kilograms."""
    name = {node.id: node.name for node in walk.nodes}
    return {(name[w.start], name[w.end]): w.grams and w.grams / 1000 for w in walk.went}


def test_a_lot_is_walked_back_to_its_field_and_seed(reed):
    walk = walk_back(lot=reed)
    assert steps(walk) == {
        ("W-25, Maris Widgeon", "Long Meadow 2026"): None,
        ("Long Meadow", "Long Meadow 2026"): None,
        ("Long Meadow 2026", "Long Meadow"): 9000,
        ("Long Meadow", "Barn end"): 9000,
        ("Barn end", "3 November 2026"): 9000,
        ("3 November 2026", "R-26-1"): 4000,
    }


def test_a_field_is_walked_on_to_its_buyer(long_meadow, sold):
    walk = walk_on(field=long_meadow)
    assert steps(walk)["R-26-1", "Hob the thatcher"] == 1000
    assert {"G-26-1", "cavings and waste"} <= names(walk)


def test_who_may_not_know_who_buys_is_told_that_it_was_sold(
    client, ben, ann, long_meadow, sold
):
    walk = walk_on(field=long_meadow, with_buyers=False)
    assert steps(walk)["R-26-1", "sold"] == 1000
    for person, is_told in ((ann, True), (ben, False)):
        client.force_login(person, "django.contrib.auth.backends.ModelBackend")
        page = client.get(f"/marl-hollow/fields/{long_meadow.pk}/")
        assert ("Hob the thatcher" in page.content.decode()) is is_told


def test_a_field_that_is_not_cut_ends_at_its_sowing(sowing, long_meadow):
    assert names(walk_on(field=long_meadow)) == {
        "Long Meadow",
        "Long Meadow 2026",
        "W-25, Maris Widgeon",
    }


def test_a_rick_of_two_fields_leads_back_to_both(crow_piece, reed):
    assert {"Long Meadow", "Crow Piece"} <= names(walk_back(lot=reed))


def test_a_walk_from_one_field_does_not_turn_back_to_the_other(
    crow_piece, reed, long_meadow
):
    assert "Crow Piece" not in names(walk_on(field=long_meadow))


def test_a_guess_of_the_crop_changes_no_walk(writes, sowing, cut, reed):
    before = steps(walk_back(lot=reed))
    writes(crop_expect, sowing=sowing, date=DAY, kg=500)
    assert steps(walk_back(lot=reed)) == before


def test_what_is_above_the_guess_is_told_apart(writes, cut, rick, long_meadow):
    writes(
        carting_record,
        stook_set=cut.stook_set,
        rick=rick,
        date=datetime.date(2026, 8, 21),
        kg=9500,
    )
    assert steps(walk_on(field=long_meadow))["more than was guessed", "Barn end"] == 500


def test_what_was_undone_is_on_no_walk(writes, sold, long_meadow):
    sale = Movement.objects.get(kind="sell")
    writes(entry_undo, movement=sale, date=DAY)
    assert "Hob the thatcher" not in names(walk_on(field=long_meadow))


def test_flour_is_walked_back_through_the_mill(writes, grain):
    writes(grain_move, lot=grain, to="mill", kg=500, date=DAY)
    run = {"lot": grain, "date": DAY, "flour": "brown", "flour_code": "F-1"}
    writes(milling_record, **run, flour_kg=400)
    walk = walk_back(lot=Lot.objects.get(code="F-1"))
    assert {"Long Meadow", "W-25, Maris Widgeon", "F-1"} <= names(walk)
    assert "at the mill" in {node.kind for node in walk.nodes}


def test_a_lot_with_nothing_in_it_stands_alone(writes, threshing, reed):
    writes(entry_undo, movement=Movement.objects.last(), date=DAY)
    walk = walk_back(lot=reed)
    assert (names(walk), walk.went) == ({"R-26-1"}, ())


def test_a_walk_can_be_drawn(sold, long_meadow):
    walk = walk_on(field=long_meadow)
    edges = [Edge(w.start, w.end, f"{w.grams or 0} g") for w in walk.went]
    assert "Hob the thatcher" in walk_svg(walk.nodes, edges, title=str(uuid.uuid4()))
