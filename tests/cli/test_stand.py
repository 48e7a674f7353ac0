"""``sheafwright stand``: its print, its JSON, its chart and its refusals."""

import json

import pytest


@pytest.fixture(scope="module")
def crop(record):
    """Options of a question about a crop in the demo's weather."""
    return *record, "--sown", "2025-10-01", "--plants-per-m2", "300"


@pytest.fixture(scope="module")
def printed(say, crop):
    return say("stand", *crop, "--height", "4 ft 1 in", "--nitrogen-index", "2")


def test_the_sentence_comes_first_and_sets_it_beside_a_usual_field(printed):
    first = " ".join(printed.split("\n\n")[0].split())
    assert first.startswith("This crop is about ")
    assert "a usual field (1.2 m tall" in first
    assert "chances in 10" in first


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_changes_are_set_out_and_row_spacing_is_called_unsettled(printed):
    lines = [" ".join(line.split()) for line in printed.splitlines()]
    assert "wider or narrower rows unsettled" in lines
    assert any(line.startswith("thinner seed, 200 plants/m²") for line in lines)


def test_the_working_is_short_until_it_is_asked_for_whole(say, crop, printed):
    whole = say("stand", *crop, "--working")
    assert "more steps, each with its source: --working" in " ".join(printed.split())
    assert "Raupach" in whole
    assert "Raupach" not in printed


def test_json_takes_height_in_any_unit(say, crop):
    one, other = (
        json.loads(say("stand", *crop, "--height", height, "--json"))
        for height in ("4 ft", "121.92 cm")
    )
    assert one["crop"]["height_m"] == pytest.approx(1.2192)
    assert one["share_lodged"] == other["share_lodged"]


def test_what_is_not_said_is_as_in_the_reference_field(say, crop):
    reference = ("--reference", "height=1.1 m", "--reference", "nitrogen-index=3")
    dated = ("--reference", "sown=2025-09-20", "--reference", "plants=200")
    answer = json.loads(say("stand", *crop, *reference, *dated, "--json"))
    assert answer["crop"] == {
        "sown": "2025-10-01",
        "plants_per_m2": 300,
        "height_m": pytest.approx(1.1),
        "nitrogen_index": 3,
    }
    assert answer["against_reference"]["crop"]["sown"] == "2025-09-20"
    assert answer["against_reference"]["crop"]["plants_per_m2"] == 200


def test_lodging_of_ones_own_is_taken(say, crop, tmp_path):
    path = tmp_path / "lodged.csv"
    path.write_text("sown,lodged_pct\n2019-10-10,0\n2020-10-10,5\n")
    answer = json.loads(say("stand", *crop, "--own-lodging", path, "--json"))
    assert answer["own_years"] == 2
    assert "2 crops that you wrote down" in answer["sentence"]


@pytest.mark.parametrize(
    ("ending", "begins"),
    [("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!doctype html>")],
)
def test_the_chart_is_saved_as_its_ending_says(say, crop, tmp_path, ending, begins):
    path = tmp_path / f"stand.{ending}"
    say("stand", *crop, "--chart", path)
    assert path.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (["--sown", "1.10.2025"], "--sown: '1.10.2025' should be a date such as"),
        (["--plants-per-m2", "5"], "with 5 plants a square metre can't be judged"),
        (["--height", "4 stone"], "'4 stone' is not a quantity that fits here"),
        (["--height", "9 ft"], "a height of 2.7432 m can't be judged"),
        (["--nitrogen-index", "7"], "it should be from 0 to 6"),
        (["--nitrogen-index", "nan"], "it should be from 0 to 6"),
        (["--soil", "peat"], "should be one of light, medium, heavy"),
        (["--class", "tall"], "'tall' is not a class of variety"),
        (["--reference", "width=3"], "'width' should be one of sown, plants,"),
        (["--reference", "plants=many"], "--reference: 'many' should be a number"),
        (["--reference", "sown=May"], "--reference: 'May' should be a date such as"),
        (["--reference", "plants"], "'plants' should be such as height='4 ft'"),
        (["--own-lodging", "nowhere.csv"], "nowhere.csv cannot be read"),
        (["--chart", "stand.pdf"], "should end in .svg, .png or .html"),
        (["--weather", "nowhere.csv"], "nowhere.csv can't be read"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_wrong_value_is_one_sentence(refuse, crop, changes, says):
    assert says in refuse("stand", *crop, *changes)


def test_what_is_needed_is_asked_for_in_one_sentence(refuse, record):
    assert "Missing option '--sown'" in refuse("stand", *record)
