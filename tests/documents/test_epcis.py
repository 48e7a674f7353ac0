"""The book's events as EPCIS 2.0: what each says, and that any list is valid."""

import json
from datetime import UTC, datetime, timedelta, timezone
from itertools import chain
from pathlib import Path
from urllib.parse import urlsplit
from uuid import UUID

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.errors import OutOfRange
from sheafwright.documents.epcis import (
    CONTEXT,
    Amount,
    Event,
    Harvest,
    Move,
    Origin,
    Sale,
    Transformation,
    Withdrawal,
    epcis_document,
)

SCHEMA = Path(__file__).parents[2] / "../shared/data/standards/EPCIS-JSON-Schema.json"
BASE = "https://book.example/marl-hollow/"
ID, OTHER = UUID(int=1), UUID(int=2)
AT = datetime(2026, 8, 5, 16, 30, tzinfo=timezone(timedelta(hours=1)))
ORIGIN = Origin(field="Long Meadow", variety="Maris Widgeon", harvest_year="2026")
SHEAVES = (Amount("sheaves/long meadow 2026", 6_400_500),)
HARVEST = Harvest(id=ID, at=AT, amounts=SHEAVES, field="fields/1", origin=ORIGIN)


def document(*events):
    return epcis_document(events, base_url=BASE, made_at=AT)


def told(event):
    [said] = document(event)["epcisBody"]["eventList"]
    return said


def test_a_document_says_its_standard_and_its_time():
    said = document()
    assert said["@context"] == [
        CONTEXT,
        {"sheafwright": "https://book.example/marl-hollow/terms/"},
    ]
    assert (said["type"], said["schemaVersion"]) == ("EPCISDocument", "2.0")
    assert said["creationDate"] == "2026-08-05T16:30:00+01:00"
    assert said["epcisBody"] == {"eventList": []}


def test_a_harvest_brings_sheaves_into_being():
    said = told(HARVEST)
    assert (said["type"], said["action"]) == ("ObjectEvent", "ADD")
    assert said["eventID"] == "urn:uuid:00000000-0000-0000-0000-000000000001"
    assert said["eventTimeZoneOffset"] == "+01:00"
    assert said["quantityList"] == [
        {
            "epcClass": "https://book.example/marl-hollow/sheaves/long%20meadow%202026",
            "quantity": 6400.5,
            "uom": "KGM",
        }
    ]


def test_a_lot_keeps_what_is_known_of_its_origin_and_no_empty_line():
    assert told(HARVEST)["ilmd"] == {
        "sheafwright:field": "Long Meadow",
        "sheafwright:variety": "Maris Widgeon",
        "sheafwright:harvestYear": "2026",
    }


def test_carting_is_seen_from_place_to_place_and_makes_nothing():
    said = told(
        Move(id=ID, at=AT, amounts=SHEAVES, taken_from="stooks/1", given_to="ricks/1")
    )
    assert (said["type"], said["action"]) == ("ObjectEvent", "OBSERVE")
    assert said["sourceList"] == [{"type": "location", "source": f"{BASE}stooks/1"}]
    assert said["bizLocation"] == {"id": f"{BASE}ricks/1"}
    assert "ilmd" not in said


def test_threshing_turns_sheaves_into_reed_and_grain():
    reed, grain = Amount("lots/26-01", 2_900_000), Amount("lots/26-02", 2_000_000)
    what = {"inputs": SHEAVES, "outputs": (reed, grain), "origin": ORIGIN}
    said = told(Transformation(id=ID, at=AT, place="drum", **what))
    assert said["type"] == "TransformationEvent"
    assert "action" not in said
    assert [each["quantity"] for each in said["inputQuantityList"]] == [6400.5]
    assert [each["quantity"] for each in said["outputQuantityList"]] == [2900, 2000]


def test_a_sale_is_shipped_from_its_owner_to_the_buyer():
    said = told(
        Sale(
            id=ID, at=AT, amounts=SHEAVES, place="barn", seller="ann", buyer="buyers/7"
        )
    )
    assert said["bizStep"] == "shipping"
    assert said["destinationList"] == [
        {"type": "owning_party", "destination": f"{BASE}buyers/7"}
    ]


def test_a_mistake_is_told_again_with_what_corrects_it():
    withdrawn = Withdrawal(AT, "incorrect_data", corrected_by=(OTHER,))
    said = told(
        Harvest(
            id=ID, at=AT, amounts=SHEAVES, field="f", origin=ORIGIN, withdrawn=withdrawn
        )
    )
    assert said["errorDeclaration"] == {
        "declarationTime": "2026-08-05T16:30:00+01:00",
        "reason": "incorrect_data",
        "correctiveEventIDs": [OTHER.urn],
    }


