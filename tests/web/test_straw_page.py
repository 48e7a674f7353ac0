"""The page of straw: how good it is, its bundles by a tap, and what grades ask."""

import datetime
import re
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from answers.straw_stems import SHORT, SOUND
from sheafwright.accounts.services import membership_set
from sheafwright.records.fill import fill_due
from sheafwright.records.models import Bundles, HandGrade, Lot, StemSample
from sheafwright.records.services.grading import (
    bundles_record,
    grade_rule_set,
    hand_grade_record,
    stem_sample_record,
)
from sheafwright.records.services.stock import sale_record

DAY = datetime.date(2026, 11, 4)
PAGE = "/marl-hollow/straw/"


@pytest.fixture
def reed(threshing):
    return Lot.objects.get(code="R-26-1")


@pytest.fixture
def read(client):
    def page(person, address=PAGE):
        client.force_login(person, "django.contrib.auth.backends.ModelBackend")
        answer = client.get(address)
        assert answer.status_code == 200
        text = re.sub(r"<[^>]+>", " ", answer.content.decode())
        return " ".join(text.replace("&#x27;", "'").replace("\u00a0", " ").split())

    return page


@pytest.fixture
def send(client, ann):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")

    def post(kind, **said):
        said = {"id": uuid.uuid4(), "date": DAY, **said}
        return client.post(f"/marl-hollow/write/{kind}/", said)

    return post


def test_straw_that_nobody_graded_asks_for_a_handful(read, ann, reed):
    page = read(ann)
    assert "Not graded yet: twist a handful, and say whether it holds." in page
    assert "Which bundles to open Open 9 bundles" in page
    assert "Measure stems of a lot" in page


def test_a_handful_is_written_and_told_at_once(read, send, ann, reed):
    assert send("hand-grade", lot=reed.pk, twist="held", colour="bright").status_code
    page = read(ann)
    assert "by hand: coatwork, ridge, long straw" in page
    assert "Fit for coatwork, ridge and long straw." in page


def test_stems_tell_the_grade_with_its_confidence(read, writes, ann, reed):
    for number in range(1, 7):
        said = {"lot": reed, "date": DAY, "bundle": number}
        writes(stem_sample_record, stems=[SOUND] * 12, **said)
    page = read(ann)
    assert "grade 1, coatwork, 99% sure" in page
    assert "Grade 1 for coatwork, with 99% confidence. That settles it" in page
    assert "Which bundles to open" not in page
    assert "Being worked out" in page


def test_stems_that_settle_nothing_say_which_bundles_would(read, writes, ann, reed):
    stems = [SOUND] * 11 + [SHORT]
    writes(stem_sample_record, lot=reed, date=DAY, bundle=7, stems=stems)
    page = read(ann)
    assert "All came from one bundle" in page or "more stems" in page
    numbers = re.search(r"not by eye: ([\d, ]+)\.", page)[1].split(", ")
    assert "7" not in numbers


def test_bundles_are_told_off_by_a_tap_that_a_phone_keeps(client, ann, reed):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")
    page = client.get(PAGE).content.decode()
    (form,) = re.findall(r'<form[^>]*write/bundles/".*?</form>', page, flags=re.DOTALL)
    assert "data-keep-late" in form and 'name="count" value="5"' in form
    hidden = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]+)"', form))
    for _ in range(2):
        client.post("/marl-hollow/write/bundles/", hidden | {"count": "5"})
    assert list(Bundles.objects.values_list("count", flat=True)) == [5]
    assert "5 bundles. None was weighed" in client.get(PAGE).content.decode()


def test_bundles_put_back_below_none_are_refused_in_the_form(send, reed):
    answer = send("bundles", lot=reed.pk, count=-1)
    assert answer.status_code == 400
    assert b"More bundles are put back than were ever counted." in answer.content


def test_a_file_of_stems_is_taken_and_lengths_alone_too(send, reed):
    file = SimpleUploadedFile("stems.csv", b"length_mm,bends\n1050,0\n990,1\n")
    assert send("stem-sample", lot=reed.pk, stems_file=file).status_code == 302
    assert send("stem-sample", lot=reed.pk, lengths="104 99 101").status_code == 302
    kept = [sample.stems for sample in StemSample.objects.all()]
    assert kept[0][1] == {"length_mm": 990.0, "bends": 1.0}
    assert kept[1] == [{"length_mm": mm} for mm in (1040.0, 990.0, 1010.0)]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({}, "Give the file of stems, or type their lengths."),
        ({"lengths": "400"}, "should be a number from 20 to 3000"),
        ({"lengths": "long"}, ""),
    ],
)
def test_what_holds_no_stems_is_refused_in_the_form(send, reed, said, says):
    answer = send("stem-sample", lot=reed.pk, **said)
    assert answer.status_code == 400
    assert says in answer.content.decode()
    assert not StemSample.objects.exists()


