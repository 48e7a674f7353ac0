"""A hot rick is told of on every page; its own page says what to do, whom to ring."""

import datetime
import html
import re
import uuid

import pytest
from django.test import Client

from sheafwright.accounts.models import Membership, Person
from sheafwright.accounts.rights import RIGHTS, Right, Role
from sheafwright.records.services.store import (
    call_list_write,
    rick_correct,
    rick_reading_record,
)
from sheafwright.web.context import pages_for

DAY = datetime.date(2026, 8, 25)
READ_AT = datetime.datetime(2026, 8, 24, 7, tzinfo=datetime.UTC)
WRITE = "/marl-hollow/write/threshing/"


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = DAY
    marl.save()


@pytest.fixture
def hot(writes, ricked):
    writes(call_list_write, who="Fire service 999\nAnn 01632 960 001")
    writes(rick_reading_record, rick=ricked, at=READ_AT, temperature_c=62)
    return ricked


def someone(marl, role):
    """A signed-in client of a role, and the membership."""
    person = Person.objects.create(email=f"{role}@example.org", name=role)
    said = {"person": person, "holding": marl, "role": role}
    client = Client()
    client.force_login(person, "django.contrib.auth.backends.ModelBackend")
    return client, Membership.objects.create(**said)


@pytest.mark.parametrize("role", Role.values)
def test_every_page_of_every_role_bears_the_alarm(role, marl, hot):
    client, membership = someone(marl, role)
    pages = pages_for(membership)
    assert pages
    for _title, address in pages:
        said = client.get(address).content.decode()
        assert 'role="alert"' in said, address
        assert "ring the fire service before anyone opens it" in said


@pytest.mark.parametrize("role", Role.values)
def test_numbers_and_the_way_there_are_for_whom_the_page_is(role, marl, hot):
    client, membership = someone(marl, role)
    alarm = _alarm(client.get(pages_for(membership)[0][1]))
    may_open = Right.SEE_WORK in RIGHTS[Role(role)]
    assert ('href="tel:01632960001"' in alarm) == may_open
    assert ('href="/marl-hollow/ricks/"' in alarm) == may_open
    assert ("Enter a reading" in alarm) == (Right.DO_WORK in RIGHTS[Role(role)])


def _alarm(answer):
    page = answer.content.decode()
    return page[page.index('role="alert"') : page.index("<h1>")]


def test_where_none_is_hot_there_is_no_alarm(marl, ricked):
    client, membership = someone(marl, "owner")
    for _title, address in pages_for(membership):
        assert 'role="alert"' not in client.get(address).content.decode()


def test_a_ricks_page_says_whom_to_ring_when_to_probe_and_what_room_is_left(
    marl, writes, hot
):
    bay = {"shape": "bay", "length_m": 10.0, "width_m": 6.0, "eaves_m": 4.0}
    writes(rick_correct, rick=hot, why="measured", to_road_m=5.0, **bay)
    client, _membership = someone(marl, "hand")
    said = client.get("/marl-hollow/ricks/").content.decode()
    assert "Ring, in this order: Fire service 999; Ann 01632 960 001." in said
    assert (
        "Room is left for 1,160 to 2,120 sheaves, 10.4\u00a0t to 19.1\u00a0t." in said
    )
    assert "It stands 5 m from the nearest road or path" in said
    assert "measured" in said


def test_whoever_threshes_a_hot_rick_is_told_before_and_asked(marl, hot):
    client, _membership = someone(marl, "hand")
    form = client.get(f"{WRITE}?rick={hot.pk}").content.decode()
    assert 'name="fire_service"' in form
    assert form.count("ring the fire service before anyone opens it") >= 2


def test_of_a_cool_rick_nobody_is_asked(marl, ricked):
    client, _membership = someone(marl, "hand")
    form = client.get(f"{WRITE}?rick={ricked.pk}").content.decode()
    assert 'name="fire_service"' not in form


def test_what_was_done_to_a_hot_rick_is_still_written_once_it_is_said(marl, hot):
    client, _membership = someone(marl, "hand")
    said = {"id": uuid.uuid4(), "rick": hot.pk, "date": DAY, "combed": "on"}
    refused = client.post(WRITE, said)
    assert refused.status_code == 400
    assert "Then say here whether they were asked" in refused.content.decode()
    written = client.post(WRITE, said | {"fire_service": "not_asked"})
    assert written.status_code == 302


def test_carting_to_a_hot_rick_is_warned_of(marl, hot):
    client, _membership = someone(marl, "hand")
    form = client.get(f"/marl-hollow/write/carting/?rick={hot.pk}").content.decode()
    assert form.count("ring the fire service before anyone opens it") >= 2


def test_a_wrong_line_of_the_call_list_comes_back_with_what_is_right(marl, rick):
    client, _membership = someone(marl, "hand")
    said = {"id": uuid.uuid4(), "who": "Ann"}
    answer = client.post("/marl-hollow/write/call-list/", said)
    assert answer.status_code == 400
    assert "should be a name and a telephone number" in answer.content.decode()


def test_a_new_call_list_begins_with_the_old(marl, hot):
    client, _membership = someone(marl, "hand")
    page = client.get("/marl-hollow/ricks/").content.decode()
    (address,) = re.findall(r'"(/marl-hollow/write/call-list/[^"]*)"', page)
    form = client.get(html.unescape(address)).context["form"]
    assert form["who"].value() == "Fire service 999\nAnn 01632 960 001"


def test_the_facts_of_a_rick_begin_as_they_are(marl, writes, ricked):
    writes(rick_correct, rick=ricked, to_road_m=30.0, why="paced")
    client, _membership = someone(marl, "hand")
    page = client.get(f"/marl-hollow/write/rick-correction/?rick={ricked.pk}")
    assert page.context["form"]["to_road_m"].value() == "30.0 m"
    assert page.context["form"]["to_rick_m"].value() is None
