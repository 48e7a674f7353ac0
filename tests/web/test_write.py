import datetime
import uuid

import pytest

from sheafwright.accounts.models import Membership, Units
from sheafwright.accounts.rights import Role
from sheafwright.records.clock import today
from sheafwright.records.models import (
    Certificate,
    Correction,
    Customer,
    Cut,
    Derogation,
    Field,
    GaugeReading,
    Lot,
    Order,
    Place,
    Rick,
    SeedLot,
)
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.made import lot_place
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


@pytest.mark.parametrize(
    ("row", "field", "says"),
    [
        ({"reed_lot": "R-1"}, "reed_weight_kg", "Say what it weighed"),
        ({"grain_moisture": "15.5"}, "grain_weight_kg", "Say what it weighed"),
        ({"grain_weight_kg": "1,500"}, "grain_lot", "Say which lot it is"),
    ],
)
def test_no_product_of_the_drum_is_waste_by_an_oversight(
    as_ben, sowing, row, field, says
):
    as_ben.post("/marl-hollow/write/cut/", _cut(sowing))
    run = {
        "id": uuid.uuid4(),
        "date": today(sowing.holding).isoformat(),
        "stook_set": Cut.objects.get().stook_set.pk,
    }
    answer = as_ben.post("/marl-hollow/write/threshing/", run | row)
    assert answer.status_code == 400
    assert says in answer.context["form"].errors[field][0]
    assert not Lot.objects.exists()


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
        "flour": "brown",
        "flour_kg": "150",
        "flour_code": "F-1",
    }
    assert as_ann.post("/marl-hollow/write/milling/", said).status_code == 302
    flour = Place.objects.get(subject=Lot.objects.get(code="F-1").pk)
    assert flour.balance.grams == 150_000


@pytest.mark.parametrize(("kind", "page"), [("reed", "straw"), ("bran", "grain")])
def test_after_a_sale_one_is_back_where_such_lots_are(as_ann, marl, ann, kind, page):
    lot, day = _held(marl, ann, kind), today(marl).isoformat()
    said = {"id": uuid.uuid4(), "date": day, "lot": lot.pk, "kg": "10"}
    said["buyer_name"] = "Combe Stores"
    answer = as_ann.post("/marl-hollow/write/sale/", said)
    assert answer.url == f"/marl-hollow/{page}/"
    said["id"] = uuid.uuid4()
    kept = as_ann.post(
        "/marl-hollow/write/sale/", said, headers={"accept": "application/json"}
    )
    assert kept.json()["next"] == f"/marl-hollow/{page}/"


def _held(marl, ann, kind):
    """A lot of 100 kg, from nowhere in particular."""
    lot = Lot.objects.create(
        holding=marl, made_by=ann, code="L-1", kind=kind, variety="Maris Widgeon",
        harvest_year=today(marl).year,
    )  # fmt: skip
    bought = place_of(holding=marl, kind="bought")
    movement_write(
        id=uuid.uuid4(), holding=marl, made_by=ann, kind="buy", date=today(marl),
        steps=(Step(bought, -100_000), Step(lot_place(lot), 100_000)),
    )  # fmt: skip
    return lot


LACKS = "Before flour is sold, this is not said to be done"


@pytest.mark.parametrize("form", ["sale", "delivery"])
def test_flour_is_sold_and_delivered_with_what_is_not_done_said_first(
    as_ann, marl, ann, form
):
    page = f"/marl-hollow/write/{form}/"
    flour = _held(marl, ann, "flour")
    assert LACKS in as_ann.get(page, {"lot": flour.pk}).text
    assert LACKS not in as_ann.get(page).text
    assert LACKS not in as_ann.get(page, {"lot": "nothing of the kind"}).text
    Lot.objects.update(kind="grain")
    assert LACKS not in as_ann.get(page, {"lot": flour.pk}).text


def test_of_an_order_for_flour_it_is_said_before_a_lot_is_chosen(as_ann, marl, ann):
    hob = Customer.objects.create(
        holding=marl, made_by=ann, name="Combe Bakery", trade="other"
    )
    order = Order(
        holding=marl, made_by=ann, customer=hob, date=today(marl),
        kind="flour", weight_kg=50, price_per_t=1500, vat_pct=0,
    )  # fmt: skip
    order.save()
    page = "/marl-hollow/write/delivery/"
    assert LACKS in as_ann.get(page, {"order": order.pk}).text
    Order.objects.update(kind="reed")
    assert LACKS not in as_ann.get(page, {"order": order.pk}).text


