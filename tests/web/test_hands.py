"""The page of hands and machines, as the owner and a hand read it."""

import datetime
import re
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.services.hands import (
    briefing_record,
    coming_say,
    hand_add,
    insurance_add,
    machine_add,
    machine_check_record,
    machine_correct,
    spare_count,
    tying_record,
)
from sheafwright.records.services.work import labour_record

TODAY = datetime.date(2026, 8, 3)
PAGE = "/marl-hollow/hands/"


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def as_(client):
    def read(person, address=PAGE):
        client.force_login(person)
        answer = client.get(address)
        assert answer.status_code == 200
        text = re.sub(r"<[^>]+>", " ", answer.content.decode())
        return " ".join(text.replace("&#x27;", "'").split())

    return read


@pytest.fixture
def binder(writes):
    return writes(machine_add, kind="binder", name="Red binder", shared_with="Dan")


@pytest.fixture
def tom(writes):
    return writes(hand_add, name="Tom", farm="Lower Farm", may_bind=True)


def test_an_empty_page_says_what_to_do_first(ann, as_):
    said = as_(ann)
    assert "Nobody has said that they can come in the next 7 days." in said
    assert "Nothing that is written down stands against work." in said
    assert "Somebody who may come to work" in said
    assert "Add a machine" in said


def test_the_headline_says_who_comes_and_what_stands_against_it(
    ann, as_, writes, tom, binder
):
    writes(coming_say, hand=tom, date=TODAY, when="afternoon")
    said = as_(ann)
    assert "Today: nobody in the morning, Tom in the afternoon." in said
    assert "Tom was not shown Red binder this year, or did not sign." in said
    assert "What else stands against work" in said


def test_who_comes_all_day_is_said_so(ann, as_, writes, tom):
    writes(coming_say, hand=tom, date=TODAY + datetime.timedelta(1))
    assert "Tuesday 4 August: Tom, all day." in as_(ann)


def test_the_week_has_a_row_a_day_and_who_said_nothing(ann, as_, writes, tom):
    writes(hand_add, name="Amy")
    writes(coming_say, hand=tom, date=TODAY, when="morning")
    said = as_(ann)
    assert "Mon 3 Aug Tom –" in said
    assert "Nothing said of these days: Amy." in said


def test_a_machine_says_where_it_is_what_was_seen_and_its_spares(
    ann, as_, writes, binder
):
    writes(machine_check_record, machine=binder, date=TODAY, canvas="worn")
    spare = {"part": "knotter", "count": 2, "holder": "Dan"}
    writes(spare_count, machine=binder, date=TODAY, **spare)
    said = as_(ann)
    assert "Here. Shared with Dan. Last looked over on Monday 3 August." in said
    assert "As last seen: canvas worn." in said
    assert "Spares: 2 knotter (Dan)." in said


def test_ties_and_twine_are_said_in_the_readers_units(ann, as_, writes, binder):
    said = {"machine": binder, "date": TODAY}
    writes(tying_record, sheaves=200, mis_ties=3, **said)
    writes(tying_record, twine_kg=5, area_ha=2, **said)
    metric = as_(ann)
    assert "Of 200 sheaves watched this year 1.5 in 100 came untied." in metric
    assert re.search(r"Twine: 1\.0\skg an acre this year", metric)
    ann.units = "imperial"
    ann.save()
    assert re.search(r"Twine: 2\.2\slb an acre this year", as_(ann))


def test_days_owed_are_for_those_who_see_the_book(ann, ben, as_, writes):
    owed = {"who": "Kit", "job": "carts", "owed": "to_us"}
    writes(labour_record, date=TODAY, hours=12, **owed)
    assert "Kit 1.5 days (12 h) nothing" in as_(ann)
    assert "Kit" not in as_(ben)


def test_a_hand_says_when_he_comes_and_changes_no_hands(ben, as_, tom, binder):
    said = as_(ben)
    assert "Who can come, and who can't" in said
    assert "Look it over" in said
    assert "Somebody who may come to work" not in said
    assert "Somebody is shown a machine" not in said


def test_briefings_and_insurance_are_told_with_their_days(
    ann, as_, writes, tom, binder
):
    writes(insurance_add, since=TODAY, runs_to=datetime.date(2027, 8, 2))
    shown = {"hand": tom, "machine": binder, "by": "Ann"}
    writes(briefing_record, date=TODAY, **shown)
    writes(briefing_record, date=TODAY, signed=True, **shown)
    said = as_(ann)
    assert "Tom Red binder 3 Aug 2026 by Ann, signed" in said
    assert "Tom Red binder 3 Aug 2026 by Ann, not signed" in said
    assert "It runs until 2 August 2027." in said


def test_what_a_hand_may_do_now_stands_in_the_form_that_changes_it(
    ann, client, tom, as_
):
    client.force_login(ann)
    page = client.get(PAGE).content.decode()
    address = re.search(r'href="([^"]+hand-tasks[^"]+)"', page)[1]
    form = client.get(address.replace("&amp;", "&")).context["form"]
    assert form["hand"].value() == str(tom.pk)
    assert form["may_bind"].value()
    assert not form["may_cart"].value()


def test_the_stook_card_is_a_pdf(ben, client):
    client.force_login(ben)
    answer = client.get("/marl-hollow/hands/stook-card.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert b"".join(answer.streaming_content).startswith(b"%PDF")


def test_what_a_trailer_carries_may_be_said_later(ann, ben, client, as_, writes):
    trailer = writes(machine_add, kind="cart", name="Flat trailer")
    client.force_login(ann)
    page = client.get(PAGE).content.decode()
    address = re.search(r'href="([^"]+machine-correction[^"]+)"[^>]*>say it<', page)[1]
    form = client.get(address)
    assert form.context["form"]["machine"].value() == trailer.pk
    sent = {"id": uuid.uuid4(), "machine": trailer.pk, "name": "Flat trailer"}
    sent |= {"initial-name": "Flat trailer", "why": "taped"}
    sent |= {"deck_length_m": "18 ft", "deck_width_m": "2.1", "payload_kg": "2 t"}
    assert (
        client.post("/marl-hollow/write/machine-correction/", sent).status_code == 302
    )
    trailer.refresh_from_db()
    assert trailer.deck_length_m == pytest.approx(5.486, abs=0.001)
    assert (trailer.deck_width_m, trailer.payload_kg) == (2.1, 2000.0)
    said = as_(ann).replace("\u00a0", " ")
    assert "Flat trailer Here. – 5.49 m by 2.10 m, 2.00 t" in said
    assert "Flat trailer: width of its deck nothing 2.10 m taped" in said
    client.force_login(ben)
    assert "machine-correction" not in client.get(PAGE).content.decode()
    answer = client.post("/marl-hollow/write/machine-correction/", sent)
    assert answer.status_code == 404


def test_a_trailer_is_not_said_to_cut(writes):
    trailer = writes(machine_add, kind="cart", name="Flat trailer")
    with pytest.raises(ValidationError, match="Only a binder cuts"):
        writes(machine_correct, machine=trailer, cut_width_m=1.5, why="measured")
    with pytest.raises(ValidationError, match="less than or equal to 30000"):
        writes(machine_correct, machine=trailer, payload_kg=1e6, why="measured")
    trailer.refresh_from_db()
    assert trailer.payload_kg is None
