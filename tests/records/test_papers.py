"""The book's facts on paper, and as events."""

import datetime
import io
import json
from decimal import Decimal
from pathlib import Path

import jsonschema
import pytest
from django.core.exceptions import ValidationError
from django.http import Http404
from pypdf import PdfReader

from sheafwright.documents.almanac import almanac_pdf
from sheafwright.documents.epcis import Sale, Transformation, epcis_document
from sheafwright.documents.harvest_day import harvest_day_pdf
from sheafwright.documents.labels import labels_pdf
from sheafwright.documents.record_book import record_book_pdf
from sheafwright.documents.rick_card import rick_card_pdf
from sheafwright.records.models import Movement, SavedAnswer
from sheafwright.records.papers.almanac import almanac_of
from sheafwright.records.papers.events import events_of
from sheafwright.records.papers.harvest_day import harvest_day_of
from sheafwright.records.papers.labels import labels_of
from sheafwright.records.papers.record_book import record_book_of
from sheafwright.records.papers.rick_card import rick_card_of
from sheafwright.records.services.crop import observation_record
from sheafwright.records.services.grain import milling_record
from sheafwright.records.services.ground import field_status_add, input_apply
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.inspection import certificate_add
from sheafwright.records.services.stock import entry_undo, grain_move, sale_record
from sheafwright.records.services.store import rick_reading_record

SCHEMA = Path(__file__).parents[2] / "../shared/data/standards/EPCIS-JSON-Schema.json"
TODAY = datetime.date(2026, 12, 1)
YEAR = {"begins": datetime.date(2026, 1, 1), "ends": datetime.date(2026, 12, 31)}


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def in_august(marl):
    marl.looked_at_as_of = datetime.date(2026, 8, 4)
    marl.save()


@pytest.fixture
def certified(writes):
    return writes(
        certificate_add,
        holder="Marl Hollow",
        is_own=True,
        body="An invented body",
        code="XX-ORG-00",
        scope="cereals and thatching straw",
        covers_straw=True,
        since=datetime.date(2026, 1, 1),
        expires=datetime.date(2026, 12, 31),
    )


@pytest.fixture
def organic(writes, long_meadow):
    since = datetime.date(2020, 3, 1)
    return writes(field_status_add, field=long_meadow, way="organic", since=since)


@pytest.fixture
def sale(writes, reed):
    date = datetime.date(2026, 11, 20)
    return writes(sale_record, lot=reed, date=date, kg=1000, buyer_name="Tamsin Reed")


def words(pdf):
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


# The record book.


def test_the_record_book_says_what_was_sown_put_on_and_moved(
    certified, organic, writes, long_meadow, sale, marl
):
    writes(
        input_apply,
        field=long_meadow,
        date=datetime.date(2026, 3, 2),
        product="Composted manure",
        quantity_kg=8000,
        evidence="on the list",
    )
    said = words(record_book_pdf(record_book_of(holding=marl, units="metric", **YEAR)))
    assert "Certified by An invented body (XX-ORG-00), until 31 Dec 2026." in said
    assert "Composted manure 8.00 t" in said
    assert "28 Sep 2025 Long Meadow Maris Widgeon 2.00" in said
    assert "sold combed reed R-26-1 R-26-1" in said


def test_every_balance_on_paper_adds_up(sale, marl):
    for line in record_book_of(holding=marl, units="metric", **YEAR).balance:
        came = line.at_start + line.grown + line.bought + line.made + line.put_right
        went = line.threshed + line.sold + line.used + line.lost + line.unexplained
        assert came - went == line.at_end


def test_reed_was_threshed_out_and_sold(sale, marl):
    lines = record_book_of(holding=marl, units="metric", **YEAR).balance
    reed = next(line for line in lines if line.material == "combed reed, 2026")
    assert (reed.made, reed.sold, reed.at_end) == (4000, 1000, 3000)


def test_losses_are_named_and_none_is_said_twice(threshing, marl):
    book = record_book_of(holding=marl, units="metric", **YEAR)
    losses = {loss.name: loss.weight for loss in book.losses}
    assert losses["Cavings and waste"] == 2500
    assert (losses["Water"], book.unexplained) == (0, 0)
    assert "Unexplained" not in losses


def test_ann_reads_her_book_in_acres_and_pounds(sale, marl):
    book = record_book_of(holding=marl, units="imperial", **YEAR)
    assert (book.units.area, book.units.weight) == ("acres", "lb")
    assert book.fields[0].area == Decimal("4.94")
    assert book.movements[-1].weight == Decimal("2204.6")


def test_an_undone_entry_stays_in_the_book_with_what_undid_it(writes, sale, marl):
    wrong = Movement.objects.get(pk=sale.pk)
    writes(entry_undo, movement=wrong, date=TODAY)
    *_, entry, undoing = record_book_of(holding=marl, units="metric", **YEAR).movements
    assert entry.entry == f"{wrong.seq}: sold, undone by {wrong.seq + 1}"
    assert (undoing.taken_from, undoing.given_to) == (entry.given_to, entry.taken_from)


