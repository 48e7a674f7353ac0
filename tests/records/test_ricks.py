"""A rick's room, keeping, value, distances, whom to ring, and the asking before it."""

import datetime
import io
import re
import uuid

import pytest
from django.core.exceptions import ValidationError
from pypdf import PdfReader

from sheafwright.core.errors import OutOfRange
from sheafwright.documents.rick_card import rick_card_pdf
from sheafwright.records.models import CallList, Rick, Threshing
from sheafwright.records.papers.rick_card import rick_card_of
from sheafwright.records.selectors.calls import call_lists, calls_of
from sheafwright.records.selectors.corrections import corrections_of
from sheafwright.records.selectors.heat import ever_hot, heat_of_ricks
from sheafwright.records.selectors.rick_told import ricks_told
from sheafwright.records.services.crop import meter_reading_record
from sheafwright.records.services.harvest import carting_record
from sheafwright.records.services.store import (
    call_list_write,
    rick_build,
    rick_correct,
    rick_reading_record,
)
from sheafwright.records.services.threshing import threshing_record

AUGUST = datetime.date(2026, 8, 25)
THE_DAY_BEFORE = datetime.date(2026, 8, 24)
BAY = {"shape": "bay", "length_m": 10.0, "width_m": 6.0, "eaves_m": 4.0}


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = AUGUST
    marl.save()


def probe(writes, rick, day, temperature_c):
    at = datetime.datetime.combine(day, datetime.time(7), datetime.UTC)
    return writes(rick_reading_record, rick=rick, at=at, temperature_c=temperature_c)


@pytest.fixture
def hot(writes, ricked):
    probe(writes, ricked, THE_DAY_BEFORE, 62)
    return ricked


# What is said of it.


def test_a_shape_wants_all_its_sizes(writes, ann):
    said = BAY | {"width_m": None}
    with pytest.raises(ValidationError) as refused:
        writes(rick_build, name="Bay", built=AUGUST, cover="roof", **said)
    assert "width_m" in refused.value.error_dict


def test_sizes_without_a_shape_are_of_nothing(writes, ricked):
    with pytest.raises(ValidationError) as refused:
        writes(rick_correct, rick=ricked, eaves_m=3.0, why="measured")
    assert "shape" in refused.value.error_dict
    assert Rick.objects.get().eaves_m is None


def test_an_oblong_ricks_length_is_its_longer_side(writes, ricked):
    across = {"length_m": 4.0, "width_m": 6.0, "eaves_m": 3.0, "top_m": 2.0}
    with pytest.raises(OutOfRange, match="longer side"):
        writes(rick_correct, rick=ricked, shape="gabled", why="measured", **across)


def test_what_is_said_of_it_later_keeps_what_was_said_before(writes, ricked, marl):
    writes(rick_correct, rick=ricked, to_road_m=12.0, why="paced")
    writes(rick_correct, rick=ricked, to_road_m=14.5, why="taped")
    facts = [
        (each.was, each.now) for each in corrections_of(holding=marl, units="metric")
    ]
    assert facts == [("nothing", "12.0\u00a0m"), ("12.0\u00a0m", "14.5\u00a0m")]


# What is told of it.


def test_its_room_is_what_its_shape_holds_less_what_is_in_it(writes, ricked, marl):
    writes(rick_correct, rick=ricked, why="measured", **BAY)
    (told,) = ricks_told(holding=marl)
    # 240 m³ hold 2,160 to 3,120 sheaves, loosely; 1,000 are there.
    assert (told.room.held, told.room.low, told.room.high) == (1000, 1160, 2120)
    assert told.room.size.sentence.startswith("It fits: 1,000 sheaves need")


def test_a_rick_of_no_shape_has_the_room_that_is_left_of_what_it_holds(
    writes, ricked, marl
):
    writes(rick_correct, rick=ricked, capacity_kg=12_000.0, why="as ever")
    (told,) = ricks_told(holding=marl)
    assert (told.room.low, told.room.high) == (333, 333)


def test_it_keeps_as_the_dampest_of_its_stooks_does(writes, cut, ricked, marl):
    at = datetime.datetime(2026, 8, 20, 11, tzinfo=datetime.UTC)
    writes(meter_reading_record, stook_set=cut.stook_set, at=at, grain_pct=15.0)
    assert ricks_told(holding=marl)[0].keeping is None
    probe(writes, ricked, THE_DAY_BEFORE, 24)
    (told,) = ricks_told(holding=marl)
    assert (told.keeping.grain, told.keeping.days) == (0.15, 4)


def test_it_is_worth_what_its_owner_says_or_what_the_drum_gives(writes, ricked, marl):
    (told,) = ricks_told(holding=marl)
    # 9 t at 40% of £800 and 25% of £250 a tonne.
    assert told.worth.low == pytest.approx(9 * (0.4 * 800 + 0.25 * 250))
    writes(rick_correct, rick=ricked, value=5000, why="the insurer's figure")
    assert ricks_told(holding=marl)[0].worth is None


