import datetime

import pytest

from sheafwright.core.errors import OutOfRange
from sheafwright.records.demo import demo_make
from sheafwright.records.demo.days import live_through
from sheafwright.records.models import (
    Lot,
    Movement,
    Observation,
    Place,
    RickReading,
    Sale,
    SeedLot,
    Sowing,
)
from sheafwright.records.selectors.ground import fields_of
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.records.selectors.inspection import certificates_now
from sheafwright.records.selectors.store import ricks_now
from sheafwright.records.selectors.supply import next_harvest, supplied_next
from sheafwright.records.selectors.year import field_years

DAY = datetime.date(2025, 8, 7)


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker, tmp_path_factory):
    """One demo for all these tests, which leave it as it is."""
    from django.db import transaction
    from django.test import override_settings

    kept = tmp_path_factory.mktemp("kept")
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=kept),
        transaction.atomic(),
    ):
        yield demo_make(seasons=3, fields=6)
        transaction.set_rollback(True)


def test_stories_are_lived_through_in_the_order_of_their_days():
    said = []

    def story(name, *days):
        for day in days:
            yield DAY + datetime.timedelta(day)
            said.append((name, day))

    live_through(
        [story("rain", 1, 4), story("rooks", 0, 2, 9)],
        until=DAY + datetime.timedelta(4),
    )
    assert said == [("rooks", 0), ("rain", 1), ("rooks", 2), ("rain", 4)]


def test_each_person_has_a_role_and_the_same_password(demo):
    roles = [person.memberships.get().role for person in demo.people]
    assert sorted(roles) == ["adviser", "buyer", "hand", "inspector", "owner"]
    assert all(person.check_password(demo.password) for person in demo.people)


def test_two_fields_ask_what_the_outlook_tells(demo):
    kiln = Sowing.objects.get(field__name="Kiln Ground", harvest_year=2025)
    assert (kiln.date, kiln.variety_class) == (
        datetime.date(2024, 10, 10),
        "end-january",
    )
    seen = {o.stage: o.date for o in kiln.observations.all()}
    assert seen["flowering"] == datetime.date(2025, 6, 19)
    assert not kiln.cuts.exists()


def test_it_stands_in_mid_season(demo):
    standing = stooks_in_hand(holding=demo.holding)
    assert {s.cut.sowing.field.name for s in standing} == {"Hanger Piece"}
    (rick,) = ricks_now(holding=demo.holding)
    warmth = [r.temperature_c for r in rick.rick.readings.all()]
    assert warmth == sorted(warmth)
    assert warmth[-1] == 51.0


def test_its_crops_were_counted_and_some_of_them_lay(demo):
    sown = Sowing.objects.filter(harvest_year__gte=2023)
    assert sown.exclude(plant_counts=None).count() == sown.count() > 6
    lay = Observation.objects.filter(lodged_pct__gt=0, sowing__harvest_year__lt=2025)
    assert lay.exists()


def test_its_ground_is_known_and_one_field_of_it_is_too_rich(demo):
    rain = {"rain_mm_per_year": 797}
    known = [
        supplied_next(field, next_harvest(field), rain)
        for field in fields_of(holding=demo.holding)
    ]
    assert [each.answer.beside_sound for each in known].count("rich") == 1
    assert not any(each.lacks for each in known)


def test_nothing_in_it_is_still_to_come(demo):
    assert Movement.objects.latest("date").date <= DAY
    assert RickReading.objects.latest("at").at.date() <= DAY


def test_its_harvests_went_from_field_to_buyer(demo):
    gone = Sowing.objects.filter(harvest_year=2023)
    for steps in field_years(gone).values():
        assert {step.name for step in steps if not step.known} <= {"sold"}
    assert Sale.objects.filter(buyer__name="Orla Quince").exists()
    assert SeedLot.objects.filter(grown_as__isnull=False).exists()
    assert Lot.objects.filter(kind=Lot.Kind.FLOUR).exists()


def test_what_smelt_at_the_drum_is_set_apart_and_unsold(demo):
    apart = Lot.objects.filter(set_apart=True)
    assert {lot.kind for lot in apart} >= {Lot.Kind.GRAIN, Lot.Kind.TAIL}
    assert not Sale.objects.filter(lot__in=apart).exists()


def test_a_loss_that_nobody_can_explain_has_its_own_place(demo):
    lost = Place.objects.get(holding=demo.holding, kind=Place.Kind.UNEXPLAINED)
    assert lost.balance.grams > 0


def test_its_certificates_hold_today(demo):
    own, *_ = certificates_now(holding=demo.holding)
    assert (own.has_ended, own.leaves_straw_out) == (False, False)


def test_made_again_it_is_left_as_it_is(demo):
    before = Movement.objects.count()
    again = demo_make(seasons=3, fields=6)
    assert again.holding == demo.holding
    assert again.password != demo.password
    assert set(again.people) == set(demo.people)
    assert Movement.objects.count() == before


@pytest.mark.parametrize("asked", [{"seasons": 21}, {"fields": 1}])
def test_more_than_can_be_made_up_is_refused(db, asked):
    with pytest.raises(OutOfRange, match="cannot be made up"):
        demo_make(**asked)