def test_without_a_certificate_the_book_says_so(marl):
    said = words(record_book_pdf(record_book_of(holding=marl, units="metric", **YEAR)))
    assert "No certificate of its own is written down" in said


def test_a_field_in_conversion_says_from_when_its_crops_are_organic(
    writes, long_meadow, marl
):
    began = datetime.date(2025, 3, 1)
    writes(field_status_add, field=long_meadow, way="converting", since=began)
    (field,) = record_book_of(holding=marl, units="metric", **YEAR).fields
    assert field.conversion_began == began
    assert field.organic_from == datetime.date(2027, 3, 1)


# The rick card.


def test_the_rick_card_says_what_is_in_it_and_how_warm_it_was(writes, ricked, marl):
    at = datetime.datetime(2026, 8, 22, 17, 30, tzinfo=datetime.UTC)
    writes(rick_reading_record, rick=ricked, at=at, temperature_c=41.5, depth_m=1.5)
    said = words(
        rick_card_pdf(rick_card_of(holding=marl, id=ricked.pk, units="metric"))
    )
    assert "Long Meadow Maris Widgeon 21 Aug 2026 9.00 t" in said
    # Half past five by the world's clock is an hour later on this farm.
    assert "Sat 22 Aug, 18:30 1.50 m deep 41.5 Ann" in said


def test_the_rick_card_says_what_to_do_when_it_heats(rick, marl):
    card = rick_card_of(holding=marl, id=rick.pk, units="metric")
    said = {step.heat: step.action for step in card.heat_steps}
    assert "Local codes and trained people first" in said["always"]
    assert "fire service is rung before it is opened" in said["from 60 °C"]
    assert "probe" not in said["from 70 °C"]


def test_an_undone_load_is_not_on_the_card(writes, ricked, marl):
    carted = Movement.objects.get(kind="cart")
    writes(entry_undo, movement=carted, date=TODAY)
    assert rick_card_of(holding=marl, id=ricked.pk, units="metric").loads == ()


def test_cleo_gets_no_card_of_anns_rick(rick, other_holding):
    with pytest.raises(Http404):
        rick_card_of(holding=other_holding, id=rick.pk, units="metric")


# Labels.


def labelled(marl, *lots, count=1):
    return labels_of(
        holding=marl,
        lots=lots,
        count=count,
        address_of=lambda lot: f"https://book.example/marl-hollow/lots/{lot.pk}/",
    )


def test_a_label_names_the_field_and_the_code_it_is_organic_by(
    certified, organic, reed, marl
):
    said = words(labels_pdf(labelled(marl, reed)))
    assert "Field Long Meadow" in said
    assert "Organic XX-ORG-00" in said
    assert "Lot R-26-1" in said


def test_each_lot_has_as_many_labels_as_are_wanted(reed, grain, marl):
    sheet = labelled(marl, reed, grain, count=3)
    assert [label.lot for label in sheet.labels] == ["R-26-1"] * 3 + ["G-26-1"] * 3


def test_straw_off_the_certificate_is_not_called_organic(
    certified, organic, reed, grain, marl
):
    certified.covers_straw = False
    certified.save()
    of_reed, of_grain = labelled(marl, reed, grain).labels
    assert (of_reed.organic, of_grain.organic) == ("", "XX-ORG-00")


def test_a_crop_sown_in_conversion_says_no_more_than_that(
    certified, writes, long_meadow, reed, marl
):
    began = datetime.date(2025, 3, 1)
    writes(field_status_add, field=long_meadow, way="converting", since=began)
    (label,) = labelled(marl, reed).labels
    assert label.organic == "not yet: in conversion, XX-ORG-00"


@pytest.mark.parametrize("way", ["conventional", None])
def test_a_field_not_farmed_organically_gives_nothing_organic(
    way, certified, writes, long_meadow, reed, marl
):
    if way:
        since = datetime.date(2020, 3, 1)
        writes(field_status_add, field=long_meadow, way=way, since=since)
    assert labelled(marl, reed).labels[0].organic == ""


def test_a_lot_set_apart_says_so_on_every_bundle(reed, marl):
    reed.set_apart = True
    reed.save()
    assert labelled(marl, reed).labels[0].grade == "set apart: not for sale"


# The almanac and the harvest day.


def answered(sowing, action="cut"):
    said = {
        "sentence": "Cut on Tuesday 4 August: 7 chances in 10. It will not stay fit.",
        "advice": {"action": action},
        "stages": {
            "soft_dough": {
                "p10": "2026-08-01",
                "p50": "2026-08-04",
                "p90": "2026-08-09",
            }
        },
        "working": [
            {"says": "It flowered on 18 June.", "source": "You", "standing": "given"}
        ],
    }
    SavedAnswer.objects.create(
        holding=sowing.holding,
        question="outlook",
        subject=sowing.pk,
        day=sowing.holding.looked_at_as_of,
        inputs_sha256=str(sowing.pk),
        tables_sha256="",
        engine_version="",
        seed=1,
        said=said,
    )


