"""The advice replayed: what the answer holds, and that it never looks ahead."""

import dataclasses
import json
from importlib import resources
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers import replay as replaying
from sheafwright.answers.judging import judge
from sheafwright.answers.replay import Sowing, prepared, replay
from sheafwright.core.decide.rules import NEVER
from sheafwright.feeds import decision
from sheafwright.feeds.weather import read

pytestmark = pytest.mark.usefixtures("few_lessons")
SCHEMA = json.loads((Path(__file__).parent / "schemas/replay.json").read_text("utf-8"))
DEMO = resources.files("sheafwright") / "data/demo/weather.csv.gz"
AUTUMN = Sowing(10, 10, latitude=52.4, altitude=85.0)
RULES = {"fixed_date", "first_fit_day", "wait_for_dry_days", "ripeness_sign"}
LEAST_DAYS = 20


@pytest.fixture(scope="module")
def record():
    return read(str(DEMO)).between(
        np.datetime64("2007-10-01").astype(object),
        np.datetime64("2020-12-31").astype(object),
    )


@pytest.fixture(scope="module")
def answer(few_lessons, record):
    return replay(record, AUTUMN, "modelled")


@pytest.fixture(scope="module")
def said(answer):
    return json.loads(json.dumps(answer.to_json(), allow_nan=False))


def test_the_json_follows_its_schema(said):
    jsonschema.Draft202012Validator(SCHEMA).validate(said)


def test_every_policy_is_judged_in_every_season(said):
    for season in said["seasons"]:
        assert {"advice", "foresight", *RULES} <= season["policies"].keys()
        assert season["policies"].keys() == said["policies"].keys()


def test_nothing_does_better_than_foresight_in_any_season(said):
    for season in said["seasons"]:
        best = season["policies"]["foresight"]["worth"]
        assert all(each["worth"] <= best for each in season["policies"].values())


def test_the_means_and_the_share_follow_from_the_seasons(said):
    def worth(name):
        return np.array([s["policies"][name]["worth"] for s in said["seasons"]])

    rule = max(RULES, key=lambda name: worth(name).mean())
    advice, best = worth("advice").mean(), worth("foresight").mean()
    share = (advice - worth(rule).mean()) / (best - worth(rule).mean())
    assert said["best_plain_rule"] == rule
    assert said["share_of_foresight"] == pytest.approx(share)
    assert said["policies"]["advice"]["mean"] == pytest.approx(advice)


def test_a_rule_is_set_as_one_of_its_settings(said):
    for season in said["seasons"]:
        for rule in RULES:
            settings = [v for n, v in season["policies"].items() if n != rule]
            assert season["policies"][rule] in settings


def test_stooks_are_carried_after_they_are_cut(said):
    carried = [
        (each["cut_date"], each["carried_date"])
        for season in said["seasons"]
        for each in season["policies"].values()
        if each["carried_date"]
    ]
    assert carried
    assert all(cut < home for cut, home in carried)


def test_the_same_seed_gives_the_same_answer(record, said):
    assert replay(record, AUTUMN, "modelled").to_json() == said


def test_where_the_advice_is_no_better_the_sentence_says_so(answer):
    best = answer.policies[answer.best_rule]
    equal = dataclasses.replace(answer, policies=answer.policies | {"advice": best})
    assert "no better than a plain rule" in equal.sentence


def changed_after(record, date, rng):
    """The record with every variable of the rest of that year drawn anew."""
    dates = record.dates
    later = (dates > date) & (dates <= np.datetime64(f"{str(date)[:4]}-12-31"))
    shuffled = rng.permutation(np.flatnonzero(later))
    values = {name: each.copy() for name, each in record.values.items()}
    for each in values.values():
        each[later] = each[shuffled]
    values["rain"][later] += 3.0
    values["tmax"][later] += 4.0
    return dataclasses.replace(record, values=values)


def lived(made, year):
    """The date on which the advice cut, and the season's first day."""
    season = int(np.flatnonzero(made.harvests.harvest_year == year)[0])
    position = made.harvests.position[season]
    cut = judge(made, season, seed=1).cut
    return position[0], None if cut == NEVER else position[cut]


def test_changing_later_days_changes_no_decision_with_the_forecasts_held(record):
    rng = np.random.default_rng(5)
    losses = decision.losses()
    made, _ = prepared(record, AUTUMN, "modelled", losses, np.random.default_rng(1))
    asked = 0
    for year in made.harvests.harvest_year[:10]:
        first, cut = lived(made, year)
        if cut is None:
            continue
        # On the first of the two it was answered to wait, on the other to cut.
        for day in (max(cut - 1, first), cut):
            other = changed_after(record, record.dates[day], rng)
            changed, _ = prepared(
                other,
                AUTUMN,
                "modelled",
                losses,
                np.random.default_rng(1),
                made.past.signals,
            )
            again = lived(changed, year)[1]
            asked += 1 + day - first
            assert again == cut if day == cut else again is None or again > day
    assert asked >= LEAST_DAYS


def test_seasons_are_judged_without_the_years_beside_them(record):
    made, _ = prepared(
        record, AUTUMN, "none", decision.losses(), np.random.default_rng(1)
    )
    years = made.harvests.harvest_year
    beside = np.datetime64(f"{years[4]}-12-31")
    other = changed_after(record, beside + 1, np.random.default_rng(3))
    changed, _ = prepared(
        other, AUTUMN, "none", decision.losses(), np.random.default_rng(1)
    )
    assert lived(made, years[4])[1] == lived(changed, years[4])[1]


@pytest.mark.prove
@pytest.mark.parametrize("forecasts", ["none", "modelled"])
def test_the_chances_said_are_reliable_on_the_demo_record(all_lessons, forecasts):
    answer = replay(read(str(DEMO)), AUTUMN, forecasts)
    for chance in answer.chances.values():
        assert chance.bins.inside.mean() >= 0.8
        assert chance.skill > 0
    assert replaying.TENTHS.size == 11
