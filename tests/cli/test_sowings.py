"""``sheafwright sowings``: its print, its JSON, its chart and its refusals."""

import json

import pytest

TWO = ("--sown", "10-10", "--sown", "02-26", "--plants-per-m2", "150")


@pytest.fixture(scope="module")
def printed(say, record):
    return say("sowings", *record, *TWO)


def test_the_sentence_comes_first_and_says_what_is_not_asked(printed):
    first = " ".join(printed.split("\n\n")[0].split())
    assert first.startswith("Sown on 10 October with 150 plants to the m² ")
    assert "ground is fit to drill that day is not asked" in first


def test_every_date_stands_beside_its_cold(printed):
    dates = [line for line in printed.splitlines() if line.startswith((" 10-", " 02-"))]
    assert "safe" in dates[0]
    assert " of 30" in dates[0]
    assert "at risk, enough in" in dates[1]


def test_a_record_without_gusts_has_no_share_that_lies(printed):
    rows = [line.split() for line in printed.splitlines() if line.startswith(" 10-10")]
    assert rows[1][:3] == ["10-10", "150", "–"]


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_the_working_is_short_until_it_is_asked_for_whole(say, record, printed):
    whole = say("sowings", *record, *TWO, "--working")
    assert "more steps, each with its source: --working" in " ".join(printed.split())
    assert "no wheat is called safe that is sown after" in " ".join(whole.split())
    assert "called safe" not in printed


def test_with_nothing_named_twelve_dates_meet_three_stands(say, record):
    answer = json.loads(say("sowings", *record, "--json"))
    assert len(answer["by_sowing"]) == 36
    assert len({row["sown"] for row in answer["by_sowing"]}) == 12


def test_what_is_asked_is_what_is_answered(say, record):
    asked = ("--class", "spring", "--soil", "heavy", "--nitrogen-index", "3")
    height = ("--height-class", "old_tall")
    answer = json.loads(say("sowings", *record, *TWO, *asked, *height, "--json"))
    assert answer["variety_class"] == "spring"
    assert (answer["soil"], answer["nitrogen_index"]) == ("heavy", 3)
    assert answer["height_class"] == "old_tall"


@pytest.mark.parametrize(
    ("ending", "begins"),
    [("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!doctype")],
)
def test_the_chart_is_saved_as_its_ending_says(say, record, tmp_path, ending, begins):
    path = tmp_path / f"sowings.{ending}"
    say("sowings", *record, *TWO, "--chart", path)
    assert path.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (["--sown", "2024-10-10"], "--sown: '2024-10-10' should be MM-DD"),
        (["--sown", "07-01"], "Wheat is not sown on 1 July"),
        (["--plants-per-m2", "5000"], "5000 plants to the square metre are no stand"),
        (["--nitrogen-index", "7"], "7 is not in the range"),
        (["--soil", "peat"], "'peat' is no soil we know"),
        (["--height-class", "dwarf"], "'dwarf' is no height class we know"),
        (["--class", "old"], "'old' is not a class of variety"),
        (["--chart", "sowings.pdf"], "should end in .svg, .png or .html"),
        (["--latitude", "-30"], "at a latitude of -30°"),
        (["--weather", "nowhere.csv"], "nowhere.csv can't be read"),
        (["--losses", "nowhere.toml"], "nowhere.toml cannot be read"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_wrong_value_is_one_sentence(refuse, record, changes, says):
    assert says in refuse("sowings", *record, *changes)
