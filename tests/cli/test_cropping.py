"""``sheafwright cropping``: its print, its JSON, its chart and its refusals."""

import json
from importlib import resources

import pytest

DEMO = resources.files("sheafwright") / "data/demo/cropping.toml"


@pytest.fixture(scope="module")
def printed(say):
    return say("cropping", DEMO, "--pin", "Long Acre:2027=oats")


def test_the_sentence_comes_first(printed):
    assert printed.startswith("For the harvest of 2026: autumn wheat in ")


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_a_pin_is_kept_and_marked(printed):
    assert "oats*" in printed


def test_wheat_of_february_has_one_name(say, refuse):
    pins = [f"Kiln Ground:{year}=ley" for year in (2026, 2027)]
    said = say("cropping", DEMO, "--pin", pins[0], "--pin", pins[1])
    refused = refuse("cropping", DEMO, "--pin", "Kiln Ground:2026=spelt")
    assert "No February wheat" in said
    assert "late_wheat (February wheat)" in refused
    assert "late wheat" not in said


def test_what_would_have_to_change_is_said(printed):
    assert "would be as good if it brought £" in " ".join(printed.split())


@pytest.fixture
def three_years(tmp_path):
    """The demo's question, of half as many harvests."""
    path = tmp_path / "three.toml"
    asked = DEMO.read_text("utf-8").replace("years = 6", "years = 3")
    asked = asked.replace("year = 2029", "year = 2028")
    path.write_text(asked, "utf-8")
    return path


def test_json_is_all_that_is_printed(say, three_years):
    answer = json.loads(say("cropping", three_years, "--json"))
    assert answer["gap_share"] <= 0.01
    assert len(answer["working"]) > 15


@pytest.mark.parametrize(
    ("ending", "begins"),
    [("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!doctype html>")],
)
def test_the_chart_is_saved_as_its_ending_says(
    say, three_years, tmp_path, ending, begins
):
    path = tmp_path / f"plan.{ending}"
    say("cropping", three_years, "--chart", path)
    assert path.read_bytes().startswith(begins)


@pytest.mark.parametrize("as_json", [(), ("--json",)])
def test_a_clash_is_one_sentence_and_exit_code_two(refuse, as_json):
    pins = [
        each
        for year in (2026, 2027, 2028)
        for each in ("--pin", f"Long Acre:{year}=late_wheat")
    ]
    said = refuse("cropping", DEMO, *pins, *as_json)
    assert "Long Acre is pinned to February wheat in 2028" in said
    assert "no more than 2 wheats running" in said


@pytest.mark.parametrize("pin", ["Long Acre", "Long Acre:2027", "Long Acre:soon=oats"])
def test_a_pin_that_cannot_be_read_is_refused(refuse, pin):
    assert "should be such as 'Long Acre:2027=oats'" in refuse(
        "cropping", DEMO, "--pin", pin
    )


def test_a_file_that_is_not_there_is_named(refuse, tmp_path):
    assert "cannot be read" in refuse("cropping", tmp_path / "none.toml")
