import inspect
import pkgutil
import uuid

import pytest
from django.test import Client

from sheafwright.accounts.services import token_make
from sheafwright.records.models import Cut, Field, Lot, Movement, Place
from sheafwright.web.api.kinds import API_KINDS, MORE
from sheafwright.web.forms.kinds import KINDS

FILES = {"photo", "outline_file", "record", "columns", "forecast"}
"""What a program cannot send as JSON."""


@pytest.fixture
def anns_program(ann):
    return _program(ann)


def _program(person):
    _token, key = token_make(person=person, label="a program")
    return Client(headers={"Authorization": f"Bearer {key}"})


def send(program, kind, **said):
    said = {"id": str(uuid.uuid4())} | said
    return program.post(
        f"/api/marl-hollow/{kind}/", said, content_type="application/json"
    )


@pytest.fixture
def cut_of(sowing):
    def said(**more):
        cut = {"sowing": str(sowing.pk), "date": "2026-08-04", "area_ha": 0.5}
        return cut | {"sheaves": 600} | more

    return said


def test_a_cut_is_written_as_its_page_writes_it(anns_program, marl, ann, cut_of):
    answer = send(anns_program, "cut", **cut_of())
    assert answer.status_code == 200, answer.content
    cut = Cut.objects.get(pk=answer.json()["id"])
    assert (cut.sheaves, cut.made_by) == (600, ann)
    stooks = Place.objects.get(holding=marl, kind="stooks")
    assert stooks.balance.grams > 0


def test_sent_twice_it_is_written_once(anns_program, cut_of):
    once = cut_of(id=str(uuid.uuid4()))
    answers = [send(anns_program, "cut", **once).json() for _ in range(2)]
    assert answers[0] == answers[1]
    assert (Cut.objects.count(), Movement.objects.filter(kind="cut").count()) == (1, 1)


def test_sent_again_otherwise_it_is_refused_in_a_sentence(anns_program, cut_of):
    id = str(uuid.uuid4())
    send(anns_program, "cut", **cut_of(id=id))
    again = send(anns_program, "cut", **cut_of(id=id, sheaves=700))
    assert again.status_code == 409
    assert "said otherwise" in again.json()["says"]


def test_more_than_there_is_cannot_be_sold(anns_program, marl, ann):
    about = {"holding": marl, "made_by": ann, "variety": "Red", "harvest_year": 2026}
    lot = Lot.objects.create(code="26-01", kind="reed", **about)
    sale = {"date": "2026-09-05", "buyer_name": "Dan", "kg": 10}
    answer = send(anns_program, "sale", **sale, lot=str(lot.pk))
    assert answer.status_code == 409
    assert "take no more" in answer.json()["says"]


def test_what_is_not_as_asked_is_named(anns_program, cut_of):
    answer = send(anns_program, "cut", **cut_of(area_ha=-1, date="yesterday"))
    assert answer.status_code == 422
    assert "area_ha" in answer.json()["says"]
    assert "date" in answer.json()["says"]


def test_ben_may_write_a_cut_but_no_sale(ben, cut_of):
    program = _program(ben)
    assert send(program, "cut", **cut_of()).status_code == 200
    assert send(program, "field", name="Hanger", area_ha=1).status_code == 404
    assert not Field.objects.filter(name="Hanger").exists()


def test_cleo_reads_and_writes_nothing_of_anns(cleo, marl, cut_of):
    program = _program(cleo)
    assert send(program, "cut", **cut_of()).status_code == 404
    assert program.get("/api/marl-hollow/field/").status_code == 404
    assert program.get("/api/holdings/").json() == []


def test_what_was_written_is_read_back(anns_program, long_meadow):
    (field,) = anns_program.get("/api/marl-hollow/field/").json()
    assert (field["id"], field["name"]) == (str(long_meadow.pk), "Long Meadow")


def test_a_long_list_is_read_in_parts(anns_program, marl, ann):
    for number in range(3):
        Field.objects.create(holding=marl, made_by=ann, name=f"F{number}", area_ha=1)
    part = anns_program.get("/api/marl-hollow/field/?limit=2&offset=1").json()
    assert [field["name"] for field in part] == ["F1", "F2"]


def test_every_kind_that_a_page_takes_is_taken_but_files():
    assert set(KINDS) - set(API_KINDS) == {"weather"}


@pytest.mark.parametrize("kind", sorted(set(KINDS) & set(API_KINDS)))
def test_a_program_can_say_what_a_page_can(kind):
    """What the service takes besides its model's fields is in the API's own table."""
    service = f"sheafwright.records.services.{API_KINDS[kind].service}"
    takes = set(inspect.signature(pkgutil.resolve_name(service)).parameters)
    from_fields = {*API_KINDS[kind].fields, "id", "holding", "made_by", "said", "note"}
    assert takes - from_fields - set(MORE.get(kind, ())) - FILES <= {"buyer", "person"}
