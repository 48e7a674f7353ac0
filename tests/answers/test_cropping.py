"""What a cropping plan says to the grower."""

import dataclasses
import datetime
import json
from importlib import resources
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.cropping import cropping, others
from sheafwright.answers.cropping_problem import problem_of
from sheafwright.core.errors import NoPlan, OutOfRange
from sheafwright.core.inputs.cropping import Buyer, Increase, Pin, Wanted
from sheafwright.feeds.cropping import (
    Busy,
    CroppingQuestion,
    FieldAsked,
    read_question,
)

DEMO = resources.files("sheafwright") / "data/demo/cropping.toml"
SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "cropping.json").read_text("utf-8"))
LONG_AGO = datetime.date(2010, 1, 1)


def field(name, history=("ley", "ley"), area_ha=2.0, **said):
    said = {"conversion_from": LONG_AGO} | said
    return FieldAsked(name, area_ha, history, **said)


def asked(*fields, years=2, **said):
    said = {"hours_a_week": 500.0} | said
    return CroppingQuestion(first_year=2027, years=years, fields=fields, **said)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


@pytest.fixture(scope="module")
def demo():
    return cropping(read_question(DEMO))


@pytest.fixture(scope="module")
def said(demo):
    return valid(demo)


def year_of(said, name, year):
    row = next(each for each in said["fields"] if each["field"] == name)
    return next(each for each in row["years"] if each["year"] == year)


def test_the_first_sentence_says_what_to_sow_where(said):
    first = said["sentence"].split(". ")[0]
    assert first.startswith("For the harvest of 2026: autumn wheat in ")
    for each in said["fields"]:
        assert each["field"] in first


def test_what_grows_adds_up_to_all_that_there_is(said):
    area = sum(each["area_ha"] for each in said["fields"])
    for year in said["totals"]:
        assert sum(year["area_ha"].values()) == pytest.approx(area)


def test_more_than_all_the_fields_is_refused_in_a_whole_sentence():
    wanted = (Wanted(2027, "ley", least_ha=60.0),)
    with pytest.raises(NoPlan, match=r"60 ha of ley in 2027, but .* are 2\.0 ha\.$"):
        cropping(asked(field("A"), wanted=wanted))


def test_the_worth_is_that_of_the_years_and_the_worst_seasons_are_worse(said):
    worths = [year["worth_gbp"] for year in said["totals"]]
    assert sum(worths) == pytest.approx(said["worth_gbp"], abs=len(worths))
    worst = sum(year["worst_season_gbp"] for year in said["totals"])
    assert said["worth_gbp"] - worst == pytest.approx(said["risk_gbp"], abs=7)
    assert said["risk_gbp"] > 0


def test_the_score_is_worth_less_cautious_risk_and_the_ley_that_is_left(demo):
    caution = demo.plan.problem.seasons.caution
    stands = {
        name: row[-1].left for name, row in demo.plan.grown.items() if row[-1].left
    }
    areas = {each.name: each.area_ha for each in demo.question.fields}
    each_year = demo.plan.problem.ground.ley_left_gbp_per_ha
    ley = sum(min(2, left) * areas[name] * each_year for name, left in stands.items())
    risk = demo.worth - demo.worst
    assert stands
    assert demo.plan.score == pytest.approx(demo.worth - caution * risk + ley, abs=0.01)


def test_every_field_of_the_first_year_has_a_next_best_or_says_what_blocks_it(said):
    for each in said["fields"]:
        first = each["years"][0]
        if not each["kept_in_grass"]:
            assert first["next_best"] or first["blocked"]
            assert all(year["next_best"] is None for year in each["years"][1:])


def test_a_field_kept_in_grass_stays_in_it(said):
    meadow = said["fields"][-1]
    assert {year["crop"] for year in meadow["years"]} == {"grass"}


def test_the_scarce_seed_is_grown_on_until_there_is_enough(said):
    plots = {year["year"]: year["seed_plots"] for year in said["totals"]}
    first, *_, last = [each for year in sorted(plots) for each in plots[year]]
    assert first["area_ha"] * 110 <= 5.0 + 0.1
    assert (last["area_ha"], plots[2029][0]) == (0.5, last)
    for year, there in plots.items():
        for plot in there:
            assert year_of(said, plot["field"], year)["crop"].endswith("wheat")


