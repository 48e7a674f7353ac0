"""Next season's hours: the book's where it has some, else the tables', week by week."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.labour_need import NeedQuestion, Sown, labour_need
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.labour import TASKS
from sheafwright.feeds.telling import Reader, again, read_by
from told import loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "labour_need.json").read_text("utf-8")
)
D = datetime.date


def asked(*areas, year=2026, sown=None, **said):
    crops = tuple(Sown(area, sown) for area in areas)
    return labour_need(NeedQuestion(year, crops, **said))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def of(answer, task):
    return next(each for each in answer.tasks if each.task == task)


def test_a_season_is_told_in_hours_an_acre_and_its_busiest_week():
    said = valid(asked(3.0))["sentence"]
    assert said.startswith("The harvest of 2026, 3 ha of wheat, takes about ")
    assert "an acre. The busiest week begins on 10 August 2026: " in said


@given(st.floats(0.1, 100), st.integers(1900, 2100))
def test_no_hour_is_lost_between_the_weeks(area, year):
    answer = asked(area, year=year)
    assert answer.weeks.sum() == pytest.approx(answer.likely, rel=1e-9)
    assert answer.first_week.weekday() == 0


def test_own_hours_take_the_place_of_the_tables():
    answer = asked(2.0, own={"carting": (10.0, 16.0)})
    carting = of(answer, "carting")
    assert (carting.hours, carting.likely) == ((20, 32), 26)
    assert carting.harvests == 2
    standings = {step.says.split(":")[0]: step.standing for step in answer.working}
    assert standings["Carting"] == "given"
    assert standings["Weeding"] == "assumed"


def test_what_is_sown_is_not_sown_again():
    tasks = [each.task for each in asked(2.0, sown=D(2025, 10, 3)).tasks]
    assert tasks == list(TASKS[1:])


def test_a_late_crop_is_cut_and_carted_later():
    usual, late = asked(2.0), asked(2.0, cut_from=D(2026, 8, 7))
    for task in ("cutting", "carting"):
        assert of(late, task).begins - of(usual, task).begins == datetime.timedelta(14)
    assert of(late, "threshing").begins == of(usual, "threshing").begins


def test_threshing_goes_on_past_new_year():
    threshing = of(asked(2.0), "threshing")
    assert (threshing.begins, threshing.ends) == (D(2026, 10, 1), D(2027, 3, 31))


def test_sowing_is_in_the_autumn_before():
    assert of(asked(2.0), "sowing").begins == D(2025, 9, 10)


@pytest.mark.parametrize(
    ("areas", "said"), [((0.0,), {}), ((2.0,), {"own": {"carting": (float("nan"),)}})]
)
def test_what_cannot_be_is_refused(areas, said):
    with pytest.raises(OutOfRange, match="it should be from"):
        asked(*areas, **said)


def test_it_is_told_in_other_words_and_units():
    answer = asked(3.0, own={"carting": (10.0, 16.0)})
    told = [answer.sentence, *(step.says for step in answer.working)]
    assert not list(loose(told))
    with read_by(Reader("imperial")):
        assert "3 ha of" not in again(answer.sentence)