def test_a_file_that_is_no_stems_is_refused_in_the_form(send, reed):
    file = SimpleUploadedFile("stems.json", b"[{")
    answer = send("stem-sample", lot=reed.pk, stems_file=file)
    assert answer.status_code == 400
    assert b"The file is not JSON" in answer.content


def test_a_holdings_own_rule_stands_in_the_table(read, send, writes, ann, reed):
    usual = "coatwork 76 cm 2.5 mm – 6.5 mm 0 0 90% 75% as is usual"
    assert usual in read(ann)
    said = {"use": "coatwork", "length_least_cm": "100 cm", "first_pct": "95"}
    assert send("grade-rule", **said).status_code == 302
    writes(grade_rule_set, use="ridge", buyer_name="Nell Ash", length_least_cm=80)
    page = read(ann)
    assert usual not in page
    assert "coatwork 100 cm 2.5 mm – 6.5 mm 0 0 95% 75% your own" in page
    assert "ridge 80 cm" in page and "Nell Ash" in page
    assert "ridge 45 cm" in page


def test_a_buyers_own_rule_is_not_for_ben_to_know(read, writes, ben, reed):
    writes(grade_rule_set, use="ridge", buyer_name="Nell Ash", length_least_cm=80)
    page = read(ben)
    assert "ridge 45 cm" in page
    assert "Nell Ash" not in page


def test_a_rule_is_the_owners_to_set(client, ben, reed):
    client.force_login(ben, "django.contrib.auth.backends.ModelBackend")
    assert client.get("/marl-hollow/write/grade-rule/").status_code == 404


def test_what_made_the_good_straw_is_told_when_it_was_worked_out(
    read, writes, marl, ann, reed
):
    writes(stem_sample_record, lot=reed, date=DAY, stems=[SOUND] * 9)
    fill_due(marl)
    page = read(ann)
    assert "The stems of 1 crop were measured: too few to say" in page
    assert "Long Meadow 1" in page


def test_a_lots_own_page_tells_how_good_it_is(read, writes, ben, reed):
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", colour="grey")
    writes(bundles_record, lot=reed, date=DAY, count=12)
    page = read(ben, f"/marl-hollow/lots/{reed.pk}/")
    assert "How good it is Fit for ridge alone. It is grey on one side." in page
    assert "12 bundles" in page and "Tell off bundles" in page


def test_a_buyer_reads_the_grade_and_writes_nothing(read, writes, marl, cleo, reed):
    membership_set(person=cleo, holding=marl, role="buyer")
    sale = {"lot": reed, "date": DAY, "kg": 100, "buyer": cleo, "buyer_name": "Cleo"}
    writes(sale_record, **sale)
    writes(hand_grade_record, lot=reed, date=DAY, twist="held")
    page = read(cleo, f"/marl-hollow/lots/{reed.pk}/")
    assert "Fit for coatwork" in page
    assert "Tell off bundles" not in page and "Grade a handful" not in page
    assert HandGrade.objects.count() == 1


def test_grain_is_not_graded_as_straw(read, ann, threshing):
    assert "Not graded yet" not in read(ann, "/marl-hollow/grain/")


def test_who_reads_inches_reads_inches(read, ann, reed):
    ann.units = "imperial"
    ann.save()
    assert re.search(r"coatwork 30\.0 in 0\.1", read(ann))


def test_a_length_is_told_as_it_was_measured_and_else_as_written(
    read, writes, ann, reed
):
    own = f"/marl-hollow/lots/{reed.pk}/"
    Lot.objects.filter(pk=reed.pk).update(length_cm=140)
    assert "140 cm, as written" in read(ann)
    assert "140 cm long as written down; nobody measured it." in read(ann, own)
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", length_cm=88)
    assert "88 cm" in read(ann)
    assert "A handful of it was 88 cm long." in read(ann, own)
    stems = [{"length_mm": 950 + 5 * n} for n in range(1, 41)]
    writes(stem_sample_record, lot=reed, date=DAY, bundle=1, stems=stems)
    assert "97 cm" in read(ann)
    line = "9 stems in 10 are 97 cm or longer, by 40 measured."
    assert line in read(ann, own)
    assert "140 cm" not in read(ann) + read(ann, own)
    assert "as written" not in read(ann)
