"""The budget: pence that add up, bands, what matters, other uses, cash, own files."""

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.answers.budget_lines import COSTS, INCOME, INPUTS, lines_of
from sheafwright.core.errors import OutOfRange, SheafwrightError, UnreadableInput
from sheafwright.feeds.budget import changed, read_terms, terms_of
from sheafwright.feeds.tables import Row
from sheafwright.feeds.telling import Reader, again, read_by
from told import METRIC, loose

HERE = Path(__file__).parent
SCHEMA = json.loads((HERE / "schemas/budget.json").read_text("utf-8"))
SNAPSHOT = json.loads((HERE / "snapshots/budget.json").read_text("utf-8"))
FIELDS = {"Long Meadow": 2.4, "Kiln Ground": 3.1}


def asked(fields=FIELDS, own=None, knobs=None, **said):
    terms = terms_of(fields, own)
    return budget(BudgetQuestion(changed(terms, knobs or {}), 2027, **said))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


@pytest.fixture(scope="module")
def usual():
    return asked()


@pytest.fixture(scope="module")
def said(usual):
    return valid(usual)


def near(got, kept):
    """Whether a JSON is another, its numbers to a part in ten thousand."""
    if isinstance(kept, dict):
        return got.keys() == kept.keys() and all(near(got[k], kept[k]) for k in kept)
    if isinstance(kept, list):
        return len(got) == len(kept) and all(map(near, got, kept))
    if isinstance(kept, float | int):
        return got == pytest.approx(kept, rel=1e-4, abs=0.011)
    return got == kept


def test_the_answer_is_what_it_was(said):
    assert near(said, SNAPSHOT)


def test_parts_fields_and_totals_add_up_to_the_penny(said):
    income = sum(x["pence"] for x in said["lines"] if x["kind"] == "income")
    costs = sum(x["pence"] for x in said["lines"] if x["kind"] == "cost")
    assert said["margin_pence"] == income - costs
    for name, whole in (("income", income), ("costs", costs)):
        assert sum(each[f"{name}_pence"] for each in said["fields"]) == whole


@given(st.lists(st.floats(0.01, 60), min_size=1, max_size=6))
def test_fields_of_any_size_add_up(areas):
    fields = {f"Field {n}": area for n, area in enumerate(areas)}
    answer = asked(fields, draws=100)
    for name, parts in answer.pence.items():
        whole = {**answer.likely.income, **answer.likely.costs}[name]
        assert sum(parts) == pytest.approx(100 * float(whole), abs=0.51)


def test_at_the_break_even_price_nothing_is_left(usual):
    price = float(usual.likely.break_even)
    even = asked(knobs={"reed_price": price})
    assert float(even.likely.margin) == pytest.approx(0, abs=1e-6)


def test_the_break_even_price_is_even_in_every_draw(usual):
    values = {n: np.full(3, 1.0) for n in INPUTS} | {
        "crop": np.array([4.0, 8.0, 11.0]),
        "kept": np.array([0.3, 0.6, 1.0]),
    }
    prices = lines_of(usual.terms, usual.work, values).break_even
    even = lines_of(usual.terms, usual.work, values | {"reed_price": prices})
    np.testing.assert_allclose(even.margin, 0, atol=1e-6)


def test_a_dearer_reed_leaves_more_and_breaks_even_at_the_same_price(usual):
    dear = asked(knobs={"reed_price": 1200})
    assert dear.margin_band["p50"] > usual.margin_band["p50"]
    assert dear.chance_of_loss < usual.chance_of_loss
    assert float(dear.likely.break_even) == pytest.approx(
        float(usual.likely.break_even)
    )


def test_what_is_left_for_an_hour_is_the_wage_where_it_just_pays(usual):
    wage = 12.71 * 1.15
    even = asked(knobs={"reed_price": float(usual.likely.break_even)})
    assert even.pays_an_hour == pytest.approx(wage)


def test_the_hours_are_those_of_the_labour_need(usual):
    own = asked(own_hours={"carting": (10.0, 16.0)})
    assert own.work.tasks["carting"] == pytest.approx(13 * 5.5)
    assert own.work.own["carting"] == 2
    assert usual.work.own["carting"] == 0


def test_cash_ends_with_what_is_left_and_what_machines_lost(usual):
    end = usual.months[-1].balance
    lost = float(usual.likely.costs["machines"])
    assert end == pytest.approx(float(usual.likely.margin) + lost)
    assert (usual.months[0].year, usual.months[0].month) == (2026, 9)
    assert (usual.months[-1].year, usual.months[-1].month) == (2028, 8)


def test_without_interest_there_is_none():
    free = asked(knobs={"interest": 0.0})
    assert free.likely.costs["interest"] == pytest.approx(0)


def test_a_later_cheque_costs_more_interest(usual):
    late = {"months": {"reed_cheque": Row("mine", "reed_cheque", [26, 29])}}
    later = asked(own=late)
    assert later.likely.costs["interest"] > usual.likely.costs["interest"] > 0


def test_an_own_drum_is_not_hired(usual):
    own = asked(own={"drum": {"own": Row("mine", "own", 1)}})
    assert usual.likely.costs["hire"] > own.likely.costs["hire"] == 0
    assert own.likely.costs["machines"] > usual.likely.costs["machines"]


