"""``sheafwright stooks``: its print, its JSON, its chart and its refusals."""

import json

import pytest


@pytest.fixture(scope="module")
def long_acre(record):
    """Options of a question about stooks in the demo's weather."""
    return *record, "--cut", "2025-08-01", "--as-of", "2025-08-07"


@pytest.fixture(scope="module")
def printed(say, long_acre):
    return say(
        "stooks", *long_acre, "--field", "Long Acre", "--reading", "2025-08-05=22/26"
    )


def test_the_sentence_comes_first_with_its_odds(printed):
    first = " ".join(printed.split("\n\n")[0].split())
    assert first.startswith("Cart Long Acre from ")
    assert "7 chances in 10" in first


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_the_working_is_short_until_it_is_asked_for_whole(say, long_acre, printed):
    whole = say("stooks", *long_acre, "--working")
    assert "more steps, each with its source: --working" in " ".join(printed.split())
    assert "Dew lies every morning" in whole
    assert "Dew lies" not in printed


def test_json_holds_the_readings_and_the_whole_working(say, long_acre):
    reading = ("--reading", "2025-08-05=22/26", "--reading", "2025-08-07=/21.5")
    answer = json.loads(say("stooks", *long_acre, *reading, "--json"))
    assert answer["readings"] == [
        {
            "date": "2025-08-05",
            "grain_moisture_share": 0.22,
            "straw_moisture_share": 0.26,
        },
        {
            "date": "2025-08-07",
            "grain_moisture_share": None,
            "straw_moisture_share": 0.215,
        },
    ]
    assert len(answer["working"]) > 15


def test_a_forecast_is_taken(say, long_acre, tmp_path):
    path = tmp_path / "forecast.csv"
    path.write_text("date,member,rain_mm\n2025-08-08,a,0\n2025-08-09,a,3\n")
    printed = say("stooks", *long_acre, "--forecast", path)
    assert "Forecast of rain for 2 days" in " ".join(printed.split())


def test_the_usual_caution_stands_before_carting_and_at_no_other_time(
    say, record, printed
):
    dry = ("--cut", "2024-08-04", "--as-of", "2024-08-18")
    assert "nobody works up there alone" in " ".join(
        say("stooks", *record, *dry).split()
    )
    assert "Before you start" not in printed


@pytest.mark.parametrize(
    ("ending", "begins"),
    [("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!doctype html>")],
)
def test_the_chart_is_saved_as_its_ending_says(
    say, long_acre, tmp_path, ending, begins
):
    path = tmp_path / f"stooks.{ending}"
    say("stooks", *long_acre, "--chart", path)
    assert path.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (["--cut", "1.8.2025"], "--cut: '1.8.2025' should be a date such as"),
        (["--cut", "2025-08-09"], "nothing stands in stooks on 7 August 2025"),
        (["--reading", "22"], "--reading: '22' should be such as 2025-08-11=22/26"),
        (["--reading", "2025-08-05="], "'2025-08-05=' should be such as"),
        (["--reading", "2025-08-05=damp"], "'2025-08-05=damp' should be such as"),
        (["--reading", "2025-08-05=22/26/30"], "should be such as"),
        (["--reading", "5 August=22"], "--reading: '5 August' should be a date"),
        (["--reading", "2025-08-05=2200"], "can't hold 2200% of water"),
        (["--reading", "2025-08-05=nan"], "can't hold nan% of water"),
        (["--reading", "2025-08-09=22"], "to 7 August 2025, the day of the question"),
        (["--chart", "stooks.pdf"], "should end in .svg, .png or .html"),
        (["--latitude", "95"], "A latitude of 95° can't be worked with"),
        (["--forecast", "nowhere.json"], "nowhere.json cannot be read"),
        (["--weather", "nowhere.csv"], "nowhere.csv can't be read"),
        (["--sown", "2024-10-10"], "No such option"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_wrong_value_is_one_sentence(refuse, long_acre, changes, says):
    assert says in refuse("stooks", *long_acre, *changes)


def test_what_is_needed_is_asked_for_in_one_sentence(refuse, record):
    assert "Missing option '--cut'" in refuse("stooks", *record)
