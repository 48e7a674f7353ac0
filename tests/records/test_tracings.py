"""Photographs of stems in the book: measured, kept, accepted once or thrown away."""

import datetime
import json
import sys
import uuid

import numpy as np
import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone
from PIL import Image

from photographs import GPS, MAKER, another, as_a_phone_writes, dark, good, stems_in
from sheafwright.answers.straw import straw
from sheafwright.feeds.stems import plain_rows
from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.models import Lot, Photograph, StemSample, Tracing
from sheafwright.records.selectors.grading import graded
from sheafwright.records.services import tracings
from sheafwright.records.services.grading import stem_sample_record, stems_of_file
from sheafwright.records.services.tracings import (
    KEPT_DAYS,
    MOST_PHOTOS,
    tracing_accept,
    tracing_drop,
    tracing_measure,
    tracings_tidy,
)
from sheafwright.server import worker

DAY = datetime.date(2026, 11, 4)


@pytest.fixture(autouse=True)
def measured_once(monkeypatch):
    """The same photograph holds the same stems, whichever test sends it."""
    monkeypatch.setattr(tracings, "measure_straw", stems_in)


@pytest.fixture
def measure(writes, reed, own_folder):
    def send(*photos, **said):
        said = {"lot": reed, "date": DAY, "photos": list(photos)} | said
        return writes(tracing_measure, **said)

    return send


@pytest.fixture
def accept(marl, ann):
    def send(tracing, stems):
        who = {"holding": marl, "made_by": ann}
        return tracing_accept(tracing=tracing, stems=stems, **who)

    return send


@pytest.fixture
def kept_files(own_folder):
    return lambda: sorted(path for path in own_folder.rglob("*") if path.is_file())


def all_of(tracing):
    return {stem["number"] for stem in tracing.said["stems"]}


def picture(file):
    with file.open() as kept:
        return np.asarray(Image.open(kept)).astype(float)


def again(tracing):
    """As another request finds it."""
    return Tracing.objects.get(pk=tracing.pk)


def test_stems_are_measured_and_wait_as_a_draft(measure):
    tracing = again(measure(good(), bundle=7))
    assert tracing.said["sentence"].startswith("5 stems measured.")
    assert [stem["on"] for stem in tracing.said["stems"]] == [1] * 5
    assert not StemSample.objects.exists()


def test_where_the_phone_was_is_in_no_kept_file(measure, kept_files):
    measure(as_a_phone_writes(good()))
    files = kept_files()
    assert len(files) == 2
    for path in files:
        assert MAKER.encode() not in path.read_bytes()
        with Image.open(path) as photo:
            assert not photo.getexif() and not photo.getexif().get_ifd(GPS)


def test_the_photograph_is_kept_whole_and_as_pages_show_it(measure):
    [photo] = measure(good()).photographs.all()
    assert picture(photo.whole).shape == (2400, 3200, 3)
    assert picture(photo.small).shape == (1800, 2400, 3)
    assert photo.lines["size"] == [2400, 1800]


def test_lines_lie_on_the_straw(measure):
    [photo] = measure(good()).photographs.all()
    shown = picture(photo.small)
    for line in photo.lines["stems"]:
        x, y = np.round(line[2:-2]).astype(int).T
        # The board is blue and straw is not.
        assert np.median(shown[y, x, 0] - shown[y, x, 2]) > 0
        aside = shown[y + 18, x]
        assert np.median(aside[:, 2] - aside[:, 0]) > 0


def test_what_is_accepted_counts_as_stems_of_a_file_do(
    measure, accept, writes, marl, reed
):
    tracing = again(measure(good()))
    sample = accept(tracing, all_of(tracing))
    said = json.dumps(straw([("a.jpg", good())]).to_json())
    other = writes(
        stem_sample_record, lot=reed, date=DAY, stems=stems_of_file(said.encode())
    )
    plain = [
        {k: v for k, v in row.items() if k not in ("photo", "stem")}
        for row in sample.stems
    ]
    assert plain == other.stems
    assert all(
        {"damage", "bends", "butt_mm", "brightness"} <= row.keys() for row in plain
    )


def test_a_stem_that_was_struck_out_is_not_in_the_sample(measure, accept, marl, reed):
    tracing = again(measure(good(), bundle=7, note="wet morning"))
    sample = accept(tracing, all_of(tracing) - {2})
    assert [row["stem"] for row in sample.stems] == [1, 3, 4, 5]
    assert {row["photo"] for row in sample.stems} == {1}
    assert (sample.lot, sample.bundle, sample.note) == (reed, 7, "wet morning")
    assert graded(holding=marl, lots=[reed])[reed.pk].stems.seen == 4


def test_stems_of_two_photographs_are_numbered_on(measure, accept):
    tracing = again(measure(good(), another()))
    on = [stem["on"] for stem in tracing.said["stems"]]
    assert on == [1] * 5 + [2] * (len(on) - 5) and on[-1] == 2
    sample = accept(tracing, {5, 6})
    assert [(row["photo"], row["stem"]) for row in sample.stems] == [(1, 5), (2, 6)]