NOT_ORGANIC = "Flour of a miller who isn&#x27;t certified that day"


def test_a_run_of_the_mill_is_warned_of_by_whose_certificate_ended(as_ann, marl, ann):
    day, month = today(marl), datetime.timedelta(30)
    known = {"holding": marl, "made_by": ann, "body": "A body", "scope": "flour"}
    told = {"code": "XX-ORG-00", "since": day - 12 * month}
    miller = Certificate.objects.create(
        holder="Combe Mill", expires=day + month, **told, **known
    )

    def warned(**said):
        said = {"date": day.isoformat()} | said
        return NOT_ORGANIC in as_ann.get("/marl-hollow/write/milling/", said).text

    assert not warned(miller=miller.pk)
    assert warned(miller=miller.pk, date=(day + 2 * month).isoformat())
    assert warned(uncertified_miller="Dell Mill")
    assert not warned(), "nothing here is organic"
    own = Certificate.objects.create(
        holder="Marl Hollow", is_own=True, expires=day + month, **told, **known
    )
    assert not warned()
    Certificate.objects.filter(pk=own.pk).update(expires=day - month)
    assert warned()


def test_a_lot_of_flour_says_that_its_miller_is_not_told(as_ann, marl, ann):
    flour = _held(marl, ann, "flour")
    page = as_ann.get(f"/marl-hollow/lots/{flour.pk}/").text
    assert "Who milled it isn&#x27;t told, so it can&#x27;t be sold as organic." in page


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


def _form_of(as_ann, kind, **thing):
    """A form as a browser would send it back: what it shows, hidden or not."""
    ((name, id),) = thing.items()
    form = as_ann.get(f"/marl-hollow/write/{kind}/?{name}={id}").context["form"]
    said = {each.html_name: each.value() for each in form}
    said |= {
        each.html_initial_name: each.value()
        for each in form
        if each.field.show_hidden_initial
    }
    return {name: value for name, value in said.items() if value not in (None, False)}


def test_a_field_is_put_right_from_its_page(as_ann, long_meadow):
    long_meadow.area_ha = 1.23456
    long_meadow.save()
    page = as_ann.get(f"/marl-hollow/fields/{long_meadow.pk}/").content.decode()
    assert f"/write/field-correction/?field={long_meadow.pk}" in page
    said = _form_of(as_ann, "field-correction", field=long_meadow.pk)
    assert (said["name"], said["area_ha"]) == ("Long Meadow", "1.23 ha")
    said |= {"soil": "clay with flints", "why": "dug a hole"}
    answer = as_ann.post("/marl-hollow/write/field-correction/", said)
    assert answer.status_code == 302
    field = Field.objects.get()
    # What was shown rounded and left alone stays as it was.
    assert (field.soil, field.area_ha) == ("clay with flints", 1.23456)
    page = as_ann.get(f"/marl-hollow/fields/{long_meadow.pk}/").content.decode()
    assert "dug a hole" in page and "Long Meadow: soil" in page


def test_an_area_is_put_right_in_acres_and_sent_twice_once(as_ann, long_meadow):
    said = _form_of(as_ann, "field-correction", field=long_meadow.pk)
    said |= {"area_ha": "5 acres", "why": "paced out"}
    for _ in range(2):
        answer = as_ann.post("/marl-hollow/write/field-correction/", said)
        assert answer.status_code == 302
    assert Field.objects.get().area_ha == pytest.approx(2.0234, abs=1e-4)
    assert Correction.objects.count() == 1


def test_a_name_taken_away_is_refused_and_stays_in_the_form(as_ann, long_meadow):
    said = _form_of(as_ann, "field-correction", field=long_meadow.pk)
    answer = as_ann.post(
        "/marl-hollow/write/field-correction/", said | {"name": "", "why": "no name"}
    )
    assert answer.status_code == 400
    assert b"cannot be blank" in answer.content
    assert Field.objects.get().name == "Long Meadow"


