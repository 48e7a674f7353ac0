"""Papers from the pages: who may print which, and of what."""

import datetime
import io
import json
import uuid
import zipfile

import pytest
from django.core.files.base import ContentFile
from PIL import Image
from pypdf import PdfReader

from sheafwright.accounts.models import Membership
from sheafwright.records.models import Observation
from sheafwright.records.services.stock import sale_record

BOOK = "/marl-hollow/book/"
YEAR = {"begins": "2026-01-01", "ends": "2026-12-31"}


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = datetime.date(2026, 12, 1)
    marl.save()


@pytest.fixture
def as_ann(client, ann):
    client.force_login(ann)
    return client


@pytest.fixture
def as_ben(client, ben):
    client.force_login(ben)
    return client


def content(response):
    assert response.status_code == 200
    return b"".join(response.streaming_content)


def words(response):
    pages = PdfReader(io.BytesIO(content(response))).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_ann_prints_the_record_book_of_a_period(as_ann, threshing):
    answer = as_ann.get(f"{BOOK}record-book.pdf", YEAR)
    assert answer.headers["Content-Type"] == "application/pdf"
    said = words(answer)
    assert "1 Jan 2026 to 31 Dec 2026" in said
    assert "R-26-1" in said


def test_the_record_book_is_of_the_last_year_if_no_days_are_asked_for(as_ann):
    assert "1 Dec 2025 to 1 Dec 2026" in words(as_ann.get(f"{BOOK}record-book.pdf"))


def test_the_record_book_comes_as_tables_too(as_ann, threshing):
    answer = as_ann.get(f"{BOOK}record-book.zip", YEAR)
    assert "attachment" in answer.headers["Content-Disposition"]
    with zipfile.ZipFile(io.BytesIO(content(answer))) as tables:
        assert b"R-26-1" in tables.read("movements.csv")


def test_the_events_name_places_where_their_pages_are(as_ann, writes, reed):
    date = datetime.date(2026, 11, 20)
    writes(sale_record, lot=reed, date=date, kg=10, buyer_name="Tamsin Reed")
    answer = as_ann.get(f"{BOOK}events.jsonld", YEAR)
    assert answer.headers["Content-Type"] == "application/ld+json"
    *_, sale = json.loads(content(answer))["epcisBody"]["eventList"]
    page = f"http://testserver/marl-hollow/lots/{reed.pk}"
    assert sale["quantityList"][0]["epcClass"] == page


@pytest.mark.parametrize(
    ("days", "says"),
    [
        ({"begins": "2026-03-01"}, "Until: This field is required."),
        ({"begins": "soon", "ends": "2026-03-01"}, "From: Enter a valid date."),
        (YEAR | {"ends": "2025-01-01"}, "Until: It should end on the day"),
        (YEAR | {"begins": "2001-01-01"}, "ask for 5 years at most"),
    ],
)
def test_a_period_that_will_not_do_is_refused_in_a_sentence(days, says, as_ann):
    for name in ("record-book.pdf", "record-book.zip", "events.jsonld"):
        answer = as_ann.get(f"{BOOK}{name}", days)
        assert answer.status_code == 400
        assert says in answer.text


@pytest.mark.parametrize(
    "name", ["record-book.pdf", "record-book.zip", "events.jsonld"]
)
def test_ben_may_not_print_the_record_book(name, as_ben):
    assert as_ben.get(f"{BOOK}{name}").status_code == 404


def test_the_almanac_and_the_sheet_have_long_meadow_on_them(as_ben, sowing, marl):
    marl.looked_at_as_of = datetime.date(2026, 8, 4)
    marl.save()
    for address in ("growing/almanac.pdf", "cutting/sheet.pdf"):
        assert "Long Meadow" in words(as_ben.get(f"/marl-hollow/{address}"))


def test_the_pages_lead_to_their_papers(as_ben, sowing, marl):
    marl.looked_at_as_of = datetime.date(2026, 8, 4)
    marl.save()
    assert (
        "/marl-hollow/growing/almanac.pdf" in as_ben.get("/marl-hollow/growing/").text
    )
    assert "/marl-hollow/cutting/sheet.pdf" in as_ben.get("/marl-hollow/cutting/").text