def test_a_third_wheat_is_named_as_what_blocks_it():
    history = ("ley", "ley", "autumn_wheat", "autumn_wheat")
    first = year_of(valid(cropping(asked(field("A", history)))), "A", 2027)
    blocked = {each["crop"]: each["why"] for each in first["blocked"]}
    assert blocked["late_wheat"] == (
        "it would be a third wheat running, and 2 are the most"
    )


def test_roots_come_before_wheat_after_a_long_ley_and_that_is_said():
    answer = cropping(asked(field("A", 5 * ("ley",)), years=3))
    first = year_of(valid(answer), "A", 2027)
    assert first["crop"] == "roots"
    assert first["reason"].startswith("roots first, for after so long a ley")


def test_wheat_sown_too_early_is_said_to_be_in_conversion_until_its_day():
    young = field("A", conversion_from=datetime.date(2025, 3, 1))
    pin = Pin("A", 2027, "autumn_wheat")
    row = year_of(valid(cropping(asked(young, pins=(pin,)))), "A", 2027)
    assert row["sold_as"] == "in_conversion"
    assert row["reason"].endswith(
        "sold as in conversion: organic if sown from 1 March 2027 on"
    )


def test_one_variety_is_not_grown_both_organic_and_not():
    fields = (field("A"), field("B", conversion_from=datetime.date(2026, 3, 1)))
    pins = tuple(Pin(name, 2027, "autumn_wheat") for name in "AB")
    varieties = {"autumn_wheat": "Maris Widgeon"}
    assert cropping(asked(*fields, pins=pins)).plan.pins
    with pytest.raises(NoPlan) as clash:
        cropping(asked(*fields, pins=pins, varieties=varieties))
    assert str(clash.value) == (
        "No plan can keep all of this at once: A is pinned to autumn wheat in 2027; B "
        "is pinned to autumn wheat in 2027; one variety is not grown both organic and "
        "not in 2027."
    )


def test_too_much_wheat_asked_for_names_what_can_be_had_and_who_hinders():
    two_wheats = ("ley", "ley", "autumn_wheat", "autumn_wheat")
    fields = (
        field("Long Meadow", two_wheats, 3.0),
        field("Mill Piece", two_wheats, 1.5),
        field("Kiln Ground", area_ha=7.5),
    )
    with pytest.raises(NoPlan) as clash:
        cropping(asked(*fields, wanted=(Wanted(2027, "wheat", 12.0),)))
    assert str(clash.value) == (
        "You asked for 12 ha of wheat in 2027, but at most 7.5 ha can be had: none may "
        "grow in Long Meadow and Mill Piece (no more than 2 wheats running)."
    )


def test_too_few_hours_are_named_with_their_year():
    pins = (Pin("A", 2028, "roots"),)
    with pytest.raises(NoPlan, match="the hours that there are in 2028"):
        cropping(asked(field("A"), pins=pins, hours_a_week=4.0))


def test_a_pin_is_solved_again_from_the_answer_before(demo):
    pin = Pin("Long Acre", 2027, "oats")
    question = dataclasses.replace(demo.question, pins=(pin,))
    again = cropping(question, before=demo, compared_years=0)
    assert year_of(valid(again), "Long Acre", 2027)["pinned"]
    assert again.plan.score <= demo.plan.bound + 0.01
    assert again.plan.gap <= 0.01


def test_a_loss_is_what_pinning_that_crop_costs_at_most():
    question = asked(field("A"), field("B", area_ha=1.0), years=3)
    answer = cropping(question, compared_years=3)
    for (name, year), found in answer.instead.items():
        for each in found:
            if each.loss_gbp is None:
                continue
            pins = (Pin(name, year, each.crop),)
            pinned = cropping(dataclasses.replace(question, pins=pins))
            lost = answer.plan.score - pinned.plan.bound
            assert each.loss_gbp >= lost - 0.01


def test_the_next_best_crop_is_the_one_that_loses_least(demo):
    for each in demo.plan.problem.fields:
        losses = [
            instead.loss_gbp
            for instead in others(demo.plan, each, 2027)
            if instead.loss_gbp is not None
        ]
        assert losses == sorted(losses)