def test_an_event_without_an_amount_is_refused():
    with pytest.raises(OutOfRange, match="names no amount"):
        told(Harvest(id=ID, at=AT, amounts=(), field="f", origin=ORIGIN))


def test_a_time_without_a_zone_is_refused():
    naive = datetime(2026, 8, 5)
    with pytest.raises(OutOfRange, match="has no zone"):
        told(Harvest(id=ID, at=naive, amounts=SHEAVES, field="f", origin=ORIGIN))


def test_an_event_of_another_kind_is_refused():
    with pytest.raises(TypeError, match="no event of the book"):
        told(Event(id=ID, at=AT))


words = st.text(st.characters(exclude_categories=()))
offsets = st.integers(-12 * 4, 14 * 4).map(
    lambda q: timezone(timedelta(minutes=15 * q))
)
moments = st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1), timezones=offsets)
amounts = st.lists(
    st.builds(Amount, thing=words, grams=st.integers(0, 10**12)), min_size=1, max_size=3
).map(tuple)
common = {
    "id": st.uuids(),
    "at": moments,
    "withdrawn": st.none()
    | st.builds(
        Withdrawal,
        declared_at=moments,
        reason=st.sampled_from(["did_not_occur", "incorrect_data"]),
        corrected_by=st.lists(st.uuids(), max_size=2).map(tuple),
    ),
}
origins = st.builds(Origin, *[words] * 5)
events = st.one_of(
    st.builds(Harvest, amounts=amounts, field=words, origin=origins, **common),
    st.builds(Move, amounts=amounts, taken_from=words, given_to=words, **common),
    st.builds(
        Transformation,
        inputs=amounts,
        outputs=amounts,
        place=words,
        origin=origins,
        **common,
    ),
    st.builds(Sale, amounts=amounts, place=words, seller=words, buyer=words, **common),
)
lists_of_events = st.lists(events, max_size=4)

formats = jsonschema.FormatChecker(formats=())


@formats.checks("uri", raises=ValueError)
def is_uri(value):
    if not isinstance(value, str):
        return True
    allowed = value.isascii() and not set(value) & set(' <>"{}|\\^`')
    return allowed and bool(urlsplit(value).scheme)


@formats.checks("date-time", raises=ValueError)
def is_moment(value):
    return datetime.fromisoformat(value).utcoffset() is not None


@pytest.fixture(scope="module")
def standard():
    if not SCHEMA.exists():
        pytest.skip("needs ../shared/data/standards/EPCIS-JSON-Schema.json")
    schema = json.loads(SCHEMA.read_text("utf-8"))
    return jsonschema.Draft7Validator(schema, format_checker=formats)


@settings(max_examples=60, deadline=None)
@given(lists_of_events)
def test_any_events_keep_to_the_published_schema(standard, given_events):
    standard.validate(json.loads(json.dumps(document(*given_events))))


def test_the_published_schema_refuses_a_lot_that_is_only_seen(standard):
    said = document(HARVEST)
    said["epcisBody"]["eventList"][0]["action"] = "OBSERVE"
    assert not standard.is_valid(said)


REQUIRED = {"type", "eventID", "eventTime", "eventTimeZoneOffset", "bizStep"}


@settings(max_examples=60, deadline=None)
@given(lists_of_events)
def test_any_events_have_what_the_standard_requires_of_each(given_events):
    for said in document(*given_events)["epcisBody"]["eventList"]:
        assert set(said) >= REQUIRED
        assert is_moment(said["eventTime"])
        assert ("action" in said) == (said["type"] == "ObjectEvent")
        assert "ilmd" not in said or said.get("action") != "OBSERVE"
        listed = [said[name] for name in said if name.lower().endswith("quantitylist")]
        assert listed
        assert all(is_uri(each["epcClass"]) for each in chain(*listed))


def test_offsets_are_written_as_the_standard_wants():
    west = AT.astimezone(timezone(timedelta(hours=-3, minutes=-30)))
    said = [
        told(Harvest(id=ID, at=at, amounts=SHEAVES, field="f", origin=ORIGIN))
        for at in (west, AT.astimezone(UTC))
    ]
    assert [each["eventTimeZoneOffset"] for each in said] == ["-03:30", "+00:00"]
