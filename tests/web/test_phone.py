"""What a phone asks for, and the page that it takes to the field."""

import json
import re

import pytest
from django.urls import get_resolver

from sheafwright.accounts.rights import Role
from sheafwright.accounts.services import NOT_A_SLUG
from sheafwright.records.models import Lot, Place, ToSettle
from sheafwright.records.services.harvest import cut_record
from web.one_of_each import DAY, OneOfEach


@pytest.fixture
def stooks(marl, ann, sowing):
    """Stooks on Long Meadow."""
    marl.looked_at_as_of = DAY
    marl.save()
    said = {"sowing": sowing, "date": DAY, "area_ha": 0.5, "sheaves": 100}
    return cut_record(id=sowing.pk, holding=marl, made_by=ann, **said).stook_set


def place_of_worker(client):
    script = client.get("/sw.js").content.decode()
    return json.loads(re.match(r"const PLACE = (.*);", script)[1])


def test_everything_a_phone_keeps_is_there(client, db):
    for address in place_of_worker(client)["shell"]:
        if not address.startswith("/static/"):
            assert client.get(address).status_code == 200


def test_the_worker_may_answer_for_every_page(client, db):
    answer = client.get("/sw.js")
    assert answer["Content-Type"] == "text/javascript"
    assert "no-store" in answer["Cache-Control"]


def test_the_manifest_names_icons_of_the_sizes_phones_want(client, db):
    about = client.get("/manifest.webmanifest").json()
    assert {icon["sizes"] for icon in about["icons"]} == {"192x192", "512x512"}


def test_a_kept_page_belongs_to_nobody(client, db):
    assert b"data-person" not in client.get("/offline/").content


def test_a_phone_learns_who_is_signed_in(client, ben):
    assert client.get("/csrf/").json()["person"] is None
    client.force_login(ben)
    assert client.get("/csrf/").json()["person"] == str(ben.pk)


def test_ben_finds_all_that_is_done_in_the_field_on_harvest_day(
    client, ben, stooks, rick
):
    client.force_login(ben)
    page = client.get("/marl-hollow/harvest-day/").content.decode()
    forms = re.findall(r'action="/marl-hollow/write/([a-z-]+)/"', page)
    assert forms == [
        *("cut", "sheaf-count", "meter", "carting", "rick-reading", "observation"),
    ]


def test_where_nothing_is_cut_harvest_day_says_so(client, ben):
    client.force_login(ben)
    page = client.get("/marl-hollow/harvest-day/").content.decode()
    assert "No stooks stand yet" in page
    assert "Nothing is sown for this harvest" in page
    assert "No rick stands" in page


def test_a_late_count_puts_the_stooks_right(client, ben, stooks):
    client.force_login(ben)
    said = {
        "id": "5f0c1d1e-4a51-4c39-8d9a-6f1e1c0f2b11",
        "stook_set": stooks.pk,
        "date": DAY,
        "sheaves": 150,
        "kg_per_sheaf": "4",
    }
    for _ in range(2):
        answer = client.post(
            "/marl-hollow/write/sheaf-count/",
            said,
            headers={"accept": "application/json"},
        )
        assert answer.json()["written"] == said["id"]
    assert place_in_stooks(stooks).balance.grams == 600_000


def place_in_stooks(stooks):
    return Place.objects.get(kind=Place.Kind.STOOKS, subject=stooks.pk)


def test_ben_changes_to_acres_and_stays_where_he_was(client, ben):
    client.force_login(ben)
    said = {"units": "imperial", "next": "/marl-hollow/ricks/"}
    assert client.post("/units/", said)["Location"] == said["next"]
    ben.refresh_from_db()
    assert ben.units == "imperial"


def test_the_way_back_leads_nowhere_else(client, ben):
    client.force_login(ben)
    said = {"units": "imperial", "next": "https://example.net/"}
    assert client.post("/units/", said)["Location"] == "/"


def test_no_holding_can_take_the_address_of_a_page():
    firsts = {
        str(each.pattern).split("/")[0] for each in pages(get_resolver().url_patterns)
    }
    assert {first for first in firsts if re.fullmatch("[a-z-]+", first)} <= NOT_A_SLUG


def pages(patterns):
    for each in patterns:
        below = getattr(each, "url_patterns", None)
        yield from pages(below) if below and not str(each.pattern) else [each]


@pytest.fixture
def too_much(client, marl):
    """The owner sells more than there is: ``too_much(headers)`` answers."""
    marl.looked_at_as_of = DAY
    marl.save()
    there = OneOfEach(marl, "here")
    client.force_login(there.people[Role.OWNER])
    said = {
        "id": "0b6a9c5e-3f0e-4a07-9d44-0f8f7c1f9e52",
        "lot": there.of(Lot).pk,
        "date": DAY,
        "buyer_name": "A thatcher",
        "kg": "50",
    }
    headers = {"accept": "application/json"}
    return lambda **late: client.post(
        "/marl-hollow/write/sale/", said, headers=headers | late
    )


def test_what_does_not_fit_is_refused_while_it_can_be_put_right(too_much, marl):
    answer = too_much()
    assert answer.status_code == 400
    assert "50.0 kg" in answer.json()["says"]


def test_what_does_not_fit_and_comes_late_is_kept_to_settle(too_much, marl):
    waiting = ToSettle.objects.filter(holding=marl, what="sale")
    for _ in range(2):
        answer = too_much(**{"x-kept": "late"})
        assert answer.status_code == 200
        assert "50.0 kg" in answer.json()["says"]
    assert waiting.get().said["weight"] == "50.0"


def test_what_is_typed_to_settle_it_is_kept_until_it_says_how(client, too_much, marl):
    too_much(**{"x-kept": "late"})
    waits = ToSettle.objects.get(holding=marl, what="sale")
    refused = client.post("/marl-hollow/book/settle/", {"id": waits.pk, "how": " "})
    assert refused.status_code == 400
    assert "This field is required" in refused.content.decode()
    said = {"id": waits.pk, "how": "Five kilograms, not fifty."}
    assert client.post("/marl-hollow/book/settle/", said).status_code == 302
    again = client.post("/marl-hollow/book/settle/", said | {"how": "Nothing."})
    assert again.status_code == 400
    assert "settled already: Five kilograms" in again.content.decode()


def test_ben_is_shown_no_job_that_is_not_his_to_do(client, too_much, ben, marl):
    too_much(**{"x-kept": "late"})
    assert "book/settle/" in client.get("/marl-hollow/today/").content.decode()
    client.force_login(ben)
    assert "book/settle/" not in client.get("/marl-hollow/today/").content.decode()


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("flour", "no longer taken: write it as “A run of the mill” instead."),
        ("never-was", "This kind of entry is no longer taken."),
    ],
)
def test_a_phone_is_told_that_a_kind_of_entry_is_no_longer_taken(
    client, ben, marl, kind, says
):
    client.force_login(ben)
    address = f"/marl-hollow/write/{kind}/"
    answer = client.post(address, {}, headers={"accept": "application/json"})
    assert answer.status_code == 404
    assert says in answer.json()["says"]
    assert answer.json()["ended"]
    assert client.post(address, {}).status_code == 404
