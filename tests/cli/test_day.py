"""``sheafwright day``: its print, its JSON, a breakdown, a shower and its refusals."""

import json
from importlib import resources

import pytest

DEMO = resources.files("sheafwright") / "data/demo/day.toml"
AFTERNOON = "2025-08-07 afternoon"


@pytest.fixture(scope="module", autouse=True)
def solver():
    pytest.importorskip("ortools", reason="CP-SAT is not installed")


@pytest.fixture(scope="module")
def printed(say):
    return say("day", DEMO)


@pytest.fixture(scope="module")
def before(say, tmp_path_factory):
    path = tmp_path_factory.mktemp("day") / "before.json"
    path.write_text(say("day", DEMO, "--json"), "utf-8")
    return path


def test_the_sentence_comes_first(printed):
    assert printed.startswith("Thursday 7 August in the morning: ")


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_who_does_what_is_told_with_what_is_left_and_the_caution(printed):
    assert "Hazel, Rowan" in printed
    assert "ha of Coldwell Bottom: it is too green" in printed
    assert "Only who has been shown the binder works on it" in printed


def test_a_broken_binder_changes_the_plan(say, before):
    said = say("day", DEMO, "--before", before, "--broken", "the old binder")
    assert said.startswith("The old binder is broken. Thursday 7 August in the ")
    assert "What changes" in said
    assert "no binder is in order" in said


def test_a_binder_may_be_broken_for_a_half_day(say, before):
    broken = "--broken-on", f"the old binder={AFTERNOON}"
    said = json.loads(say("day", DEMO, "--before", before, *broken, "--json"))
    assert said["binders"] == [{"binder": "the old binder", "broken": [AFTERNOON]}]
    assert said["cut_ha"] > 0


def test_a_shower_changes_the_plan(say, before):
    said = say("day", DEMO, "--before", before, "--shower", AFTERNOON)
    assert said.startswith("A shower on Thursday 7 August in the afternoon.")
    assert "nothing (shower)" in said


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--broken", "the new one"), "there is no binder 'the new one'; it should be"),
        (("--broken-on", "the old binder"), "should be such as"),
        (("--broken-on", "the old binder=noon"), "should be a day, or a half-day"),
        (("--shower", "noon"), "'noon' should be one of the file's half-days"),
        (("--before", "none.json"), "none.json cannot be read"),
    ],
)
def test_what_is_wrong_is_said_in_one_sentence(refuse, options, says):
    assert says in refuse("day", DEMO, *options)


def test_a_file_that_is_no_answer_is_refused(refuse, tmp_path):
    (tmp_path / "before.json").write_text('{"half_days": [1], "binders": []}')
    wrong = refuse("day", DEMO, "--before", tmp_path / "before.json")
    assert "The plan before can't be read" in wrong
