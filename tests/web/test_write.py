import datetime
import uuid

import pytest

from sheafwright.accounts.models import Membership, Units
from sheafwright.accounts.rights import Role
from sheafwright.records.clock import today
from sheafwright.records.models import (
    Certificate,
    Cut,
    Field,
    GaugeReading,
    Lot,
    Place,
    Rick,
)
from sheafwright.web.forms.kinds import KINDS


@pytest.fixture
def as_ann(client, ann):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def as_ben(client, ben):
    client.force_login(ben, "django.contrib.auth.backends.ModelBackend")
    return client


def _cut(sowing, **said):
    return {
        "id": uuid.uuid4(),
        "sowing": sowing.pk,
        "date": today(sowing.holding).isoformat(),
        "area_ha": "1",
        "sheaves": "700",
    } | said


@pytest.mark.parametrize("kind", KINDS)
def test_the_owner_opens_every_form(kind, as_ann):
    assert as_ann.get(f"/marl-hollow/write/{kind}/").status_code == 200


def test_a_kind_that_there_is_not_is_not_found(as_ann):
    assert as_ann.get("/marl-hollow/write/tractor/").status_code == 404


def test_ben_records_a_cut_on_anns_field(as_ben, sowing):
    answer = as_ben.post("/marl-hollow/write/cut/", _cut(sowing))
    assert answer.status_code == 302
    assert Cut.objects.get().sheaves == 700


def test_a_cut_sent_twice_is_written_once(as_ben, sowing):
    said = _cut(sowing)
    for _ in range(2):
        assert as_ben.post("/marl-hollow/write/cut/", said).status_code == 302
    assert Cut.objects.count() == 1


def test_ben_may_not_add_a_certificate(as_ben):
    assert as_ben.get("/marl-hollow/write/certificate/").status_code == 404
    assert as_ben.post("/marl-hollow/write/certificate/", {}).status_code == 404
    assert not Certificate.objects.exists()


def test_an_area_may_be_typed_in_acres(as_ann, ann):
    said = {"id": uuid.uuid4(), "name": "Hanger", "area_ha": "2.5 acres"}
    as_ann.post("/marl-hollow/write/field/", said)
    assert Field.objects.get(name="Hanger").area_ha == pytest.approx(1.0117, abs=1e-4)


def test_a_bare_number_is_in_the_readers_own_units(as_ann, ann):
    ann.units = Units.IMPERIAL
    ann.save()
    said = {"id": uuid.uuid4(), "name": "Hanger", "area_ha": "2.5"}
    as_ann.post("/marl-hollow/write/field/", said)
    assert Field.objects.get(name="Hanger").area_ha == pytest.approx(1.0117, abs=1e-4)


def test_what_was_typed_stays_when_it_is_refused(as_ann):
    said = {"id": uuid.uuid4(), "name": "Hanger", "area_ha": "2.5 furlongs"}
    answer = as_ann.post("/marl-hollow/write/field/", said)
    assert answer.status_code == 400
    assert b'value="2.5 furlongs"' in answer.content
    assert b"furlongs" in answer.content and not Field.objects.exists()


def test_a_phone_is_told_in_a_sentence_what_is_wrong(as_ben, sowing):
    said = _cut(sowing, date="2199-01-01")
    answer = as_ben.post(
        "/marl-hollow/write/cut/", said, headers={"accept": "application/json"}
    )
    assert answer.status_code == 400
    assert answer.json()["says"].endswith(".")


def test_a_cut_begins_with_today_and_with_what_the_address_names(as_ben, sowing):
    answer = as_ben.get(f"/marl-hollow/write/cut/?sowing={sowing.pk}")
    form = answer.context["form"]
    assert form["sowing"].value() == str(sowing.pk)
    assert form["date"].value() == today(sowing.holding)


def test_anothers_sowing_is_no_choice(as_ben, sowing, other_holding):
    sowing.holding = other_holding
    sowing.save()
    answer = as_ben.post("/marl-hollow/write/cut/", _cut(sowing))
    assert answer.status_code == 400
    assert not Cut.objects.exists()


