"""What is said to someone with a little seed of a scarce wheat."""

import datetime
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers.seed_increase import IncreaseQuestion, seed_increase
from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.core.errors import OutOfRange

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas/seed_increase.json").read_text("utf-8")
)
LOT = SowingQuestion(
    thousand_grain_weight=46,
    germination=0.92,
    row_spacing=17.8,
    sown=datetime.date(2025, 10, 10),
    soil="loam",
)


def grown(seed, area=4.0, **asked):
    return seed_increase(IncreaseQuestion(seed, area, LOT, **asked))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_five_kilograms_are_enough_for_four_hectares_after_two_harvests():
    said = valid(grown(5))
    assert said["sentence"].startswith(
        "5.0\u00a0kg grown on thinly should be enough for 4.00\u00a0ha (464\u00a0kg, a "
        "part kept back) after 2 harvests: 9 chances in 10. Sow 4.0\u00a0kg on "
        "1,131 m² and keep 1.0\u00a0kg back; then sow about "
    )
    assert [year["year"] for year in said["by_year"]] == [1, 2]


def test_a_handful_takes_a_year_more():
    answer = grown(0.05)
    assert answer.harvests == 3
    assert answer.sentence.startswith("50 g grown on thinly")


def test_little_ground_takes_longer():
    assert grown(0.05, land=0.1).harvests > grown(0.05).harvests


def test_it_is_sown_thinner_than_for_straw():
    answer = grown(5)
    assert answer.thin.rate < answer.full.rate
    assert answer.needed == pytest.approx(answer.full.rate * 4 * 1.05 / 0.8)


def test_enough_seed_is_said_to_be_enough():
    said = valid(grown(500))
    assert said["harvests"] == 0
    assert said["by_year"] == []
    assert "enough for 4.00\u00a0ha already" in said["sentence"]


def test_what_never_suffices_is_said_not_to():
    said = valid(grown(0.001, area=1000, land=0.001))
    assert said["harvests"] is None
    assert "is not likely to be enough" in said["sentence"]


def test_no_seed_is_lost_on_the_way():
    years = grown(5).years
    np.testing.assert_allclose(years.in_hand, years.sown + years.kept + years.used)
    np.testing.assert_allclose(
        years.in_hand[:, 1:], (years.kept + years.harvested)[:, :-1]
    )


def test_no_more_is_sown_than_a_poor_year_needs():
    answer = grown(5)
    poor = 1800 * 0.85 * 0.85 / answer.thin.rate
    assert answer.years.sown.max() * poor <= answer.needed * (1 + 1e-9)


def test_half_the_yield_never_takes_fewer_harvests_and_double_never_more():
    for seed in (0.05, 0.5, 5, 50):
        answer = grown(seed)
        halved, doubled = (answer.harvests_if[name] for name in ("halve", "double"))
        assert halved >= answer.harvests >= doubled


def test_the_same_luck_gives_the_same_answer_and_other_luck_nearly_so():
    same, other = grown(5), grown(5, luck=2)
    assert same.to_json() == grown(5).to_json()
    assert other.chances == pytest.approx(same.chances, abs=0.05)


def test_the_law_stands_in_the_answer_with_its_source():
    answer = grown(5)
    assert "to sell, barter or give it away is unlawful" in valid(answer)["cautions"][0]
    law = [step for step in answer.working if "unlawful" in step.says]
    assert law[0].standing == "published"


def test_each_generation_is_held_to_its_own_purity():
    years = valid(grown(0.001, area=100))["by_year"]
    assert [year["purity_share"] for year in years[:4]] == [0.999, 0.997, 0.99, 0.99]


REFUSED = [
    ({"seed": 0}, "0 kg of seed can't be right"),
    ({"seed": float("nan")}, "nan kg of seed"),
    ({"seed": 5, "area": 0}, "An area of 0 ha can't be right"),
    ({"seed": 5, "land": -1}, "Ground of -1 ha a year"),
]


@pytest.mark.parametrize(("asked", "words"), REFUSED, ids=[each[1] for each in REFUSED])
def test_what_can_not_be_grown_on_is_refused(asked, words):
    with pytest.raises(OutOfRange) as refusal:
        grown(**asked)
    assert words in str(refusal.value)


def test_a_lot_without_a_day_of_sowing_is_refused():
    lot = SowingQuestion(46, 0.92, 17.8, plants=100, establishment=0.7)
    with pytest.raises(OutOfRange, match="No day of sowing is given"):
        IncreaseQuestion(5, 4, lot)