def test_what_goes_together_is_drawn_together(usual):
    at = INPUTS.index
    found = np.corrcoef(usual.chances)
    assert found[at("kept"), at("reed_price")] == pytest.approx(-0.38, abs=0.06)
    assert found[at("kept"), at("repairs")] == pytest.approx(0, abs=0.06)


def test_shares_of_what_makes_it_uncertain_come_to_about_all(usual, said):
    assert sum(usual.shares.alone) == pytest.approx(1, abs=0.1)
    for each in said["what_matters"]:
        assert each["share_in_all"] >= each["share_alone"] - 0.05


def test_the_same_luck_draws_the_same_years(usual):
    assert asked().margin_band == usual.margin_band
    assert asked(luck=2).margin_band != usual.margin_band


def test_it_says_when_it_lacks_and_when_it_leaves(usual):
    assert "of tall wheat should lack about £" in usual.sentence
    assert "should leave about £" in asked(knobs={"reed_price": 1500}).sentence


def test_a_band_holds_the_middle(usual):
    band = usual.margin_band
    assert band["p10"] < band["p50"] < band["p90"]
    inside = (usual.drawn.margin > band["p10"]) & (usual.drawn.margin < band["p90"])
    assert inside.mean() == pytest.approx(0.8, abs=0.01)


def test_lines_are_all_there(usual):
    assert list(usual.pence) == [*INCOME, *COSTS]


def test_what_is_ones_own_is_told_as_given(usual):
    own = asked(own={"ranges": {"reed_price": Row("mine", "p", [700, 850, 1100])}})
    steps = {step.says: step.standing for step in own.working}
    assert (
        steps["Price of reed: £700 a tonne, £850 a tonne, £1,100 a tonne."] == "given"
    )
    assert "given" not in [x.standing for x in usual.working if "of reed:" in x.says]


def test_it_is_told_in_other_words_and_units(usual):
    told = [usual.sentence, usual.doubts, *(step.says for step in usual.working)]
    assert not list(loose(told, names=FIELDS))
    with read_by(Reader("imperial")):
        says = [again(each) for each in told]
    assert not [each for each in says if METRIC.search(each)]


# A file of one's own.


def written(folder, text):
    path = folder / "budget.toml"
    path.write_text(text, "utf-8")
    return path


def test_a_file_names_its_fields_and_what_differs(tmp_path):
    text = (
        '[fields]\n"Long Meadow" = "6 acres"\n[ranges]\nreed_price = [700, 850, 1100]\n'
    )
    terms = read_terms(written(tmp_path, text))
    assert terms.area == pytest.approx(2.428, abs=1e-3)
    assert terms.ranges.reed_price == (700, 850, 1100)
    assert terms.given == {("ranges", "reed_price")}


A_FIELD = "[fields]\nA = 2\n"
WRONG = {
    "[ranges]\ncrop = [1, 2, 3]": "names no field",
    "[fields]\nA = -1": "A has -1 ha; it should be from 0.001",
    "[fields]\nA = true": "A is True; it should be an area",
    A_FIELD + "[ranges]\ncrop = [9, 2, 3]": "crop is .9, 2, 3.; it should be the least",
    A_FIELD + "[ranges]\ncrop = 3": "crop is 3; it should be a list of numbers",
    A_FIELD + "[ranges]\nkept = [0.5, 0.9, 1.4]": "kept is .*from 0 to 1",
    A_FIELD
    + "[ranges]\ncrop = [0, 2, 3]": "crop is .0, 2, 3.; it should be more than nothing",
    A_FIELD + "[outlay]\nseed_price = 3": "seed_price, which nothing reads",
    A_FIELD
    + "[outlay]\ninterest = 'much'": "interest is 'much'; it should be a number",
    A_FIELD + "[outlay]\ninterest = -0.1": "interest is -0.1; it should be from 0 to 1",
    A_FIELD + "[months]\nselling = [30, 3]": "selling is .*first month and the last",
    A_FIELD + "[months]\nselling = [1.5, 3]": "selling is .*first month and the last",
    A_FIELD + "[binder]\nown = 2": "own is 2; it should be 0 or 1",
    A_FIELD + "[binder]\nyears = 0": "years is 0; it should be more than nothing",
    A_FIELD + "[links]\nkept_hours = 1": "kept_hours is 1; it should be from -0.95",
    A_FIELD + "[links]\ncrop_reed_price = 0.9\nkept_reed_price = 0.9": "all be true",
    A_FIELD + "[barn]\nroof = 2": "a section barn, which nothing reads",
    "[fields\nA = 2": "is not a TOML file",
    "[fields]\nA = 900": "can't be right",
}


@pytest.mark.parametrize("text", WRONG)
def test_what_is_wrong_in_a_file_is_told_in_one_sentence(text, tmp_path):
    with pytest.raises(SheafwrightError, match=WRONG[text]) as told:
        budget(BudgetQuestion(read_terms(written(tmp_path, text)), 2027))
    assert "\n" not in str(told.value)


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(UnreadableInput, match="cannot be read"):
        read_terms(tmp_path / "none.toml")


@pytest.mark.parametrize("said", [{"draws": 1}, {"draws": 10**9}])
def test_too_few_or_too_many_draws_are_refused(said):
    with pytest.raises(OutOfRange, match="it should be from 100"):
        asked(**said)
