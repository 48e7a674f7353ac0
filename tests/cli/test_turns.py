"""``sheafwright turns``: its print, its JSON, what it hands to `day`, its refusals."""

import json
from importlib import resources

import pytest

DEMO = resources.files("sheafwright") / "data/demo"
FILE = DEMO / "turns.toml"
FIELD = '[[fields]]\nname = "A"\narea_ha = 2.0\nsown = 2024-10-10\n'


@pytest.fixture(scope="module")
def asked(record):
    """Options of a question about the demo's fields, of few summers."""
    return *record, "--as-of", "2025-08-07", "--summers", "40"


@pytest.fixture(scope="module")
def answered(say, asked, tmp_path_factory):
    path = tmp_path_factory.mktemp("turns") / "turns.json"
    path.write_text(say("turns", FILE, *asked, "--json"), "utf-8")
    return path


def test_the_sentence_comes_first_and_nothing_is_wider_than_eighty_columns(say, asked):
    printed = say("turns", FILE, *asked)
    assert "until after Saturday 9 August" in " ".join(printed.split("\n\n")[0].split())
    assert max(map(len, printed.splitlines())) <= 80
    assert "Long Meadow" in printed and "itself" in printed
    assert "The station is not the field" not in printed


def test_the_whole_working_is_printed_when_it_is_asked_for(say, asked):
    printed = " ".join(say("turns", FILE, *asked, "--working").split())
    assert "The station is not the field" in printed
    assert "4 after one with 2 mm of rain" in printed


def test_day_takes_what_it_loses_from_the_answer(say, answered, tmp_path):
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    text = (DEMO / "day.toml").read_text("utf-8")
    (tmp_path / "day.toml").write_text(f'turns = "{answered}"\n{text}', "utf-8")
    plain, told = (
        json.loads(say("day", path, "--json"))
        for path in (DEMO / "day.toml", tmp_path / "day.toml")
    )
    followed = "each followed through the same possible summers"
    assert followed in told["working"][1]["says"]
    assert followed not in plain["working"][1]["says"]
    assert told["worth_gbp"] != plain["worth_gbp"]


def test_a_plan_is_set_beside_the_plain_rule(say, asked, tmp_path):
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    path = tmp_path / "plan.json"
    path.write_text(say("day", DEMO / "day.toml", "--json"), "utf-8")
    printed = " ".join(say("turns", FILE, *asked, "--plan", path).split())
    assert "than cutting the ripest first from the start" in printed


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "0 fields were given"),
        ("hands = 'many'\n" + FIELD, "hands is 'many'; it should be a whole number"),
        ("cows = 3\n" + FIELD, "has cows, which nothing reads"),
        (FIELD.replace("sown", "drilled"), "[[fields]] has drilled, which nothing"),
        (FIELD.replace("sown = 2024-10-10\n", ""), "[[fields]] lacks sown"),
        (FIELD + 'class = "winter"\n', "winter"),
        (
            FIELD + "seen = { flowering = 3 }\n",
            "seen is {'flowering': 3}; it should be",
        ),
        (FIELD + "seen = { tillering = 2025-03-01 }\n", "is not a stage"),
        (FIELD + "signs = { grain = 3 }\n", "it should be names with a text each"),
        ("fields = 3\n", "fields should be written as [[fields]]"),
        ("fields = [3]\n", "should hold names and values"),
    ],
)
def test_what_is_wrong_is_said_in_one_sentence(refuse, asked, tmp_path, text, says):
    path = tmp_path / "turns.toml"
    path.write_text(text, "utf-8")
    assert says in refuse("turns", path, *asked)


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--plan", "none.json"), "none.json cannot be read"),
        (("--summers", "5"), "20<=x<=2000"),
        (("--as-of", "yesterday"), "should be a date such as"),
    ],
)
def test_options_that_are_wrong_are_refused(refuse, asked, options, says):
    assert says in refuse("turns", FILE, *asked, *options)


def test_a_file_that_is_no_answer_is_refused_by_day(refuse, tmp_path):
    (tmp_path / "a.json").write_text('{"fields": [{"field": "A"}]}')
    path = tmp_path / "day.toml"
    half = '[[half_days]]\nday = 2025-08-07\nhalf = "morning"\ndry_chance = 0.9\n'
    path.write_text('turns = "a.json"\n' + half)
    assert "a.json is not an answer of the kind that is wanted" in refuse("day", path)


def test_a_plan_of_no_plan_is_refused(refuse, asked, tmp_path):
    path = tmp_path / "plan.json"
    path.write_text('{"half_days": [1], "binders": []}')
    assert "can't be read" in refuse("turns", FILE, *asked, "--plan", path)