def test_the_almanac_has_the_advice_the_year_and_the_working(in_august, sowing, marl):
    answered(sowing)
    said = words(almanac_pdf(almanac_of(holding=marl, units="imperial")))
    assert "4.94 acres of Maris Widgeon, sown 28 September 2025" in said
    assert "Cut on Tuesday 4 August: 7 chances in 10." in said
    assert "sown 28 Sep known" in said
    assert "cut 4 Aug ±4 expected" in said
    assert "It flowered on 18 June." in said


def test_a_field_all_cut_keeps_its_page_in_the_almanac(writes, sowing, marl):
    date = datetime.date(2026, 8, 5)
    writes(cut_record, sowing=sowing, date=date, area_ha=2.0)
    (page,) = almanac_of(holding=marl, units="metric").fields
    assert page.sentence == "Cut from 5 August on."


def test_with_nothing_sown_there_is_no_almanac(marl):
    with pytest.raises(ValidationError, match="Nothing is sown yet"):
        almanac_of(holding=marl, units="metric")


def test_the_harvest_day_sheet_asks_for_the_signs_and_keeps_those_seen(
    in_august, writes, sowing, marl, ben, cleo
):
    answered(sowing)
    day = datetime.date(2026, 8, 3)
    seen = {"grain": "soft dough"}
    writes(observation_record, sowing=sowing, date=day, signs=seen)
    said = words(harvest_day_pdf(harvest_day_of(holding=marl, units="metric")))
    assert "seen on 3 August: grain soft dough" in said
    assert "nodes: green / yellow" in said
    assert "Who Ann, Ben" in said and "Cleo" not in said
    assert "Guards on binder and shaft" in said


def test_where_no_field_is_to_cut_the_sheet_has_all_that_stand(in_august, sowing, marl):
    answered(sowing, action="wait")
    (field,) = harvest_day_of(holding=marl, units="metric").fields
    assert field.about == "2.00\u00a0ha, Maris Widgeon"


# The events.


@pytest.fixture
def milled(writes, grain):
    date = datetime.date(2026, 11, 20)
    writes(grain_move, lot=grain, to="mill", date=date, kg=500)
    writes(grain_move, lot=grain, to="owed", date=date, kg=100)
    run = {"lot": grain, "date": date, "flour": "brown", "flour_code": "F-26-1"}
    return writes(milling_record, **run, flour_kg=400)


def kinds(events):
    return [type(event).__name__ for event in events]


def test_a_year_is_told_from_harvest_to_sale(sale, milled, marl):
    told = kinds(events_of(holding=marl, **YEAR))
    assert told[:4] == ["Harvest", "Move", "Transformation", "Sale"]
    assert sorted(told[4:]) == ["Move", "Sale", "Transformation"]


def test_what_a_rick_gives_the_drum_is_known_by_the_stooks_it_came_from(
    writes, cut, sowing, rick, marl, request
):
    other = writes(
        cut_record,
        sowing=sowing,
        date=datetime.date(2026, 8, 6),
        area_ha=1.0,
        sheaves=333,
        kg_per_sheaf=9,
    )
    stacked = {"rick": rick, "date": datetime.date(2026, 8, 21)}
    writes(carting_record, stook_set=other.stook_set, **stacked)
    request.getfixturevalue("threshing")
    events = events_of(holding=marl, **YEAR)
    (drum,) = (event for event in events if isinstance(event, Transformation))
    inputs = {amount.thing: amount.grams for amount in drum.inputs}
    assert inputs == {
        f"sheaves/{cut.stook_set.pk}": 9_000_000,
        f"sheaves/{other.stook_set.pk}": 2_997_000,
    }


def test_an_undone_sale_is_told_again_as_withdrawn(writes, sale, marl):
    writes(entry_undo, movement=Movement.objects.get(pk=sale.pk), date=TODAY)
    only_today = {"begins": TODAY, "ends": TODAY}
    (event,) = events_of(holding=marl, **only_today)
    assert isinstance(event, Sale)
    assert (event.id, event.withdrawn.reason) == (sale.pk, "did_not_occur")


def test_a_harvest_bears_the_organic_code_it_may_bear(certified, organic, cut, marl):
    (harvest,) = events_of(holding=marl, **YEAR)
    assert (harvest.origin.field, harvest.origin.organic_code) == (
        "Long Meadow",
        "XX-ORG-00",
    )


def test_another_holdings_events_are_not_told(sale, other_holding):
    assert events_of(holding=other_holding, **YEAR) == []


def test_the_events_of_a_book_keep_to_the_published_schema(writes, sale, milled, marl):
    if not SCHEMA.exists():
        pytest.skip("needs ../shared/data/standards/EPCIS-JSON-Schema.json")
    writes(entry_undo, movement=Movement.objects.get(pk=sale.pk), date=TODAY)
    said = epcis_document(
        events_of(holding=marl, **YEAR),
        base_url="https://book.example/marl-hollow/",
        made_at=datetime.datetime(2026, 12, 1, 12, tzinfo=datetime.UTC),
    )
    schema = jsonschema.Draft7Validator(json.loads(SCHEMA.read_text("utf-8")))
    schema.validate(json.loads(json.dumps(said)))
    assert len(said["epcisBody"]["eventList"]) == 7