def test_a_gauge_takes_its_reading_in_inches(as_ben):
    said = {
        "id": uuid.uuid4(),
        "date": datetime.date(2025, 6, 1).isoformat(),
        "rain_mm": "0.5 in",
    }
    as_ben.post("/marl-hollow/write/gauge/", said)
    assert GaugeReading.objects.get().rain_mm == pytest.approx(12.7)


def test_the_drum_is_written_with_its_lots(as_ben, sowing):
    said = _cut(sowing)
    as_ben.post("/marl-hollow/write/cut/", said)
    run = {
        "id": uuid.uuid4(),
        "date": today(sowing.holding).isoformat(),
        "stook_set": Cut.objects.get().stook_set.pk,
        "combed": "on",
        "reed_weight_kg": "2 t",
        "reed_lot": "R-1",
        "grain_weight_kg": "1,500",
        "grain_lot": "G-1",
        "grain_moisture": "15.5",
    }
    answer = as_ben.post("/marl-hollow/write/threshing/", run)
    assert answer.status_code == 302
    lots = dict(
        Place.objects.filter(kind="lot").values_list("subject", "balance__grams")
    )
    assert lots == {
        Lot.objects.get(code="R-1").pk: 2_000_000,
        Lot.objects.get(code="G-1").pk: 1_500_000,
    }


def test_a_place_is_offered_by_the_name_of_what_is_there(as_ben, sowing):
    as_ben.post("/marl-hollow/write/cut/", _cut(sowing))
    page = as_ben.get("/marl-hollow/write/loss/").content.decode()
    assert "stooks of Long Meadow" in page and "t)" in page


def test_only_this_holdings_buyers_are_offered_with_a_sale(as_ann, marl, cleo):
    Membership.objects.create(person=cleo, holding=marl, role=Role.BUYER)
    buyers = as_ann.get("/marl-hollow/write/sale/").context["form"].fields["buyer"]
    assert list(buyers.queryset) == [cleo]


def test_grain_goes_to_the_mill_and_comes_back_as_flour(as_ann, marl, ann, sowing):
    as_ann.post("/marl-hollow/write/cut/", _cut(sowing))
    day = today(marl).isoformat()
    run = {
        "id": uuid.uuid4(),
        "date": day,
        "stook_set": Cut.objects.get().stook_set.pk,
        "grain_weight_kg": "500",
        "grain_lot": "G-1",
    }
    as_ann.post("/marl-hollow/write/threshing/", run)
    grain = Lot.objects.get(code="G-1")
    said = {"id": uuid.uuid4(), "date": day, "lot": grain.pk, "to": "mill", "kg": "200"}
    assert as_ann.post("/marl-hollow/write/grain-move/", said).status_code == 302
    said = {
        "id": uuid.uuid4(),
        "date": day,
        "lot": grain.pk,
        "code": "F-1",
        "kg": "150",
    }
    assert as_ann.post("/marl-hollow/write/flour/", said).status_code == 302
    flour = Place.objects.get(subject=Lot.objects.get(code="F-1").pk)
    assert flour.balance.grams == 150_000


def test_a_rick_with_nothing_in_it_is_written_off(as_ben, marl, ben):
    rick = Rick.objects.create(
        holding=marl, made_by=ben, name="Barn rick", built=today(marl), cover="roof"
    )
    said = {"id": uuid.uuid4(), "rick": rick.pk, "emptied": today(marl).isoformat()}
    assert as_ben.post("/marl-hollow/write/rick-empty/", said).status_code == 302
    rick.refresh_from_db()
    assert rick.emptied == today(marl)


def test_what_a_crop_should_weigh_is_written_before_it_is_cut(as_ann, sowing):
    said = {
        "id": uuid.uuid4(),
        "sowing": sowing.pk,
        "date": today(sowing.holding).isoformat(),
        "kg": "12 t",
    }
    assert as_ann.post("/marl-hollow/write/expect/", said).status_code == 302
    assert Place.objects.get(kind="standing").balance.grams == 12_000_000
