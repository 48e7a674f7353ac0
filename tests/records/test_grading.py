"""Straw graded, bundled and measured in the book, and what is made of it there."""

import dataclasses
import datetime
import math
import uuid

import pytest
from django.core.exceptions import ValidationError

from answers.straw_stems import CRUSHED, SHORT, SOUND
from sheafwright.records.due.straw import KEPT, straw_due
from sheafwright.records.fill import fill_due
from sheafwright.records.models import Lot, SavedAnswer
from sheafwright.records.papers.labels import labels_of
from sheafwright.records.selectors.grading import graded, plan_of, rules_of
from sheafwright.records.selectors.in_hand import straw_in_store
from sheafwright.records.selectors.straw_grown import straw_grown
from sheafwright.records.services.grading import (
    bundles_record,
    grade_rule_set,
    hand_grade_record,
    stem_sample_record,
)

DAY = datetime.date(2026, 11, 4)


@pytest.fixture
def reed(threshing):
    return Lot.objects.get(code="R-26-1")


@pytest.fixture
def grain(threshing):
    return Lot.objects.get(code="G-26-1")


@pytest.fixture
def told(marl, reed):
    """What is now made of the reed."""
    return lambda: graded(holding=marl, lots=[reed])[reed.pk]


@pytest.fixture
def sample(writes, reed):
    def measure(*bundles, day=DAY):
        for number, stems in enumerate(bundles, 1):
            said = {"lot": reed, "date": day, "bundle": number}
            writes(stem_sample_record, stems=stems, **said)

    return measure


def test_a_handful_is_enough(writes, reed, told):
    assert told().fit is None
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", colour="grey")
    assert told().fit == ("ridge",)
    writes(hand_grade_record, lot=reed, date=DAY, twist="broke")
    assert told().fit == ()


def test_who_graded_it_knows_better(writes, reed, told):
    said = {"lot": reed, "date": DAY, "twist": "some_broke", "fit_for": "ridge"}
    writes(hand_grade_record, **said)
    assert told().fit == ("ridge",) and told().hand.fit == ("long_straw",)


def test_only_straw_is_graded_and_bundled(writes, grain):
    for service, said in (
        (hand_grade_record, {"twist": "held"}),
        (bundles_record, {"count": 4}),
        (stem_sample_record, {"stems": [SOUND]}),
    ):
        with pytest.raises(ValidationError, match="only straw is graded and bundled"):
            writes(service, lot=grain, date=DAY, **said)


def test_nothing_is_graded_before_it_happens(writes, reed):
    ahead = datetime.date.today() + datetime.timedelta(2)
    with pytest.raises(ValidationError, match="is still to come"):
        writes(hand_grade_record, lot=reed, date=ahead, twist="held")


def test_stems_of_several_bundles_make_a_grade(sample, told):
    sample(*[[SOUND] * 12] * 6)
    assert told().grade == ("first", "coatwork")
    assert (told().stems.bundles, told().stems.seen) == (6, 72)


def test_straw_unfit_for_coatwork_has_the_grade_of_what_it_is_fit_for(sample, told):
    sample(*[[CRUSHED] * 12] * 6)
    assert told().grade == ("first", "long_straw")


def test_samples_that_name_no_bundle_are_bundles_apart(writes, reed, told):
    for _ in range(3):
        writes(stem_sample_record, lot=reed, date=DAY, stems=[SOUND] * 5)
    assert told().stems.bundles == 3


@pytest.mark.parametrize(
    ("stems", "says"),
    [
        ([], "should hold a list of 1 to 5000 stems"),
        ([{"length_mm": -3}], "length_mm: -3 should be a number from 20 to 3000"),
        ("stems", "should hold a list"),
    ],
)
def test_what_is_no_stem_is_refused_whole(writes, reed, stems, says):
    with pytest.raises(ValidationError, match=says):
        writes(stem_sample_record, lot=reed, date=DAY, stems=stems)
    assert not reed.stem_samples.exists()


def test_the_last_rule_written_for_everyone_is_what_counts(writes, marl, sample, told):
    sample(*[[SOUND] * 12] * 6)
    writes(grade_rule_set, use="coatwork", length_least_cm=120)
    writes(grade_rule_set, use="coatwork", buyer_name="Nell", length_least_cm=60)
    assert told().grade == ("first", "ridge")
    assert rules_of(holding=marl)["coatwork"].first == 0.9
    writes(grade_rule_set, use="coatwork", length_least_cm=100)
    assert told().grade == ("first", "coatwork")


def test_a_rule_that_no_lot_could_keep_is_refused(writes):
    with pytest.raises(ValidationError, match="grade 1 should ask more"):
        writes(grade_rule_set, use="ridge", first_pct=70, second_pct=80)
    with pytest.raises(ValidationError, match="should be less than its most"):
        writes(grade_rule_set, use="ridge", length_least_cm=200)


def test_bundles_are_told_off_and_put_back(writes, reed, told):
    assert told().tied == 300
    for count in (5, 5, 1, -1):
        writes(bundles_record, lot=reed, date=DAY, count=count)
    assert told().tied == told().bundles.question.count == 10
    with pytest.raises(ValidationError, match="More bundles are put back"):
        writes(bundles_record, lot=reed, date=DAY, count=-11)
    assert told().tied == 10


