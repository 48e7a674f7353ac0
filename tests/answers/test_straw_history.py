"""What is told of what made the good straw, and what is not."""

import dataclasses
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from answers.straw_stems import lots
from sheafwright.answers import straw_history as module
from sheafwright.answers.straw_history import HistoryQuestion, straw_history
from sheafwright.core.errors import OutOfRange, ServiceUnavailable
from sheafwright.feeds.telling import Reader, again, read_by
from told import FOREIGN, METRIC, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas/straw_history.json").read_text("utf-8")
)
GROWN = {"nitrogen": 20, "week": -15, "rain": 3, "taper": -0.2, "bends": 0.02}


def told(made):
    answer = straw_history(HistoryQuestion(tuple(made)))
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return answer


def effect(answer, outcome, cause):
    (found,) = [
        each
        for each in answer.effects
        if (each.outcome, each.cause) == (outcome, cause)
    ]
    return found


@pytest.mark.parametrize("count", [0, 1, 7])
def test_too_few_lots_tell_nothing_and_the_answer_says_so(count):
    answer = told(lots(count, 2, **GROWN))
    assert answer.effects == ()
    assert "too few to say what made the good straw" in answer.sentence
    assert "it takes 8 crops or more" in answer.sentence


def test_what_made_the_straw_is_found_again_with_its_interval():
    answer = told(lots(60, 6, **GROWN))
    for outcome, cause, true in (
        ("length_mm", "nitrogen_index", 20),
        ("length_mm", "cut_day", -15),
        ("brightness", "rain_on_stooks_mm", -3),
        ("bends", "rain_on_stooks_mm", 0.02),
    ):
        found = effect(answer, outcome, cause)
        assert found.low <= true <= found.high
    assert effect(answer, "length_mm", "cut_day").mixed
    assert "For each week later cut, stems were" in answer.sentence
    assert answer.sentence.endswith("what to try next, and proves nothing.")


@pytest.mark.prove
def test_what_differs_by_field_alone_is_told_by_as_few_as_there_are_fields():
    """A level of each field's own is not taken for what its nitrogen did."""
    told_of = [
        any(each.cause == "nitrogen_index" for each in told(by_field(count)).told)
        for count in range(60, 74)
    ]
    assert np.mean(told_of) < 0.15


def by_field(count):
    made = lots(count, 6)
    return [
        dataclasses.replace(lot, nitrogen_index=float(NITROGEN[lot.field]))
        for lot in made
    ]


NITROGEN = {f"Field {number}": number % 4 for number in range(6)}


def test_few_crops_are_asked_of_each_cause_by_itself():
    answer = told(lots(12, 3, nitrogen=25))
    assert len({each.cause for each in answer.effects}) == 3
    assert not any(each.mixed or each.beside for each in answer.effects)
    assert "so each was weighed by itself" in answer.working[-1].says
    assert all(each.beside for each in told(lots(40, 3)).effects)


def test_lots_of_one_crop_are_one():
    made = lots(12, 3, nitrogen=25)
    twice = [dataclasses.replace(lot, lot=lot.lot + "b") for lot in made]
    once, both = told(made), told((*made, *twice))
    assert len(both.crops) == 12
    assert both.effects == once.effects
    assert both.crops[0].stems == 72


def test_plain_regression_has_students_interval():
    made = lots(12, 1, nitrogen=25)
    found = effect(told(made), "length_mm", "nitrogen_index")
    x = np.array([lot.nitrogen_index for lot in made])
    y = np.array([lot.length_mm for lot in made])
    x = x - x.mean()
    slope = (x * y).sum() / (x**2).sum()
    left = y - y.mean() - slope * x
    error = np.sqrt((left**2).sum() / 10 / (x**2).sum())
    assert found.effect == pytest.approx(slope)
    assert found.high - found.effect == pytest.approx(2.228139 * error)


@pytest.mark.prove
def test_by_chance_alone_something_is_told_at_most_one_time_in_twenty():
    answers = [straw_history(HistoryQuestion(shuffled(seed))) for seed in range(40)]
    assert np.mean([bool(answer.told) for answer in answers]) < 0.15


def shuffled(seed):
    """Lots whose straw has nothing to do with how they were grown."""
    rng, made = np.random.default_rng(seed), lots(24, 1)
    order = rng.permutation(len(made))
    straw = ("length_mm", "taper_mm_per_m", "brightness", "bends")
    return tuple(
        dataclasses.replace(lot, **{name: getattr(made[at], name) for name in straw})
        for lot, at in zip(made, order, strict=True)
    )


def test_a_cause_that_never_differs_is_not_asked_of():
    made = [dataclasses.replace(lot, nitrogen_index=2.0) for lot in lots(40, 1)]
    assert {each.cause for each in told(made).effects} == {
        "cut_day",
        "rain_on_stooks_mm",
    }


def test_causes_that_go_together_are_not_weighed_beside_each_other():
    made = [
        dataclasses.replace(lot, cut_day=210 + lot.rain_on_stooks_mm / 10)
        for lot in lots(40, 1)
    ]
    assert not any(each.beside for each in told(made).effects)


def test_what_was_not_measured_is_not_told_of():
    made = [dataclasses.replace(lot, brightness=np.nan) for lot in lots(40, 6)]
    answer = told(made)
    assert "brightness" in answer.too_few
    assert answer.groups[0].lots and np.isnan(answer.groups[0].brightness)


def test_fields_and_varieties_have_their_means():
    groups = {group.name: group for group in told(lots(12, 3)).groups}
    assert groups["Yeoman"].lots == 6 and groups["Field 1"].lots == 4


def test_without_statsmodels_it_says_what_to_install(monkeypatch):
    monkeypatch.setattr(module, "can_tell", lambda: False)
    with pytest.raises(ServiceUnavailable, match="pip install"):
        straw_history(HistoryQuestion(lots(12, 1)))
    assert "too few" in straw_history(HistoryQuestion(lots(3, 1))).sentence


def test_an_impossible_lot_is_refused():
    (lot,) = lots(1, 1)
    with pytest.raises(OutOfRange, match="Day 400 of the year can't be right"):
        HistoryQuestion((dataclasses.replace(lot, cut_day=400.0),))


LOTS = {
    "few": lots(3, 1),
    "nothing": lots(24, 1),
    "all": lots(60, 6, **GROWN),
    "the other way": lots(60, 6, **{name: -slope for name, slope in GROWN.items()}),
}


@pytest.mark.parametrize("made", LOTS.values(), ids=LOTS)
def test_it_is_told_in_other_words_and_units(made):
    answer = told(made)
    with read_by(FOREIGN):
        said = answer.to_json()
        for each in (said["sentence"], *(step["says"] for step in said["working"])):
            assert not list(loose(each)), each
    with read_by(Reader("imperial")):
        assert not METRIC.search(again(said["sentence"]))
