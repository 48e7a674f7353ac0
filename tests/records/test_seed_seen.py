"""What is known of seed before it is sown, and what the pages say of it."""

import datetime

import pytest

from sheafwright.records import seed_wording
from sheafwright.records.models import SeedLot
from sheafwright.records.selectors.seed import (
    lots_to_sow,
    seed_cautions,
    seed_lots,
    sown_ahead,
)
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.seed import (
    germination_test_add,
    seed_health_test_add,
    seed_lot_add,
)
from sheafwright.records.services.threshing import Outturn, threshing_record

DAY = datetime.date(2026, 11, 10)


@pytest.fixture
def own_seed(marl, writes, grain):
    """Seed kept from Long Meadow's grain, of which nothing is known yet."""
    marl.looked_at_as_of = DAY
    marl.save()
    return writes(
        seed_lot_add,
        name="W-27",
        variety="Maris Widgeon",
        came=SeedLot.Came.OWN,
        grown_as=grain,
        standing="organic",
    )


@pytest.fixture
def smelly(writes, sowing, rick):
    """The same rick threshed, when the drum smelt of fish."""
    cut = writes(
        cut_record,
        sowing=sowing,
        date=datetime.date(2026, 8, 6),
        area_ha=0.5,
        sheaves=500,
        kg_per_sheaf=9,
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
        date=datetime.date(2026, 11, 4),
        outturn=(Outturn("grain", 1000, "G-26-2"),),
        smelt_of_fish=True,
    )


def _seen(marl, name):
    return next(s for s in seed_lots(holding=marl) if s.lot.name == name)


def _headline(marl):
    lots, sown = seed_lots(holding=marl), sown_ahead(holding=marl)
    return seed_wording.headline(lots, sown, "2.00 ha")


def _beneath(marl):
    lots, sown = seed_lots(holding=marl), sown_ahead(holding=marl)
    return seed_wording.beneath(lots, sown, "2.00 ha")


def _found(writes, seed_lot, found, *sicknesses):
    for sickness in sicknesses:
        writes(
            seed_health_test_add,
            seed_lot=seed_lot,
            date=DAY,
            sickness=sickness,
            found=found,
        )


def test_seed_saved_here_is_to_be_tested_before_it_is_sown(marl, writes, own_seed):
    assert _headline(marl).startswith("Test W-27 for bunt")
    assert _beneath(marl).startswith("Nothing is sown yet")
    (says,) = seed_cautions(holding=marl)
    assert "Nobody looked for bunt, loose smut and ergot yet" in says
    _found(writes, own_seed, "none", "bunt", "smut", "ergot")
    assert seed_cautions(holding=marl) == []
    assert _headline(marl).startswith("Count what comes up of W-27")
    counted = {"seed_lot": own_seed, "date": DAY}
    writes(germination_test_add, came_up=[90, 91], **counted)
    assert _headline(marl).startswith("Nothing is sown yet for the harvest of 2027")
    assert _beneath(marl) == "Tested and to be sown: W-27."


def test_sick_seed_is_not_to_be_sown(marl, writes, own_seed):
    _found(writes, own_seed, "found", "bunt")
    assert _headline(marl) == "Sow none of W-27: a test found disease."
    said = seed_cautions(holding=marl, seed_lot=str(own_seed.pk))
    assert said[0] == "Don't sow W-27."


def test_of_one_lot_no_others_cautions_are_told(marl, own_seed, seed_lot):
    assert seed_cautions(holding=marl, seed_lot=str(seed_lot.pk)) == []


def test_seed_from_a_drum_that_smelt_of_fish_waits_for_a_test(
    marl, writes, own_seed, smelly
):
    fishy = SeedLot.objects.get(pk=own_seed.pk)
    assert not _seen(marl, "W-27").smelt
    fishy.grown_as = fishy.grown_as.__class__.objects.get(code="G-26-2")
    fishy.save()
    assert _seen(marl, "W-27").smelt
    assert "the drum smelt of fish" in _headline(marl)
    _found(writes, own_seed, "none", "bunt")
    assert not _seen(marl, "W-27").smelt


def test_what_was_sown_and_cut_is_sown_no_more(marl, own_seed, seed_lot, sowing):
    assert set(lots_to_sow(holding=marl)) == {own_seed, seed_lot}
    marl.looked_at_as_of = datetime.date(2027, 1, 2)
    marl.save()
    assert set(lots_to_sow(holding=marl)) == {own_seed}


def test_many_lots_are_not_all_named(marl, writes, own_seed):
    for n in range(5):
        writes(
            seed_lot_add,
            name=f"W-27-{n}",
            variety="Red",
            came=SeedLot.Came.OWN,
            standing="organic",
        )
    assert "W-27, W-27-0, W-27-1 and 3 other lots" in _headline(marl)


@pytest.mark.parametrize(
    ("day", "year"), [((2026, 7, 31), 2026), ((2026, 8, 1), 2027), ((2027, 3, 1), 2027)]
)
def test_the_harvest_ahead_turns_with_august(day, year, marl):
    marl.looked_at_as_of = datetime.date(*day)
    marl.save()
    assert sown_ahead(holding=marl).harvest_year == year


def test_what_is_sown_for_it_is_summed(marl, sowing):
    marl.looked_at_as_of = datetime.date(2026, 3, 1)
    marl.save()
    sown = sown_ahead(holding=marl)
    assert (sown.fields, sown.area_ha, sown.last) == (1, 2.0, sowing.date)
    assert "1 field is sown for the harvest of 2026" in seed_wording.sown_so_far(
        sown, "2.00 ha"
    )


@pytest.mark.parametrize("n", [1, 12])
def test_as_many_questions_for_many_lots_as_for_one(
    n, marl, writes, own_seed, django_assert_num_queries
):
    for each in range(n - 1):
        writes(
            seed_lot_add,
            name=f"S-{each}",
            variety="Red",
            came=SeedLot.Came.OWN,
            grown_as=own_seed.grown_as,
            standing="organic",
        )
    with django_assert_num_queries(4):
        assert len(seed_lots(holding=marl)) == n + 1
