"""The question of the next half-days is read from TOML, or refused in one sentence."""

import datetime
import json
from importlib import resources

import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.crew_day import (
    HalfAsked,
    is_within,
    of_outlook,
    read_before,
    read_question,
)

DEMO = resources.files("sheafwright") / "data/demo/day.toml"
DAY = datetime.date(2025, 8, 7)
OUTLOOK = {
    "as_of": "2025-08-07",
    "stages": {"soft_dough": {"p50": "2025-08-05"}},
    "advice": {"action": "wait", "worth_waiting": 0.8},
    "by_cutting_day": [{"date": "2025-08-07", "worth_mean": 0.7}],
}
STOOKS = {
    "cut": "2025-07-28",
    "carting_by_day": [
        {"date": "2025-08-07", "chance_fit": 0.6, "chance_of_rain": 0.2}
    ],
}
HALF = '[[half_days]]\nday = 2025-08-07\nhalf = "morning"\ndry_chance = 0.9\n'


@pytest.fixture
def read(tmp_path):
    def read(text, **answers):
        for name, said in answers.items():
            (tmp_path / f"{name}.json").write_text(json.dumps(said), "utf-8")
        path = tmp_path / "day.toml"
        path.write_text(text, "utf-8")
        return read_question(path)

    return read


def test_the_demo_is_read():
    question = read_question(DEMO)
    assert question.half_days[0] == HalfAsked(DAY, "morning", 0.9)
    assert question.fields[0].worth[DAY] == 0.80
    assert question.stooks[0].fit_chance[DAY] == 0.8
    assert question.people[3].away == ("2025-08-08 morning",)


def test_a_fields_outlook_stands_for_its_worth(read):
    said = f'{HALF}[[fields]]\nname = "A"\narea_ha = 2.0\noutlook = "a.json"\n'
    (field,) = read(said, a=OUTLOOK).fields
    assert (field.worth, field.waiting, field.action) == ({DAY: 0.7}, 0.8, "wait")
    assert field.ripe == datetime.date(2025, 8, 5)


def test_a_stook_answer_stands_for_its_chances(read):
    said = f'{HALF}[[stooks]]\nfield = "A"\narea_ha = 2.0\ncart = "a.json"\n'
    (stooks,) = read(said, a=STOOKS).stooks
    assert (stooks.fit_chance, stooks.rain_chance) == ({DAY: 0.6}, {DAY: 0.2})
    assert stooks.cut == datetime.date(2025, 7, 28)


def test_a_crop_that_never_comes_to_soft_dough_has_no_day():
    said = OUTLOOK | {"stages": {"soft_dough": {"p50": None}}}
    assert of_outlook(said)["ripe"] is None


def test_a_half_day_lies_in_its_day_and_in_itself():
    assert is_within("2025-08-07 morning", "2025-08-07")
    assert is_within("2025-08-07 morning", "2025-08-07 morning")
    assert not is_within("2025-08-07 morning", "2025-08-07 afternoon")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("half_days = 3", "half_days should be written as [[half_days]]"),
        ("half_days = [3]", "[[half_days]] should hold names and values"),
        ("a = ", "is not a TOML file"),
        ("x = 1", "has x, which nothing reads"),
        ("carts = 2", "lacks half_days"),
        (HALF + "mist = 1", "[[half_days]] has mist, which nothing reads"),
        ('[[half_days]]\nhalf = "morning"', "[[half_days]] lacks day, dry_chance"),
        (HALF.replace("0.9", "'wet'"), "dry_chance is 'wet'; it should be a number"),
        (HALF.replace("0.9", "nan"), "dry_chance is nan; it should be a number"),
        (HALF.replace("0.9", "9" * 400), "it should be a number"),
        (HALF.replace("2025-08-07", "'soon'"), "it should be a date such as"),
        (HALF.replace('"morning"', "1"), "half is 1; it should be a text"),
        ("carts = 1.5\n" + HALF, "carts is 1.5; it should be a whole number"),
        ("showers = [1]\n" + HALF, "showers is (1,); it should be a list of texts"),
        (
            HALF + "[[fields]]\nname = 'A'\narea_ha = 1\nworth = {soon = 0.8}",
            "it should be dates with a number each",
        ),
        (
            HALF + "[[fields]]\nname = 'A'\noutlook = 'none.json'",
            "none.json cannot be read (No such",
        ),
        (HALF + "[[fields]]\nname = 'A'\noutlook = 'a.json'", "it should be as the"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_sentence(read, text, says):
    with pytest.raises(UnreadableInput) as refused:
        read(text, a=STOOKS)
    assert says in str(refused.value)
    assert str(refused.value).endswith(".")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "is not JSON"),
        ("[]", "should be an earlier answer, as --json prints it"),
        ('{"half_days": []}', "should be an earlier answer"),
    ],
)
def test_an_earlier_answer_that_is_none_is_refused(tmp_path, text, says):
    (tmp_path / "before.json").write_text(text, "utf-8")
    with pytest.raises(UnreadableInput, match=says):
        read_before(tmp_path / "before.json")


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(UnreadableInput, match=r"none.toml cannot be read .No such"):
        read_question(tmp_path / "none.toml")