def test_a_certificate_is_put_right_from_the_record_book(as_ann, marl, ann):
    certificate = Certificate.objects.create(
        holding=marl,
        made_by=ann,
        holder="Marl Hollow",
        is_own=True,
        covers_straw=True,
        body="An invented body",
        code="XX-ORG-00",
        scope="cereals",
        since=datetime.date(2026, 1, 1),
        expires=datetime.date(2026, 12, 31),
    )
    book = as_ann.get("/marl-hollow/book/").content.decode()
    assert f"/write/certificate-correction/?certificate={certificate.pk}" in book
    kind = "certificate-correction"
    said = _form_of(as_ann, kind, certificate=certificate.pk)
    said |= {"number": "0417", "expires": "2027-12-31", "why": "misread"}
    # A box that is not ticked is not sent.
    del said["covers_straw"]
    assert as_ann.post(f"/marl-hollow/write/{kind}/", said).status_code == 302
    certificate.refresh_from_db()
    assert (certificate.number, certificate.covers_straw) == ("0417", False)
    assert certificate.is_own and certificate.expires.year == 2027
    book = as_ann.get("/marl-hollow/book/").content.decode()
    assert "XX-ORG-00, 0417" in book and "misread" in book


def test_a_seed_lot_is_put_right_and_what_was_left_alone_stays(
    as_ann, seed_lot, marl, ann
):
    leave = Derogation.objects.create(
        holding=marl,
        made_by=ann,
        date=datetime.date(2025, 9, 1),
        variety="Maris Widgeon",
        reason="none on offer",
        reference="D-1",
    )
    seed_lot.derogation = leave
    seed_lot.save()
    assert (
        f"?seed_lot={seed_lot.pk}" in as_ann.get("/marl-hollow/seed/").content.decode()
    )
    said = _form_of(as_ann, "seed-lot-correction", seed_lot=seed_lot.pk)
    said |= {"supplier": "Linnet Seeds", "why": "label found"}
    address = "/marl-hollow/write/seed-lot-correction/"
    assert as_ann.post(address, said).status_code == 302
    seed_lot.refresh_from_db()
    assert (seed_lot.supplier, seed_lot.derogation) == ("Linnet Seeds", leave)
    assert set(Correction.objects.get().now) == {"supplier"}


def test_ben_may_put_no_field_right(as_ben, long_meadow):
    assert as_ben.get("/marl-hollow/write/field-correction/").status_code == 404


def test_a_form_of_no_thing_still_opens(as_ann, long_meadow):
    for id in ("", "x", uuid.uuid4()):
        address = f"/marl-hollow/write/field-correction/?field={id}"
        assert as_ann.get(address).status_code == 200


def test_a_lot_set_apart_is_cleared_from_its_page(as_ann, marl, grain):
    day = datetime.date(2026, 11, 10)
    marl.looked_at_as_of = day
    marl.save()
    said = {"lot": grain.pk, "date": day.isoformat()}
    page = f"/marl-hollow/lots/{grain.pk}/"
    assert "Clear a lot" not in as_ann.get(page).content.decode()
    apart = said | {"id": uuid.uuid4(), "why": "weevils"}
    as_ann.post("/marl-hollow/write/lot-apart/", apart)
    shown = as_ann.get(page).content.decode()
    assert "Clear a lot" in shown and "Write it off" in shown
    cleared = said | {"id": uuid.uuid4(), "why": "sieved, none left"}
    for _ in range(2):
        answer = as_ann.post("/marl-hollow/write/lot-clear/", cleared)
        assert answer.status_code == 302
    grain.refresh_from_db()
    assert not grain.set_apart
    book = as_ann.get(
        "/marl-hollow/book/?begins=2026-01-01&ends=2026-12-31"
    ).content.decode()
    assert "weevils" in book and "sieved, none left" in book


def test_before_a_sowing_it_says_which_seed_nobody_tested(as_ann, seed_lot, sowing):
    address = f"/marl-hollow/write/sowing/?seed_lot={seed_lot.pk}"
    assert "Take care" not in as_ann.get(address).text
    seed_lot.came = SeedLot.Came.OWN
    seed_lot.save()
    for page in (address, "/marl-hollow/write/sowing/"):
        assert "W-25: Nobody looked for bunt" in as_ann.get(page).text
    # A form that comes back says it again.
    refused = as_ann.post("/marl-hollow/write/sowing/", {"seed_lot": seed_lot.pk})
    assert refused.status_code == 400 and "Nobody looked for bunt" in refused.text