def test_a_building_too_near_is_named(writes, ricked, marl):
    writes(rick_correct, rick=ricked, to_buildings_m=12.0, to_road_m=30.0, why="taped")
    (told,) = ricks_told(holding=marl)
    assert told.apart.sentence == (
        "It stands 12 m from the nearest building; the usual advice is 20 m or more."
    )


def test_it_settles_from_the_last_carting_day(writes, cut, rick, marl):
    rick.built = datetime.date(2026, 8, 10)
    rick.save()
    said = {"stook_set": cut.stook_set, "rick": rick}
    writes(carting_record, date=datetime.date(2026, 8, 21), kg=4000, **said)
    writes(carting_record, date=datetime.date(2026, 8, 24), kg=4000, **said)
    (each,) = heat_of_ricks(holding=marl)
    assert each.heat.settled_on == datetime.date(2026, 10, 5)


# Whom to ring.


def test_a_ricks_own_list_comes_before_the_holdings(writes, ricked, marl):
    writes(call_list_write, who="Fire service 999\nAnn 01632 960 001")
    writes(call_list_write, who="Fire service 999\nBen: +44 1632 960002", rick=ricked)
    lists = call_lists(holding=marl)
    assert [call.name for call in calls_of(lists, ricked)] == ["Fire service", "Ben"]
    assert calls_of(lists, ricked)[1].dial == "+441632960002"
    assert [call.number for call in lists[None]] == ["999", "01632 960 001"]


def test_the_later_list_counts(writes, marl, rick):
    writes(call_list_write, who="Fire service 999")
    writes(call_list_write, who="Fire service 112")
    assert calls_of(call_lists(holding=marl), rick)[0].number == "112"


@pytest.mark.parametrize("line", ["Ann", "999", "Ann nine nine nine"])
def test_who_is_rung_has_a_name_and_a_number(line, writes, marl):
    with pytest.raises(ValidationError, match="name and a telephone number"):
        writes(call_list_write, who=f"Fire service 999\n{line}")
    assert not CallList.objects.exists()


# Before a hot rick is opened.


def test_a_hot_rick_is_not_threshed_without_a_word_of_the_fire_service(writes, hot):
    with pytest.raises(ValidationError) as refused:
        writes(threshing_record, rick=hot, date=AUGUST)
    assert (
        "ring the fire service" in refused.value.error_dict["fire_service"][0].message
    )
    assert not Threshing.objects.exists()


@pytest.mark.parametrize("said", Threshing.FireService.values)
def test_what_was_done_to_a_hot_rick_is_written_either_way(said, writes, hot):
    writes(threshing_record, rick=hot, date=AUGUST, fire_service=said)
    assert Threshing.objects.get().fire_service == said


def test_sent_again_it_is_not_asked_again(writes, ricked):
    id = uuid.uuid4()
    writes(threshing_record, id=id, rick=ricked, date=AUGUST)
    probe(writes, ricked, THE_DAY_BEFORE, 62)
    assert writes(threshing_record, id=id, rick=ricked, date=AUGUST).pk == id


def test_a_rick_that_was_cool_that_day_is_not_asked_of(writes, ricked):
    two_days_before = datetime.date(2026, 8, 23)
    probe(writes, ricked, two_days_before, 25)
    probe(writes, ricked, THE_DAY_BEFORE, 62)
    said = {"rick": ricked, "date": two_days_before}
    assert writes(threshing_record, **said).fire_service == ""


def test_once_hot_it_may_always_be_said(marl, other_holding, hot):
    assert ever_hot(holding=marl, id=str(hot.pk))
    assert not ever_hot(holding=other_holding, id=hot.pk)
    assert not ever_hot(holding=marl, id="no id")


# On its card.


def card_of(rick, units="metric"):
    pdf = rick_card_pdf(rick_card_of(holding=rick.holding, id=rick.pk, units=units))
    pages = PdfReader(io.BytesIO(pdf)).pages
    return [" ".join(page.extract_text().split()) for page in pages]


def test_the_card_says_whom_to_ring_first_what_it_is_worth_and_what_is_near(
    writes, hot
):
    writes(
        rick_correct,
        rick=hot,
        to_buildings_m=12.0,
        to_road_m=40.0,
        insurers_conditions="No engine within 15 m.",
        why="for the insurer",
    )
    writes(call_list_write, who="Fire service 999\nAnn 01632 960 001")
    (said,) = card_of(hot)
    assert said.index("Fire service 999") < said.index("Ann 01632 960 001")
    assert "£3,400 to £4,400" in said
    assert "12.0 m 20.0 m or more is usually advised (from memory)" in said
    assert "No engine within 15 m." in said


def test_what_nobody_said_is_dots_to_fill(hot):
    (said,) = card_of(hot, units="imperial")
    assert re.search(r"To the next rick \.{28} 65.6 ft or more", said)
    assert re.search(r"The insurer's conditions \.{5}", said)
