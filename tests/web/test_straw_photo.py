"""Stems on photographs: who may send them, look at them and see them ever after."""

import datetime
import io
import re
import sys
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from photographs import HOSTILE, MAKER, as_a_phone_writes, dark, good, stems_in
from sheafwright.accounts.models import Membership, Person
from sheafwright.accounts.rights import Role
from sheafwright.records.models import StemSample, Tracing
from sheafwright.records.services import tracings
from sheafwright.records.services.stock import sale_record
from sheafwright.records.services.tracings import tracing_accept, tracing_measure

DAY = datetime.date(2026, 11, 4)
FORM = "/marl-hollow/straw/photographs/"


@pytest.fixture(autouse=True)
def measured_once(monkeypatch):
    """The same photograph holds the same stems, whichever test sends it."""
    monkeypatch.setattr(tracings, "measure_straw", stems_in)


@pytest.fixture(autouse=True)
def kept(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "kept"
    return settings.MEDIA_ROOT


@pytest.fixture
def as_(client):
    def sign_in(person):
        client.force_login(person, "django.contrib.auth.backends.ModelBackend")
        return client

    return sign_in


@pytest.fixture
def of_role(marl):
    def made(role):
        person = Person.objects.create(email=f"{role}@example.org", name=role.title())
        Membership.objects.create(person=person, holding=marl, role=role)
        return person

    return made


@pytest.fixture
def draft(writes, reed):
    made = writes(tracing_measure, lot=reed, date=DAY, photos=[good()])
    return Tracing.objects.get(pk=made.pk)


@pytest.fixture
def accepted(draft, marl, ann):
    tracing_accept(holding=marl, made_by=ann, tracing=draft, stems={1, 3, 4, 5})
    return draft


def page_of(tracing):
    return f"/marl-hollow/straw/tracings/{tracing.pk}/"


def photo_of(tracing):
    return f"{FORM}{tracing.photographs.get().pk}.jpg"


def post(client, reed, content, name="stems.jpg", **said):
    file = SimpleUploadedFile(name, content, "image/jpeg")
    said = {"id": uuid.uuid4(), "lot": reed.pk, "date": DAY, "photos": file} | said
    return client.post(FORM, said)


def width_of(answer):
    with Image.open(io.BytesIO(b"".join(answer.streaming_content))) as photo:
        return photo.width


def words(answer):
    text = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(text.replace("&#x27;", "'").replace("\u00a0", " ").split())


def test_a_photograph_is_sent_looked_at_and_accepted(as_, ben, reed, kept):
    ben = as_(ben)
    sent = post(ben, reed, as_a_phone_writes(good()), bundle=7)
    tracing = Tracing.objects.get()
    assert sent.url == page_of(tracing)
    assert "5 stems were traced" in words(ben.get(sent.url))
    done = ben.post(sent.url, {"stem": ["1", "2", "5"]}, follow=True)
    assert "3 stems are written down." in words(done)
    assert [row["stem"] for row in StemSample.objects.get().stems] == [1, 2, 5]
    files = list(kept.rglob("*.jpg"))
    assert len(files) == 2
    assert all(MAKER.encode() not in each.read_bytes() for each in files)


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_file_is_refused_at_its_field(as_, ann, reed, kept, kind):
    make, sentence = HOSTILE[kind]
    answer = post(as_(ann), reed, make())
    assert answer.status_code == 400
    [errors] = re.findall(
        r'<ul class="errorlist" id="id_photos_error">(.*?)</ul>',
        answer.content.decode(),
    )
    assert sentence in errors
    assert not Tracing.objects.exists()
    assert not [path for path in kept.rglob("*") if path.is_file()]


def test_a_form_without_a_photograph_asks_for_one(as_, ann, reed):
    answer = as_(ann).post(FORM, {"id": uuid.uuid4(), "lot": reed.pk, "date": DAY})
    assert answer.status_code == 400
    assert "Take a photograph, or choose one that you took." in words(answer)


def test_an_odd_board_is_told_of_where_it_was_typed(as_, ann, reed):
    answer = post(as_(ann), reed, good(), bar_mm="100")
    assert "A bar of 100 mm is odd; it should be about 180 mm." in words(answer)
    assert b"<details open" in answer.content


def test_the_form_remembers_an_unusual_board(as_, ann, writes, reed):
    said = {"lot": reed, "date": DAY, "photos": [good()], "bar_mm": 178.5}
    writes(tracing_measure, **said)
    assert b'value="178.5 mm"' in as_(ann).get(FORM).content


def test_only_straw_is_offered(as_, ann, reed, grain):
    page = as_(ann).get(FORM).content.decode()
    assert str(reed.pk) in page and str(grain.pk) not in page


def test_without_what_measures_the_page_says_how_to_get_it(as_, ann, monkeypatch):
    monkeypatch.setitem(sys.modules, "cv2", None)
    page = words(as_(ann).get(FORM))
    assert 'pip install "sheafwright[measure]"' in page.replace("&quot;", '"')
    assert "<form class" not in page and "Measure the stems" not in page


def test_a_draft_is_for_who_may_write_it_down(as_, of_role, ben, draft):
    assert as_(ben).get(page_of(draft)).status_code == 200
    for role in (Role.ADVISER, Role.INSPECTOR, Role.BUYER):
        person = as_(of_role(role))
        assert person.get(page_of(draft)).status_code == 404
        assert person.get(photo_of(draft)).status_code == 404
        assert person.post(page_of(draft), {"stem": "1"}).status_code == 404
    assert not StemSample.objects.exists()


def test_an_inspector_sees_what_was_accepted_with_its_photograph(
    as_, of_role, accepted, reed
):
    inspector = as_(of_role(Role.INSPECTOR))
    lot = inspector.get(f"/marl-hollow/lots/{reed.pk}/")
    assert page_of(accepted) in lot.content.decode()
    page = words(inspector.get(page_of(accepted)))
    assert "4 stems of R-26-1 were measured from photographs." in page
    assert "1 more was traced and struck out by eye." in page
    assert "Accept the ticked stems" not in page
    photo = photo_of(accepted)
    assert width_of(inspector.get(photo)) == 2400
    assert width_of(inspector.get(f"{photo}?whole")) == 3200
    assert inspector.post(page_of(accepted), {"do": "drop"}).status_code == 404


def test_a_buyer_sees_photographs_of_what_they_bought_alone(
    as_, of_role, writes, accepted, reed
):
    buyer = of_role(Role.BUYER)
    assert as_(buyer).get(page_of(accepted)).status_code == 404
    assert as_(buyer).get(photo_of(accepted)).status_code == 404
    sold = {"lot": reed, "date": DAY, "kg": 100, "buyer": buyer, "buyer_name": "Nell"}
    writes(sale_record, **sold)
    assert as_(buyer).get(page_of(accepted)).status_code == 200
    assert width_of(as_(buyer).get(photo_of(accepted))) == 2400


def test_a_stranger_sees_none(as_, cleo, accepted):
    for address in (page_of(accepted), photo_of(accepted), FORM):
        assert as_(cleo).get(address).status_code == 404


def test_what_was_accepted_is_not_thrown_away(as_, ann, accepted):
    answer = as_(ann).post(page_of(accepted), {"do": "drop"})
    assert answer.status_code == 400
    assert "These stems were accepted: they stay in the book." in words(answer)


def test_a_draft_is_thrown_away_by_its_button(as_, ann, draft, kept):
    answer = as_(ann).post(page_of(draft), {"do": "drop", "stem": "1"}, follow=True)
    assert "thrown away; nothing was written down" in words(answer)
    assert not Tracing.objects.exists()
    assert not list(kept.rglob("*.jpg"))


def test_ticks_of_a_page_that_was_overtaken_are_answered_in_words(as_, ann, accepted):
    answer = as_(ann).post(page_of(accepted), {"stem": ["1"]})
    assert answer.status_code == 400
    assert "already written, and said otherwise" in words(answer)


def test_a_photograph_lost_from_a_backup_is_not_found(as_, ann, accepted, kept):
    for path in kept.rglob("*.jpg"):
        path.unlink()
    assert as_(ann).get(photo_of(accepted)).status_code == 404


def test_who_reads_inches_reads_inches(as_, ann, accepted):
    ann.units = "imperial"
    ann.save()
    page = words(as_(ann).get(page_of(accepted)))
    assert (
        " in ± " in page
        and " in a foot" in page
        and " mm" not in page.split("Stem by stem")[1].split("What was")[0]
    )


def test_of_several_poor_photographs_each_says_why_by_its_file(as_, ann, reed, kept):
    photos = [
        SimpleUploadedFile("in the barn.jpg", dark(), "image/jpeg"),
        SimpleUploadedFile("letter.jpg", b"no picture at all", "image/jpeg"),
    ]
    said = {"id": uuid.uuid4(), "lot": reed.pk, "date": DAY, "photos": photos}
    answer = as_(ann).post(FORM, said)
    assert answer.status_code == 400
    [errors] = re.findall(
        r'<ul class="errorlist" id="id_photos_error">(.*?)</ul>',
        answer.content.decode(),
    )
    first, second = re.findall(r"<li>(.*?)</li>", errors)
    assert first.startswith("Photograph 1, in the barn.jpg: ") and "too dark" in first
    assert second.startswith("Photograph 2, letter.jpg: ")
    assert not Tracing.objects.exists()
