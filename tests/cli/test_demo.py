"""``sheafwright demo``: two invented fields, and a chart."""

import json
from pathlib import Path

import pytest


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_both_fields_are_told_and_the_chart_is_saved_here(say, folder):
    printed = say("demo")
    assert printed.startswith("Marl Hollow, an invented holding, on 7 August 2025.")
    assert "Kiln Ground, 1.8 ha" in printed
    assert "Coldwell Bottom, 1.2 ha" in printed
    assert max(map(len, printed.splitlines())) <= 80
    assert (folder / "demo-outlook.svg").read_text("utf-8").startswith("<svg")


def test_json_is_one_object_by_field(say, folder):
    answer = json.loads(say("demo", "--json"))
    assert list(answer) == ["Kiln Ground", "Coldwell Bottom"]
    assert answer["Coldwell Bottom"]["variety_class"] == "alternative"


def test_the_chart_goes_where_it_is_asked_to(say, folder):
    say("demo", "--chart", "here.png")
    assert Path("here.png").exists()
    assert not Path("demo-outlook.svg").exists()


def test_an_ending_that_cannot_be_made_is_refused(refuse, folder):
    assert "should end in" in refuse("demo", "--chart", "demo.gif")
