import datetime
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.core.errors import OutOfRange
from sheafwright.records.errors import (
    NothingChanges,
    NotOurs,
    SaidOtherwise,
    TooLittleThere,
)
from sheafwright.records.models import Cut, Movement
from sheafwright.records.services.harvest import (
    carting_record,
    crop_expect,
    cut_record,
)

JULY, AUGUST = datetime.date(2026, 7, 20), datetime.date(2026, 8, 5)
LATER = datetime.date(2026, 8, 21)


@pytest.fixture
def expect(writes, sowing):
    def write(kg, **said):
        return writes(crop_expect, sowing=sowing, date=JULY, kg=kg, **said)

    return write


@pytest.fixture
def cuts(writes, sowing):
    def write(**said):
        return writes(cut_record, **{"sowing": sowing, "date": AUGUST} | said)

    return write


@pytest.fixture
def carts(writes, cut, rick):
    def write(**said):
        thither = {"stook_set": cut.stook_set, "rick": rick, "date": LATER}
        return writes(carting_record, **thither | said)

    return write


def test_what_is_expected_stands(expect, sowing, kg_in):
    expect(16_000)
    assert (kg_in("standing", sowing), kg_in("grown")) == (16_000, -16_000)


def test_a_second_guess_takes_the_place_of_the_first(expect, sowing, kg_in):
    expect(16_000)
    expect(14_500)
    assert kg_in("standing", sowing) == 14_500


def test_a_guess_sent_twice_is_one(expect, sowing, kg_in):
    id = uuid.uuid4()
    assert expect(16_000, id=id) == expect(16_000, id=id)
    with pytest.raises(SaidOtherwise):
        expect(15_000, id=id)
    assert kg_in("standing", sowing) == 16_000


def test_a_guess_that_changes_nothing_says_so(expect):
    expect(16_000)
    with pytest.raises(NothingChanges, match=r"holds 16,000\.0 kg in the book already"):
        expect(16_000)


@pytest.mark.parametrize(
    ("counted", "kg"),
    [
        ({"sheaves": 100, "kg_per_sheaf": 8}, 800),
        ({"sheaves": 100}, 900),
        ({"stooks": 10, "sheaves_each": 6, "kg_per_sheaf": 10}, 600),
        ({"stooks": 10}, 720),
        ({}, 8_000),
    ],
)
def test_a_cut_weighs_what_was_counted_of_it(cuts, kg_in, counted, kg):
    cut = cuts(area_ha=1.0, **counted)
    assert kg_in("stooks", cut.stook_set) == kg


def test_a_cut_is_taken_from_what_stands(expect, cut, sowing, kg_in, cuts):
    expect(16_000)
    cuts(area_ha=0.5)
    assert kg_in("standing", sowing) == 12_000


def test_stooks_above_the_guess_are_taken_with_their_own_line(expect, cuts, kg_in):
    expect(1_000)
    cut = cuts(area_ha=1.0, sheaves=1000, kg_per_sheaf=9)
    assert kg_in("stooks", cut.stook_set) == 9_000
    assert kg_in("grown") == -9_000


def test_the_last_block_takes_the_rest_of_the_guess(expect, cuts, sowing, kg_in):
    expect(20_000)
    cuts(area_ha=1.25)
    assert kg_in("standing", sowing) == 10_000
    cuts(area_ha=0.75)
    assert (kg_in("standing", sowing), kg_in("grown")) == (0, -16_000)


def test_a_cut_sent_twice_is_one_cut(cuts, kg_in):
    id = uuid.uuid4()
    first, again = (cuts(id=id, area_ha=1.0, sheaves=10) for _ in "ab")
    assert (first, Cut.objects.count()) == (again, 1)
    assert kg_in("stooks", first.stook_set) == 90


@pytest.mark.parametrize("said", [{"sheaves": 11}, {"kg_per_sheaf": 8}])
def test_a_cut_sent_again_that_says_otherwise_is_refused(cuts, said):
    id, block = uuid.uuid4(), {"area_ha": 1.0, "sheaves": 10}
    cuts(id=id, **block)
    with pytest.raises(SaidOtherwise):
        cuts(id=id, **block | said)


def test_no_crop_is_cut_before_it_is_sown(cuts):
    with pytest.raises(ValidationError, match="it was sown"):
        cuts(area_ha=1.0, date=datetime.date(2025, 8, 5))


def test_cleo_cannot_cut_anns_field(other_holding, cleo, sowing):
    with pytest.raises(NotOurs, match="no such sowing"):
        cut_record(
            id=uuid.uuid4(),
            holding=other_holding,
            made_by=cleo,
            sowing=sowing,
            date=AUGUST,
            area_ha=1.0,
        )


@pytest.mark.parametrize("kg", [0, -5, float("nan"), float("inf"), 1e12, "much"])
def test_what_is_no_weight_is_refused_in_words(carts, kg):
    with pytest.raises(OutOfRange, match="no weight to write down"):
        carts(kg=kg)


def test_a_moisture_that_cannot_be_is_refused(carts):
    with pytest.raises(OutOfRange, match="moisture of 101"):
        carts(moisture_pct=101)


def test_all_that_is_left_is_carted_if_not_said(carts, cut, rick, kg_in):
    carts(kg=2_000, moisture_pct=15.55)
    carts()
    assert kg_in("stooks", cut.stook_set) == 0
    assert kg_in("rick", rick) == 9_000


def test_a_load_above_the_guess_is_carted_with_its_own_line(carts, cut, rick, kg_in):
    carts(kg=9_500)
    assert kg_in("stooks", cut.stook_set) == 0
    assert (kg_in("rick", rick), kg_in("grown")) == (9_500, -9_500)


def test_nothing_is_carted_from_empty_stooks_without_a_weight(carts):
    carts()
    with pytest.raises(TooLittleThere, match="say how many kilograms"):
        carts()


@pytest.mark.parametrize("kg", [None, 2_000])
def test_a_load_sent_twice_is_carted_once(carts, rick, kg_in, kg):
    id = uuid.uuid4()
    assert carts(id=id, kg=kg) == carts(id=id, kg=kg)
    assert Movement.objects.filter(kind="cart").count() == 1


def test_a_load_sent_again_with_another_weight_is_refused(carts):
    id = uuid.uuid4()
    carts(id=id, kg=2_000)
    with pytest.raises(SaidOtherwise):
        carts(id=id, kg=2_001)