def test_caution_gives_up_some_worth_for_better_worst_seasons():
    fields = [field(name, area_ha=4.0) for name in "ABC"]
    buyers = (Buyer(12.0, 700.0), Buyer(12.0, 300.0))
    bold, careful = (
        cropping(
            asked(
                *fields,
                years=3,
                buyers=buyers,
                values={"seasons": {"caution": caution}},
            ),
            compared_years=0,
        )
        for caution in (0.0, 1.0)
    )
    # Of the bold plan all but the worth is the ley left, and likewise of the other.
    assert careful.plan.score > bold.worst + bold.plan.score - bold.worth
    assert bold.plan.score > careful.worth + careful.plan.score - careful.worst


def test_the_working_tells_the_published_rule_from_what_is_assumed(demo):
    standings = [step.standing for step in demo.working]
    assert standings[1] == "published"
    assert "assumed" in standings


def test_a_value_of_ones_own_is_called_given():
    own = {"oats": {"cost_gbp_per_ha": 500.0}}
    answer = cropping(asked(field("A"), values=own), compared_years=0)
    oats = next(step for step in answer.working if "hectare of oats" in step.says)
    assert "£500" in oats.says
    assert oats.standing == "given"


REFUSED = {
    "0 fields to plan": asked(),
    "no year of the plan": asked(field("A"), wanted=(Wanted(2030, "wheat", 1.0),)),
    "'barleycorn' is no crop": asked(field("A"), wanted=(Wanted(2027, "barleycorn"),)),
    "should run from 0 up": asked(field("A"), wanted=(Wanted(2027, "wheat", 2, 1),)),
    "can't be made": asked(field("A"), years=0),
    "Two fields are named A": asked(field("A"), field("A")),
    "has 0 ha": asked(field("A", area_ha=0.0)),
    "without every crop": asked(
        field("A", without=("autumn_wheat", "late_wheat", "oats", "roots", "ley"))
    ),
    "A, without: 'rye' is no crop": asked(field("A", without=("rye",))),
    "not kept in grass": asked(
        field("A"), field("B", keep_in_grass=True), pins=(Pin("B", 2027, "oats"),)
    ),
    "year should be from 2027": asked(field("A"), pins=(Pin("A", 2031, "oats"),)),
    "'rye' is no crop": asked(field("A"), pins=(Pin("A", 2027, "rye"),)),
    "among the crops that it is to be without": asked(
        field("A", without=("oats",)), pins=(Pin("A", 2027, "oats"),)
    ),
    "pinned twice": asked(
        field("A"), pins=(Pin("A", 2027, "oats"), Pin("A", 2027, "ley"))
    ),
    "Hours a week should be": asked(field("A"), hours_a_week=-1.0),
    "weeks should run": asked(field("A"), busy=(Busy(30, 60, 100.0),)),
    "binders can't be": asked(field("A"), binders=-1.0),
    "tonnes and prices": asked(field("A"), buyers=(Buyer(-1.0, 800.0),)),
    "varieties: 'rye' is no crop": asked(field("A"), varieties={"rye": "Old"}),
    "increase should start": asked(
        field("A"), increase=Increase("Old Red", 5.0, 1.0, 2031)
    ),
    "a chance, 1 in all": asked(
        field("A"), values={"seasons": {"chance": [1, 1, 0, 0, 0, 0]}}
    ),
    "should be shares from 0 to 1": asked(
        field("A"), values={"seasons": {"caution": 2.0}}
    ),
    "whole numbers from 1": asked(field("A"), values={"rules": {"break_years": 2.5}}),
    "a first and a last week": asked(
        field("A"), values={"ley": {"work_first_week": [24, 25]}}
    ),
    "kind should be one of": asked(field("A"), values={"oats": {"kind": "grain"}}),
    "sown should be years before": asked(
        field("A"), values={"oats": {"sown": [0, 2, 29]}}
    ),
    "some kilograms of seed": asked(
        field("A"), increase=Increase("Old Red", float("inf"), 1.0, 2027)
    ),
    "should hold 6 numbers": asked(
        field("A"), values={"oats": {"yield_by_season": [1.0]}}
    ),
}


@pytest.mark.parametrize(("words", "question"), REFUSED.items(), ids=REFUSED)
def test_what_no_holding_could_ask_is_refused_in_a_sentence(words, question):
    with pytest.raises(OutOfRange) as refusal:
        problem_of(question)
    assert words in str(refusal.value)
    assert str(refusal.value).endswith(".")