def test_a_poor_photograph_is_told_of_beside_a_good_one(measure):
    tracing = again(measure(dark(), good()))
    [refused] = tracing.said["refused"]
    assert refused["name"] == "photograph 1" and "more light" in refused["why"]
    assert [photo.number for photo in tracing.photographs.all()] == [2]
    assert {stem["on"] for stem in tracing.said["stems"]} == {2}


def test_a_poor_photograph_alone_is_refused_and_leaves_nothing(measure, kept_files):
    with pytest.raises(ValidationError) as refused:
        measure(dark())
    assert "too dark; take it in more light" in refused.value.message_dict["photos"][0]
    assert not Tracing.objects.exists() and kept_files() == []


@pytest.mark.parametrize(
    ("photos", "said", "field", "says"),
    [
        ([], {}, "photos", "Take a photograph"),
        ([b""] * (MOST_PHOTOS + 1), {}, "photos", "too many at once"),
        ([b""], {"sheets": 1}, "sheets", "A board of 1 sheets can't be made"),
        ([b""], {"bar_mm": 100}, "bar_mm", "A bar of 100 mm is odd"),
        ([b""], {"date": datetime.date(2100, 1, 1)}, "date", "still to come"),
    ],
)
def test_what_is_odd_is_said_of_its_own_field(measure, photos, said, field, says):
    with pytest.raises(ValidationError) as refused:
        measure(*photos, **said)
    assert says in refused.value.message_dict[field][0]


def test_grain_has_no_stems(measure, grain):
    with pytest.raises(ValidationError, match="only straw is graded"):
        measure(good(), lot=grain)


def test_a_refused_entry_leaves_no_file(measure, kept_files):
    with pytest.raises(ValidationError):
        measure(good(), bundle=-3)
    assert not Photograph.objects.exists() and kept_files() == []


def test_sent_twice_it_is_one_draft_and_measured_once(measure, kept_files):
    id = uuid.uuid4()
    first, files = measure(good(), id=id), kept_files()
    assert measure(b"no photograph at all", id=id) == first
    assert Tracing.objects.count() == 1 and kept_files() == files


def test_another_lots_photographs_are_not_taken_for_these(measure, reed, marl, ann):
    id = uuid.uuid4()
    measure(good(), id=id)
    other = Lot.objects.create(
        holding=marl,
        made_by=ann,
        code="R2",
        kind="reed",
        variety="Red",
        harvest_year=2026,
    )
    with pytest.raises(SaidOtherwise):
        measure(good(), id=id, lot=other)


def test_accepted_twice_it_is_one_sample(measure, accept):
    tracing = again(measure(good()))
    assert accept(tracing, {1, 2}) == accept(again(tracing), {1, 2})
    assert StemSample.objects.count() == 1
    with pytest.raises(SaidOtherwise):
        accept(tracing, {1})


def test_nothing_is_accepted_of_nothing(measure, accept):
    with pytest.raises(ValidationError, match="Every stem is struck out"):
        accept(again(measure(good())), {99})
    assert not StemSample.objects.exists()


def test_a_draft_is_thrown_away_with_its_photographs(marl, measure, accept, kept_files):
    tracing = again(measure(good()))
    tracing_drop(holding=marl, tracing=tracing)
    assert not Tracing.objects.exists() and not Photograph.objects.exists()
    assert kept_files() == []
    with pytest.raises(ValidationError, match="were thrown away"):
        accept(tracing, {1})


def test_what_was_accepted_stays(marl, measure, accept, kept_files):
    tracing = again(measure(good()))
    accept(tracing, {1})
    with pytest.raises(ValidationError, match="stay in the book"):
        tracing_drop(holding=marl, tracing=tracing)
    assert len(kept_files()) == 2


def test_what_was_left_for_long_is_thrown_away(marl, measure, accept, kept_files):
    accept(again(measure(good())), {1})
    left, new = measure(good()), measure(good())
    long_ago = timezone.now() - datetime.timedelta(days=KEPT_DAYS + 1)
    Tracing.objects.exclude(pk=new.pk).update(made_at=long_ago)
    tracings_tidy(marl)
    assert not Tracing.objects.filter(pk=left.pk).exists()
    assert Tracing.objects.count() == 2 and len(kept_files()) == 4


def test_the_worker_throws_away_what_was_left(marl, measure, monkeypatch):
    measure(good())
    long_ago = timezone.now() - datetime.timedelta(days=KEPT_DAYS + 1)
    Tracing.objects.update(made_at=long_ago)
    # The test's own connection stays open, and no answer is wanted here.
    monkeypatch.setattr("django.db.close_old_connections", lambda: None)
    monkeypatch.setattr("sheafwright.records.fill.fill_due", lambda holding: None)
    worker._fill(marl)
    assert not Tracing.objects.exists()


def test_without_what_measures_it_says_how_to_get_it(measure, monkeypatch):
    monkeypatch.setitem(sys.modules, "cv2", None)
    with pytest.raises(ValidationError, match="extra “measure”"):
        measure(good())


def test_damage_is_read_of_a_csv_as_of_a_photograph():
    rows = stems_of_file(b"length_mm,crushed_mm,split_mm\n1050,0,0\n990,12,3.5\n")
    assert [row["damage"] for row in plain_rows(rows, "The file")] == [0, 2]
