"""``sheafwright weather``: the sentence first, tables within 80 columns, or JSON."""

import json
from importlib import resources

import pytest
from click.testing import CliRunner

from sheafwright.cli import main

DEMO = resources.files("sheafwright") / "data/demo"
RECORD, COLUMNS = str(DEMO / "weather.csv.gz"), str(DEMO / "columns.toml")


def said(*arguments):
    result = CliRunner().invoke(main.cli, ["weather", *arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_sentence_comes_first():
    lines = said(RECORD, "--columns", COLUMNS).splitlines()
    assert lines[0].startswith("Marl Hollow: 11,323 days from 1 January 1995 to")


def test_tables_fit_eighty_columns():
    lines = said(RECORD).splitlines()
    assert max(map(len, lines)) <= 80
    assert any("rain_mm" in line and "100.00%" in line for line in lines)


def test_impossible_values_gaps_and_spoiled_seasons_are_shown(tmp_path):
    months = [f"{year}-{month:02}" for year in (2001, 2002) for month in range(1, 13)]
    # No month has its last days, and a day of rain is negative.
    rows = [f"{month}-{day:02},{day % 9}" for month in months for day in range(1, 29)]
    rows[200] = rows[200].split(",")[0] + ",-3"
    path = tmp_path / "ann.csv"
    path.write_text("\n".join(["date,rain_mm", *rows]))
    shown = said(str(path))
    assert "Impossible or suspicious (12 of" in shown
    assert "Gaps, the longest first (12 of" in shown
    assert "Seasons that can't be used" in shown


def test_json_is_one_object_and_nothing_else():
    answer = json.loads(said(RECORD, "--json"))
    assert answer["days"] == 11_323
    assert answer["present"]["rain_mm"] == 1


def test_a_name_in_brackets_is_shown_as_it_is(tmp_path):
    path = tmp_path / "[red]ann.csv"
    path.write_text("date,rain_mm\n2024-02-29,3.5\n")
    assert said(str(path)).startswith("[red]ann: 1 day from 29 February 2024")


def test_a_file_that_is_not_there_is_one_sentence_and_exit_code_two(
    monkeypatch, capsys
):
    monkeypatch.setattr("sys.argv", ["sheafwright", "weather", "nowhere.csv"])
    with pytest.raises(SystemExit) as stop:
        main.main()
    assert stop.value.code == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.startswith("sheafwright: nowhere.csv can't be read")
