"""``sheafwright budget``: its print, its JSON, its chart and its refusals."""

import json

import pytest

from sheafwright.cli import budget as budget_command


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    path = tmp_path_factory.mktemp("budget") / "mine.toml"
    path.write_text('[fields]\n"Long Meadow" = "6 acres"\n', "utf-8")
    return path


@pytest.fixture(scope="module")
def printed(say, file):
    return say("budget", file, "--harvest", "2027")


def test_the_sentence_comes_first_and_then_the_lines(printed):
    first = " ".join(printed.split("\n\n")[0].split())
    assert first.startswith("2.43 ha of tall wheat should ")
    assert "hours: threshing and combing" in printed
    assert "milling wheat" in printed
    assert "2026-09" in printed


def test_nothing_is_wider_than_eighty_columns(printed):
    assert max(map(len, printed.splitlines())) <= 80


def test_what_is_tried_changes_the_answer_for_once(say, file):
    asked = "budget", file, "--harvest", "2027", "--json"
    usual = json.loads(say(*asked))
    dear = json.loads(say(*asked, "--try", "reed_price=1500"))
    assert dear["margin_pence"] > usual["margin_pence"]


def test_the_example_is_a_file_that_is_read(say, tmp_path):
    path = tmp_path / "example.toml"
    path.write_text(say("budget", "--example"), "utf-8")
    said = json.loads(say("budget", path, "--harvest", "2027", "--json"))
    assert said["area_ha"] == pytest.approx(2.428, abs=1e-3)


def test_every_value_of_the_example_is_read_as_ones_own(say, tmp_path):
    lines = say("budget", "--example").splitlines()
    path = tmp_path / "all.toml"
    path.write_text("\n".join(line.removeprefix("# ") for line in lines), "utf-8")
    said = json.loads(say("budget", path, "--harvest", "2027", "--json"))
    assert "assumed" not in {step["standing"] for step in said["working"][1:7]}


def test_a_chart_is_saved(say, file, tmp_path):
    say("budget", file, "--harvest", "2027", "--chart", tmp_path / "money.svg")
    assert (tmp_path / "money.svg").read_text("utf-8").startswith("<svg")


def test_without_a_file_it_says_how_to_begin(refuse):
    assert "--example prints one" in refuse("budget")


def test_what_cannot_be_tried_is_told(refuse, file):
    assert "should be one of crop, kept" in refuse("budget", file, "--try", "luck=3")


def test_its_help_is_one_sentence_and_its_options():
    assert budget_command.command.help.startswith("Say what a crop")
