import datetime
import uuid

from sheafwright.records.clock import now, today
from sheafwright.records.models import Rick, SavedAnswer
from sheafwright.records.selectors.today import Urgency, jobs_today
from sheafwright.records.services.crop import observation_record
from sheafwright.records.services.inspection import certificate_add
from sheafwright.records.services.store import rick_build, rick_reading_record


def _rick(marl, ann, cover=Rick.Cover.ROOF):
    return rick_build(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        name="Barn rick",
        built=today(marl),
        cover=cover,
    )


def _outlook(marl, sowing, action, soft_dough):
    return SavedAnswer.objects.create(
        holding=marl,
        question="outlook",
        subject=sowing.pk,
        day=today(marl),
        seed=1,
        said={
            "sentence": "Said.",
            "advice": {"action": action, "sentence": "7 chances in 10."},
            "stages": {"soft_dough": {"p50": soft_dough.isoformat()}},
        },
    )


def _this_year(sowing):
    sowing.harvest_year = today(sowing.holding).year
    sowing.date = today(sowing.holding) - datetime.timedelta(days=200)
    sowing.save()


def test_a_holding_with_nothing_on_it_has_nothing_to_do(marl):
    assert jobs_today(holding=marl) == []


def test_a_hot_rick_comes_before_a_field_to_cut(marl, ann, sowing):
    _this_year(sowing)
    _outlook(marl, sowing, "cut", today(marl))
    rick_reading_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        rick=_rick(marl, ann),
        at=now(marl),
        temperature_c=75.0,
    )
    urgencies = [job.urgency for job in jobs_today(holding=marl)]
    assert urgencies == [Urgency.DANGER, Urgency.CUT]


def test_a_field_to_cut_is_said_with_its_odds(marl, sowing):
    _this_year(sowing)
    _outlook(marl, sowing, "cut", today(marl))
    (job,) = jobs_today(holding=marl)
    assert (job.says, job.why) == ("Cut Long Meadow today.", "7 chances in 10.")


def test_a_field_far_from_fit_is_not_spoken_of(marl, sowing):
    _this_year(sowing)
    _outlook(marl, sowing, "not_fit", today(marl) + datetime.timedelta(days=60))
    assert jobs_today(holding=marl) == []


def _may_lodge(marl, sowing, chance, in_ear_from):
    SavedAnswer.objects.create(
        holding=marl,
        question="lodging",
        subject=sowing.pk,
        inputs_sha256=str(chance),
        day=today(marl),
        seed=1,
        said={
            "chance_over_tenth": chance,
            "by_date": [{"date": in_ear_from.isoformat()}],
        },
    )


def test_a_crop_that_may_well_lodge_is_spared_manure_until_its_ear_is_out(marl, sowing):
    _this_year(sowing)
    _may_lodge(marl, sowing, 0.62, today(marl) + datetime.timedelta(days=60))
    (job,) = jobs_today(holding=marl)
    assert job.says == "Spread no manure on Long Meadow."
    assert job.why.startswith("6 chances in 10 that more than a tenth of it goes down")


def test_in_ear_nothing_helps_but_to_look_what_lies(marl, sowing):
    _this_year(sowing)
    _may_lodge(marl, sowing, 0.62, today(marl) - datetime.timedelta(days=9))
    (job,) = jobs_today(holding=marl)
    assert job.says == "Walk Long Meadow after the next gale."


def test_a_crop_that_will_likely_stand_or_was_just_seen_is_not_spoken_of(
    marl, ann, sowing
):
    _this_year(sowing)
    _may_lodge(marl, sowing, 0.5, today(marl))
    assert jobs_today(holding=marl) == []
    _may_lodge(marl, sowing, 0.9, today(marl))
    assert len(jobs_today(holding=marl)) == 1
    observation_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        sowing=sowing,
        date=today(marl) - datetime.timedelta(days=2),
        lodged_pct=5.0,
    )
    assert jobs_today(holding=marl) == []


def test_a_rick_in_the_open_is_to_be_covered(marl, ann):
    _rick(marl, ann, cover=Rick.Cover.OPEN)
    urgencies = {job.urgency for job in jobs_today(holding=marl)}
    assert urgencies == {Urgency.READING, Urgency.COVER}


def test_a_certificate_without_straw_is_spoken_of(marl, ann):
    certificate_add(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        holder="Marl Hollow",
        is_own=True,
        body="The body",
        code="XX-ORG-00",
        scope="cereals",
        covers_straw=False,
        since=today(marl) - datetime.timedelta(days=100),
        expires=today(marl) + datetime.timedelta(days=200),
    )
    assert [job.says for job in jobs_today(holding=marl)] == [
        "Straw is not on your certificate."
    ]
