"""The season outlook: its schema, what moves it, and what it refuses."""

import datetime
import itertools
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers.question import STAGES
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.forecast.read import read

SCHEMA = json.loads((Path(__file__).parent / "schemas/outlook.json").read_text("utf-8"))
DAY = datetime.date(2025, 8, 7)
FORECAST_FROM = datetime.date(2025, 8, 8)
NOTHING_SEEN = {"seen": {}}


def band(answer, stage):
    """Days between the 10 and 90 % dates of a stage."""
    early, _, late = answer.stages[stage]
    return (late - early).days


def likely(answer, stage):
    return answer.stages[stage][1]


def says(answer):
    return " ".join(step.says for step in answer.working)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"as_of": datetime.date(2025, 1, 10), "seen": {}},
        {"as_of": datetime.date(2025, 9, 25)},
        {"sown": datetime.date(2025, 4, 20), "seen": {}},
    ],
    ids=["harvest", "winter", "late", "sown too late"],
)
def test_the_answer_follows_its_schema(look, changes):
    answer = json.loads(json.dumps(look(**changes).to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(answer)


def test_every_stage_has_its_place_in_the_schema():
    assert SCHEMA["properties"]["stages"]["required"] == list(STAGES)


def test_stages_come_in_order(look):
    stages = look(**NOTHING_SEEN).stages
    for dates in stages.values():
        assert list(dates) == sorted(dates)
    for before, after in itertools.pairwise(stages.values()):
        assert before <= after


def test_a_stage_that_was_seen_came_on_that_day(look):
    seen = {"flowering": datetime.date(2025, 6, 25)}
    assert look(seen=seen).stages["flowering"] == (seen["flowering"],) * 3


def test_a_stage_that_was_seen_makes_the_later_ones_surer(look):
    assert band(look(), "soft_dough") < 0.7 * band(look(**NOTHING_SEEN), "soft_dough")


def test_greener_grain_is_later_to_soft_dough(look):
    green, ripe = (look(signs={"grain": level}) for level in ("milk", "thumbnail dent"))
    assert likely(green, "soft_dough") > likely(ripe, "soft_dough")
    assert "Signs seen by you: grain milk" in says(green)


def test_a_sign_that_no_crop_should_show_is_doubted(look):
    july = {"as_of": datetime.date(2025, 7, 1), "seen": {}}
    assert "read it again" in says(look(signs={"nodes": "yellow"}, **july))
    assert "read it again" not in says(look(signs={"nodes": "green"}, **july))


def test_ones_own_early_dates_make_the_crop_earlier_and_surer(look, tmp_path):
    path = tmp_path / "seasons.csv"
    rows = [
        "2021-10-12,2022-06-04,",
        "2022-10-10,2023-06-01,",
        "2023-10-09,,2024-07-18",
    ]
    path.write_text("\n".join(["sown,flowered,cut", *rows]))
    book, own = look(**NOTHING_SEEN), look(own_seasons=str(path), **NOTHING_SEEN)
    assert likely(own, "flowering") < likely(book, "flowering")
    assert band(own, "flowering") < band(book, "flowering")
    assert "3 of your own seasons" in says(own)


def test_dates_after_the_day_of_the_question_teach_nothing(look, tmp_path):
    path = tmp_path / "seasons.csv"
    past = "2022-10-10,2023-06-01,"
    answers = []
    for cut in ("2025-08-20", "2025-09-20"):
        path = tmp_path / f"{cut}.csv"
        path.write_text(f"sown,flowered,cut\n{past}\n2024-10-10,2025-06-19,{cut}\n")
        answers.append(look(own_seasons=str(path)))
    assert answers[0].stages == answers[1].stages


@pytest.fixture
def gauge(tmp_path, lines):
    def gauge(n_days, ratio):
        path = tmp_path / f"{n_days}-{ratio}.csv"
        cells = [line.split(",") for line in lines[1:] if line[:10] <= "2025-08-07"]
        rows = [
            f"{date},{ratio * float(rain):.1f},{tmin},{tmax}"
            for date, tmin, tmax, rain, *_ in cells[-n_days:]
        ]
        path.write_text("\n".join(["date,rain_mm,tmin_c,tmax_c", *rows]))
        return str(path)

    return gauge


def test_a_wetter_field_is_worth_less(look, gauge):
    wetter = look(own_readings=gauge(400, 1.6))
    assert wetter.advice.worth_now < look().advice.worth_now
    assert wetter.week.chance < look().week.chance


def test_the_odds_are_wide_until_there_are_readings_enough(look, gauge):
    bands = [
        band(look(own_readings=readings, **NOTHING_SEEN), "flowering")
        for readings in (None, gauge(10, 1.0), gauge(600, 1.0))
    ]
    assert bands == sorted(bands, reverse=True)
    assert bands[-1] < bands[0]


def test_without_a_class_the_one_most_in_need_of_cold_is_taken(look):
    assert look().to_json()["variety_class"] == "end-january"
    spring = look(sown=datetime.date(2025, 2, 26), seen={})
    assert spring.to_json()["variety_class"] == "end-february"
    assert "No class of variety given" in says(spring)


def test_a_crop_sown_after_its_class_is_never_called_safe(look):
    march = {"sown": datetime.date(2025, 3, 20), "seen": {}}
    cold = look(variety_class="end-january", **march).cold
    assert cold.status == "at_risk"
    assert cold.uneven > 0.5
    assert look(variety_class="alternative", **march).cold.shares["safe"] == 0


def test_a_crop_short_of_cold_is_told_in_the_sentence(look):
    answer = look(sown=datetime.date(2025, 3, 20), variety_class="end-january", seen={})
    assert "never has the cold it needs" in answer.sentence


def test_a_days_chance_is_told_whether_or_not_the_crop_is_ripe_then(look):
    green = look(seen={"flowering": datetime.date(2025, 7, 20)}).to_json()
    assert green["advice"]["action"] == "not_fit"
    assert green["fit_week"]["by_start"][0]["chance"] > 0
    assert green["fit_week"]["chance"] < look().to_json()["fit_week"]["chance"]


def test_days_shown_begin_with_the_season_and_run_on_without_a_gap(look):
    winter = look(as_of=datetime.date(2025, 1, 10), **NOTHING_SEEN).to_json()
    days = [day["date"] for day in winter["by_cutting_day"]]
    assert "2025-06-20" < days[0] < "2025-07-31"
    dates = np.array(days, dtype="datetime64[D]")
    assert (np.diff(dates).astype(int) == 1).all()


def test_a_dry_forecast_makes_cutting_worth_more_than_a_wet_one(look, forecast_file):
    dry, wet = (
        look(forecast=read(forecast_file(FORECAST_FROM, [rain] * 6))) for rain in (0, 9)
    )
    assert dry.advice.worth_now > look().advice.worth_now > wet.advice.worth_now
    assert dry.week.by_start[0] > look().week.by_start[0] > wet.week.by_start[0]
    assert dry.to_json()["forecast_days"] == 6


def test_an_old_forecast_is_believed_less(look, forecast_file):
    rain = [0] * 12
    new = look(forecast=read(forecast_file(FORECAST_FROM, rain)))
    early = FORECAST_FROM - datetime.timedelta(4)
    old = look(forecast=read(forecast_file(early, rain)))
    assert old.season.issued.correlation[0] == new.season.issued.correlation[4]
    assert old.week.by_start[0] < new.week.by_start[0]
    assert "4 days old" in says(old)


def test_the_same_seed_gives_the_same_answer_and_another_one_hardly_moves_it(look):
    first, again, other = look(), look(as_of=DAY), look(seed=2)
    assert first.to_json() == again.to_json()
    assert first.to_json() != other.to_json()
    assert abs(first.advice.worth_now - other.advice.worth_now) < 0.1


def test_a_sentence_never_speaks_the_engines_words(look):
    told = [look(), look(**NOTHING_SEEN), look(as_of=datetime.date(2025, 9, 25))]
    for answer in told:
        words = f"{answer.sentence} {says(answer)}".lower()
        assert not {"policy", "policies", "draws", "futures", "roll-out"} & set(
            words.split()
        )


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"sown": datetime.date(2025, 10, 1), "seen": {}}, "not in the ground"),
        ({"sown": datetime.date(1990, 10, 1), "seen": {}}, "begins on 1995-01-01"),
        ({"sown": datetime.date(2023, 10, 1), "seen": {}}, "long off the field"),
        ({"latitude": 80.0}, "latitude of 80°"),
        ({"latitude": float("nan")}, "latitude of nan°"),
        ({"altitude": 9000.0}, "No wheat grows at 9000 m"),
        ({"area": -2.0}, "No field has -2 ha"),
        ({"area": float("inf")}, "No field has inf ha"),
        ({"variety_class": "widgeon"}, "not a class of variety"),
        ({"seen": {"tillering": DAY}}, "not a stage that can be seen"),
        ({"seen": {"milk": DAY + datetime.timedelta(1)}}, "the last day known"),
        ({"signs": {"grain": "blue"}}, "can't be 'blue'"),
        ({"signs": {"leaf": "green"}}, "not a sign we know"),
        ({"as_of": datetime.date(2026, 3, 1)}, "The last day with rain"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_cannot_be_is_refused_in_a_sentence(look, changes, told):
    with pytest.raises((OutOfRange, NotEnoughWeather), match=told) as refusal:
        look(**changes)
    assert str(refusal.value).endswith(".")
    assert "\n" not in str(refusal.value)


def test_stages_seen_out_of_order_are_refused_by_name(look):
    seen = {
        "flowering": datetime.date(2025, 6, 10),
        "ear_out": datetime.date(2025, 6, 14),
    }
    with pytest.raises(OutOfRange, match="flowering is said to be seen on 2025-06-10"):
        look(seen=seen)


@pytest.fixture
def shortened(tmp_path, lines):
    def shortened(keep):
        path = tmp_path / "weather.csv"
        path.write_text("\n".join([lines[0], *filter(keep, lines[1:])]))
        return {"weather": str(path), "columns": None, "latitude": 52.4}

    return shortened


def test_a_record_that_ends_a_day_early_is_answered_for_its_last_day(look, shortened):
    answer = look(**shortened(lambda line: line[:10] < "2025-08-07"))
    assert answer.to_json()["as_of"] == "2025-08-06"
    assert "the last day on record before 7 August 2025" in says(answer)


def test_a_place_not_given_is_refused_and_a_height_not_given_is_assumed(
    look, shortened
):
    record = shortened(lambda line: True)
    assert "so 50 m taken" in says(look(**record))
    with pytest.raises(OutOfRange, match="does not say where it is"):
        look(**record | {"latitude": None})


def test_a_gap_since_sowing_is_refused_by_its_first_day(look, shortened):
    record = shortened(lambda line: not line.startswith("2025-03"))
    with pytest.raises(NotEnoughWeather, match=r"31 days since sowing.*2025-03-01"):
        look(**record)


def test_too_few_years_are_refused_by_their_number(look, shortened):
    record = shortened(lambda line: line >= "2018")
    with pytest.raises(NotEnoughWeather, match=r"7 whole harvests.*at least 10"):
        look(**record)


def test_a_harvest_with_a_gap_is_told_and_not_learned_from(look, shortened):
    answer = look(**shortened(lambda line: not line.startswith("2003-05")))
    assert "Not learned from: 2003 (temperatures are missing on 31" in says(answer)
