import datetime
import uuid

import pytest

from sheafwright.records import fill
from sheafwright.records.due import Due, common_asks, tables_sha256
from sheafwright.records.due.lodging import lodging_due
from sheafwright.records.models import (
    Field,
    Observation,
    PastCrop,
    SavedAnswer,
    Sowing,
    WeatherSource,
)
from sheafwright.records.saved import saved
from sheafwright.records.selectors.grown import crops_grown
from sheafwright.records.services.crop import observation_record, plant_count_record
from sheafwright.records.services.ground import past_crop_add
from sheafwright.records.services.harvest import cut_record
from sheafwright.records.services.work import (
    gauge_reading_record,
)


@pytest.fixture(scope="module", autouse=True)
def worked_out_once():
    """Of the same, asked by several of these tests, the engine works out one answer."""
    answers, work_out = {}, fill._work_out

    def once(due):
        rests_on = due.question, due.inputs_sha256()
        if rests_on not in answers:
            answers[rests_on] = work_out(due)
        return answers[rests_on]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(fill, "_work_out", once)
        yield


@pytest.fixture
def standing_crop(sowing, marl, weather):
    sowing.date, sowing.harvest_year = datetime.date(2024, 10, 10), 2025
    sowing.save()
    return sowing


def _kinds():
    """Of answers by the weather; the plan has tests of its own."""
    kept = SavedAnswer.objects.exclude(question="cropping")
    return sorted(kept.values_list("question", flat=True))


def test_only_the_plan_is_due_without_weather(marl, sowing):
    assert {due.question for due in fill.due_answers(marl)} == {"cropping"}


def test_an_outlook_is_kept_with_all_that_draws_it_again(marl, standing_crop):
    fill.fill_due(marl)
    kept = SavedAnswer.objects.get(question="outlook")
    assert kept.said["advice"]["action"] in ("cut", "wait", "not_fit", "too_late")
    assert kept.chart.startswith("<svg")
    assert kept.tables_sha256 == tables_sha256()


def test_the_same_is_not_worked_out_twice(marl, standing_crop, monkeypatch):
    fill.fill_due(marl)
    monkeypatch.setattr(fill, "_work_out", lambda due: pytest.fail("worked out again"))
    fill.fill_due(marl)


def test_what_rests_on_a_file_that_was_put_right_holds_again(marl, sowing):
    def shown(said):
        due = Due("outlook", sowing, {"tables": "", "files": said}, _answer(said))
        fill._fill(marl, due)
        return saved(question="outlook", about=[sowing])[sowing.pk].said["says"]

    files = ("right", "wrong", "right", "right", "wrong")
    assert [shown(said) for said in files] == list(files)
    assert SavedAnswer.objects.count() == 2


def _answer(said):
    class Answer:
        def to_json(self):
            return {"says": said}

    return lambda folder: (Answer(), None)


def test_a_stage_seen_makes_a_new_answer(marl, ann, standing_crop):
    fill.fill_due(marl)
    observation_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        sowing=standing_crop,
        date=datetime.date(2025, 6, 19),
        stage="flowering",
    )
    fill.fill_due(marl)
    assert _kinds() == [
        "comb_winter",
        "lodging",
        "outlook",
        "outlook",
        "rain",
        "replay",
        "sowings",
    ]


def test_stooks_have_their_answer_and_a_cut_field_has_none(marl, ann, standing_crop):
    cut_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        sowing=standing_crop,
        date=datetime.date(2025, 8, 4),
        area_ha=2.0,
        sheaves=1500,
    )
    fill.fill_due(marl)
    assert _kinds() == ["comb_winter", "rain", "replay", "sowings", "stooks"]


def test_what_the_engine_refuses_is_kept_as_its_sentence(marl, standing_crop, weather):
    marl.latitude_deg = None
    marl.save()
    weather.columns = ""
    weather.save()
    fill.fill_due(marl)
    for question in ("outlook", "lodging"):
        kept = SavedAnswer.objects.get(question=question)
        assert kept.said["refused"].endswith(".")


def test_a_crop_on_ground_that_is_known_is_told_its_yield(marl, write, standing_crop):
    _say_the_ground(write, standing_crop.field)
    fill.fill_due(marl)
    assert _kinds() == [
        "comb_winter",
        "lodging",
        "outlook",
        "rain",
        "replay",
        "sowings",
        "yield",
    ]
    kept = SavedAnswer.objects.get(question="yield").said
    assert (kept["product"], kept["own_harvests"]) == ("reed", 0)
    # Index 1 after wheat on medium ground, where 797 mm fall.
    assert kept["nitrogen_low_kg_per_ha"] == 60
    lodging = SavedAnswer.objects.get(question="lodging").said
    assert lodging["crop"]["nitrogen_index"] == 1