def test_before_anything_is_sown_the_almanac_is_refused_in_a_sentence(as_ben):
    answer = as_ben.get("/marl-hollow/growing/almanac.pdf")
    assert answer.status_code == 400
    assert "Nothing is sown yet" in answer.text


def test_a_rick_has_its_card_in_the_units_of_whoever_prints_it(as_ben, ben, ricked):
    ben.units = "imperial"
    ben.save()
    said = words(as_ben.get(f"/marl-hollow/ricks/{ricked.pk}/card.pdf"))
    assert "Barn end" in said
    assert "8.86 tons" in said


def test_another_holdings_rick_has_no_card_here(client, ann, rick, other_holding):
    Membership.objects.create(person=ann, holding=other_holding, role="owner")
    client.force_login(ann)
    assert client.get(f"/far-edge/ricks/{rick.pk}/card.pdf").status_code == 404


def test_a_label_leads_to_the_lots_own_page(as_ben, reed, monkeypatch):
    drawn = []
    draw = "sheafwright.documents.labels.qr_svg"
    monkeypatch.setattr(draw, lambda url: drawn.append(url) or "<svg/>")
    as_ben.get("/marl-hollow/straw/labels.pdf", {"lot": reed.pk, "count": 2})
    assert drawn == [f"http://testserver/marl-hollow/lots/{reed.pk}/"]
    assert as_ben.get(drawn[0]).status_code == 200


def test_labels_are_of_all_the_straw_in_store_unless_a_lot_is_named(
    as_ben, reed, grain
):
    labels = "/marl-hollow/straw/labels.pdf"
    straw = words(as_ben.get(labels))
    assert (straw.count("R-26-1"), straw.count("G-26-1")) == (8, 0)
    sacks = words(as_ben.get(labels, {"lot": grain.pk, "count": 3}))
    assert (sacks.count("R-26-1"), sacks.count("G-26-1")) == (0, 3)


@pytest.mark.parametrize("asked", [{"count": 97}, {"count": 0}, {"lot": uuid.uuid4()}])
def test_labels_that_will_not_do_are_refused_in_a_sentence(asked, as_ben, reed):
    assert as_ben.get("/marl-hollow/straw/labels.pdf", asked).status_code == 400


def test_without_straw_there_is_nothing_to_label(as_ben):
    answer = as_ben.get("/marl-hollow/straw/labels.pdf")
    assert answer.status_code == 400
    assert "nothing to label" in answer.text


@pytest.fixture
def seen(writes, sowing, marl, ann, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    photo = io.BytesIO()
    Image.new("RGB", (8, 8)).save(photo, "JPEG")
    return Observation.objects.create(
        holding=marl,
        made_by=ann,
        sowing=sowing,
        date=datetime.date(2026, 7, 1),
        photo=ContentFile(photo.getvalue(), "ear.jpg"),
    )


def test_ben_sees_the_photo_of_an_observation(as_ben, seen):
    answer = as_ben.get(f"/marl-hollow/photos/{seen.pk}")
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert Image.open(io.BytesIO(content(answer))).size == (8, 8)


def test_cleo_sees_no_photo_of_anns(client, cleo, seen, other_holding):
    Membership.objects.create(person=cleo, holding=other_holding, role="owner")
    client.force_login(cleo)
    for slug in ("marl-hollow", "far-edge"):
        assert client.get(f"/{slug}/photos/{seen.pk}").status_code == 404


def test_an_observation_without_a_photo_shows_none(as_ben, seen):
    seen.photo.delete()
    assert as_ben.get(f"/marl-hollow/photos/{seen.pk}").status_code == 404


def test_a_photo_lost_from_its_folder_is_not_found(as_ben, seen):
    seen.photo.storage.delete(seen.photo.name)
    assert as_ben.get(f"/marl-hollow/photos/{seen.pk}").status_code == 404
