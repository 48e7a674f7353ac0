"""``sheafwright outlook``: its print, its JSON, its chart and its refusals."""

import json

import pytest


@pytest.fixture(scope="module")
def printed(say, kiln_ground):
    return say("outlook", *kiln_ground, "--area-ha", "1.8")


def test_the_sentence_comes_first_and_the_working_last(printed):
    assert printed.split()[0] in {"Cut", "Wait", "Not", "Too"}
    assert "chances in 10" in printed.split("\n\n")[0]
    titles = ["Stages:", "Share of a perfect crop", "How this was worked out"]
    places = [printed.index(title) for title in titles]
    assert places == sorted(places)


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_every_step_says_what_it_stands_on(printed):
    working = printed[printed.index("How this was worked out") :]
    standings = ("measured:", "assumed:", "from memory:", "published:", "given:")
    for standing in standings:
        assert standing in working


def test_json_is_one_object_and_the_area_comes_back(say, kiln_ground):
    answer = json.loads(say("outlook", *kiln_ground, "--area-ha", "1.8", "--json"))
    assert answer["area_ha"] == 1.8
    assert answer["stages"]["flowering"]["p50"] == "2025-06-19"


def test_a_forecast_and_signs_are_taken(say, kiln_ground, tmp_path):
    path = tmp_path / "forecast.csv"
    path.write_text("date,member,rain_mm\n2025-08-08,a,0\n2025-08-09,a,3\n")
    asked = (*kiln_ground, "--forecast", path, "--sign", "grain=soft dough")
    printed = say("outlook", *asked, "--sign", "nodes=green")
    flat = " ".join(printed.split())
    assert "Forecast of rain for 2 days" in flat
    assert "grain soft dough and nodes green" in flat


@pytest.mark.parametrize(
    ("ending", "begins"),
    [("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!doctype html>")],
)
def test_the_chart_is_saved_as_its_ending_says(
    say, kiln_ground, tmp_path, ending, begins
):
    path = tmp_path / f"field.{ending}"
    say("outlook", *kiln_ground, "--chart", path)
    assert path.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (["--sown", "10.10.2024"], "--sown: '10.10.2024' should be a date such as"),
        (["--as-of", "2025-02-30"], "--as-of: '2025-02-30' should be a date"),
        (["--latitude", "north"], "'north' is not a valid float"),
        (["--latitude", "95"], "A latitude of 95° can't be worked with"),
        (["--class", "widgeon"], "not a class of variety"),
        (["--area-ha", "0"], "No field has 0 ha"),
        (["--chart", "field.pdf"], "should end in .svg, .png or .html"),
        (["--chart", "nowhere/field.svg"], "can't be saved"),
        (["--seen", "flowering"], "should be such as flowering=2025-06-19"),
        (["--seen", "flowering=June"], "'June' should be a date"),
        (["--seen", "flowering=2025-06-20"], "--seen should name each thing once"),
        (["--seen", "milk=2025-08-09"], "milk is said to be seen on 2025-08-09"),
        (["--sign", "grain=blue"], "The sign grain can't be 'blue'"),
        (["--forecast", "nowhere.json"], "nowhere.json cannot be read"),
        (["--forecast", "https://example.org/f"], "fetching needs a contact"),
        (["--own-seasons", "nowhere.csv"], "nowhere.csv cannot be read"),
        (["--own-readings", "nowhere.csv"], "nowhere.csv cannot be read"),
        (["--losses", "nowhere.toml"], "nowhere.toml cannot be read"),
        (["--weather", "nowhere.csv"], "nowhere.csv can't be read"),
        (["--seed", "-1"], "--seed"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_wrong_value_is_one_sentence(refuse, kiln_ground, changes, says):
    assert says in refuse("outlook", *kiln_ground, *changes)


def test_what_is_needed_is_asked_for_in_one_sentence(refuse, record):
    assert "Missing option '--sown'" in refuse("outlook", *record)


def test_an_unreadable_forecast_names_its_line(refuse, kiln_ground, tmp_path):
    path = tmp_path / "forecast.csv"
    path.write_text("date,member,rain_mm\n2025-08-08,a,wet\n")
    assert "line 2, column rain_mm" in refuse(
        "outlook", *kiln_ground, "--forecast", path
    )