def test_what_was_counted_and_measured_is_what_is_asked_of(marl, write, standing_crop):
    day = datetime.date(2025, 6, 2)
    write(
        plant_count_record,
        sowing=standing_crop,
        date=day,
        counts=[40, 50, 60],
        place_m2=0.25,
    )
    write(observation_record, sowing=standing_crop, date=day, height_cm=131.0)
    (due,) = (d for d in fill.due_answers(marl) if d.question == "lodging")
    assert due.asks["plants_per_m2"] == 200
    assert due.asks["height_cm"] == 131


def test_what_lay_in_past_years_is_learned_from(marl, standing_crop, tmp_path):
    for year, lodged_pct in ((2019, 30.0), (2030, 90.0)):
        past = Sowing.objects.get(pk=standing_crop.pk)
        past.pk, past._state.adding = uuid.uuid4(), True
        past.date = datetime.date(year - 1, 10, 10)
        past.harvest_year = year
        past.save()
        for lay in (lodged_pct, 5.0):
            Observation.objects.create(
                holding=marl,
                made_by=past.made_by,
                sowing=past,
                date=datetime.date(year, 7, 20),
                lodged_pct=lay,
            )
    fill.fill_due(marl)
    (due,) = (d for d in fill.due_answers(marl) if d.question == "lodging")
    # What lies stays down; of 2030 there is no weather.
    assert [row[:2] for row in due.asks["lay"]] == [(datetime.date(2018, 10, 10), 30)]
    said = due.answer(tmp_path)[0].to_json()
    assert said["own_years"] == 1


def _sowings_due(holding):
    *_others, last = fill.due_answers(holding)
    assert last.question == "sowings"
    return last


def test_sowings_are_compared_after_all_that_presses(marl, standing_crop, tmp_path):
    due = _sowings_due(marl)
    assert due.asks["plants_per_m2"] == 120
    answer, draw = due.answer(tmp_path)
    said = answer.to_json()
    assert [row["sown"] for row in said["by_sowing"]][-2:] == ["02-10", "02-26"]
    assert {row["plants_per_m2"] for row in said["by_sowing"]} == {120}
    assert "vconcat" in draw().to_dict()


def test_no_day_and_no_reading_compares_the_sowings_anew(marl, write, standing_crop):
    before = _sowings_due(marl).inputs_sha256()
    marl.looked_at_as_of += datetime.timedelta(days=1)
    marl.save()
    day = datetime.date(2025, 8, 7)
    write(gauge_reading_record, date=day, rain_mm=3.0, tmin_c=9.0, tmax_c=20.0)
    assert _sowings_due(marl).inputs_sha256() == before


def test_another_wheat_or_another_stand_compares_them_anew(marl, write, standing_crop):
    hashes = {_sowings_due(marl).inputs_sha256()}
    standing_crop.variety_class = "alternative"
    standing_crop.save()
    hashes.add(_sowings_due(marl).inputs_sha256())
    counted = {"date": datetime.date(2025, 3, 2), "place_m2": 0.25}
    write(plant_count_record, sowing=standing_crop, counts=[50, 52], **counted)
    hashes.add(_sowings_due(marl).inputs_sha256())
    assert len(hashes) == 3
    assert _sowings_due(marl).asks["plants_per_m2"] == 200


def test_where_nothing_was_sown_the_usual_stand_is_compared(marl, weather):
    due = _sowings_due(marl)
    assert (due.asks["class"], due.asks["plants_per_m2"]) == ("", 170)


def test_a_past_summer_of_which_nothing_can_be_learned_keeps_no_answer_back(
    marl, standing_crop, tmp_path
):
    source = WeatherSource.objects.get()
    common = common_asks(marl, source)
    (crop,) = crops_grown(holding=marl, sowings=[standing_crop])
    before_the_record = [(datetime.date(1980, 10, 10), 30.0, 200, 120, 1)]
    due = lodging_due(crop, before_the_record, source, common)
    said = due.answer(tmp_path)[0].to_json()
    assert said["own_years"] == 0


def _say_the_ground(write, field):
    field.soil_kind = Field.SoilKind.MEDIUM
    field.save()
    write(past_crop_add, field=field, harvest_year=2024, crop=PastCrop.Crop.WHEAT)


def test_the_advice_is_replayed_over_the_record_once(marl, ann, standing_crop):
    fill.fill_due(marl)
    kept = SavedAnswer.objects.get(question="replay")
    said = kept.said
    assert said["seasons"] == 30
    assert set(said["policies"]) == {"advice", "foresight", said["best_plain_rule"]}
    assert said["policies"]["foresight"]["spoiled"] <= min(
        said["policies"][name]["spoiled"]
        for name in ("advice", said["best_plain_rule"])
    )
    assert any(
        step["says"].startswith("Sown on 10 October") for step in said["working"]
    )
    # A gauge read today changes nothing of past seasons.
    gauge_reading_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        date=datetime.date(2025, 8, 7),
        rain_mm=3,
    )
    fill.fill_due(marl)
    assert SavedAnswer.objects.filter(question="replay").count() == 1