def test_no_bundles_are_no_entry(writes, reed):
    with pytest.raises(ValidationError, match="No bundles were counted"):
        writes(bundles_record, lot=reed, date=DAY, count=0)


def test_a_tap_sent_twice_is_told_off_once(writes, reed, told):
    said = {"id": uuid.uuid4(), "lot": reed, "date": DAY, "count": 5}
    for _ in range(2):
        writes(bundles_record, **said)
    assert told().tied == 5


def test_bundles_weigh_what_they_would_at_the_trades_moisture(writes, reed, told):
    for kg in (6.2, 6.6):
        said = {"bundle_kg": kg, "moisture_pct": 18}
        writes(bundles_record, lot=reed, date=DAY, count=10, **said)
    assert told().bundles.weight == pytest.approx(20 * 6.4 * 0.82 / 0.85)


def test_the_buyers_own_bundle_is_reckoned_in(writes, reed, told):
    said = {"tied_as": "own", "bundle_kg": 8}
    writes(bundles_record, lot=reed, date=DAY, count=10, **said)
    assert told().bundles.units["own"] == pytest.approx(10)


def test_bundles_to_pull_stay_the_same_until_stems_are_written(marl, told, sample):
    first = plan_of(told(), {})
    assert first.numbers == plan_of(told(), {}).numbers
    sample([SOUND] * 12, [SOUND] * 11 + [SHORT])
    then = plan_of(told(), {})
    assert then.open == told().stems.more_bundles
    assert not {1, 2} & set(then.numbers)


def test_without_a_count_no_bundle_can_be_drawn(reed, told):
    reed.bundles = None
    reed.save()
    assert plan_of(told(), {}) is None


def labelled(marl, reed):
    (label,) = labels_of(
        holding=marl, lots=[reed], count=1, address_of=lambda lot: "https://x.example"
    ).labels
    return label.grade


def test_a_label_bears_the_grade_of_its_stems_or_of_a_handful(
    writes, marl, reed, sample
):
    assert labelled(marl, reed) == ""
    writes(hand_grade_record, lot=reed, date=DAY, twist="held")
    assert labelled(marl, reed) == "for coatwork, by hand"
    sample(*[[SOUND] * 12] * 4)
    assert labelled(marl, reed) == "grade 1, coatwork"
    # What was called at the drum gives way to what was measured, but for own words.
    reed.grade = "ridge"
    assert labelled(marl, reed) == "grade 1, coatwork"
    reed.grade = "best"
    assert labelled(marl, reed) == "best, grade 1, coatwork"


def test_a_label_says_what_was_called_where_nobody_measured(marl, reed):
    reed.grade = "ridge"
    assert labelled(marl, reed) == "ridge"


def test_straw_in_store_is_offered_for_its_tally(marl, reed):
    assert [lot.code for lot in straw_in_store(holding=marl)] == ["R-26-1"]


# What made the good straw.


def test_a_lot_is_told_with_the_field_and_the_days_behind_it(marl, reed, sample):
    assert straw_grown(holding=marl) == []
    sample([SOUND] * 4, [SOUND] * 3 + [SHORT])
    (grown,) = straw_grown(holding=marl)
    assert (grown.field, grown.stems) == ("Long Meadow", 8)
    assert grown.means["length_mm"] == (7 * 1050 + 610) / 8
    assert grown.means["brightness"] is None
    assert grown.cut == datetime.date(2026, 8, 5)
    assert grown.carried == datetime.date(2026, 8, 20)


def test_nothing_is_due_until_a_stem_was_measured(marl, sample):
    assert straw_due(marl) is None
    sample([SOUND] * 4)
    due = straw_due(marl)
    answer, _chart = due.answer(None)
    assert math.isnan(answer.question.lots[0].rain_on_stooks_mm)
    assert due.inputs_sha256() == straw_due(marl).inputs_sha256()
    sample([SHORT] * 4)
    assert due.inputs_sha256() != straw_due(marl).inputs_sha256()


def test_the_worker_keeps_the_answer(marl, sample):
    sample([SOUND] * 4)
    fill_due(marl)
    kept = SavedAnswer.objects.get(question=KEPT, subject=marl.pk)
    assert "1 crop were measured: too few to say" in kept.said["sentence"]


@dataclasses.dataclass
class Weather:
    """A source of weather whose record holds some days of rain."""

    record: object
    columns: object = None


def test_rain_on_the_stooks_is_the_gauges_where_that_was_read(
    writes, marl, sample, tmp_path
):
    sample([SOUND] * 4)
    days = [datetime.date(2026, 8, 1) + datetime.timedelta(n) for n in range(25)]
    rain = [round(0.3 * (n * 7 % 11), 1) for n in range(25)]
    lines = [
        "date,tmin_c,tmax_c,rain_mm",
        *(f"{d},{9 + n % 4},{19 + n % 5},{rain[n]}" for n, d in enumerate(days)),
    ]
    path = tmp_path / "weather.csv"
    path.write_text("\n".join(lines))
    common = {"files": [], "as_of": None, "gauge": [(days[6], 11.0, None, None)]}
    source = Weather(type("File", (), {"path": str(path)}))
    answer, _chart = straw_due(marl, source, common).answer(None)
    # From the 6th to the 20th, 11 mm on the 7th.
    fell = sum(rain[5:20]) - rain[6] + 11
    assert answer.question.lots[0].rain_on_stooks_mm == pytest.approx(fell)
