"""``sheafwright replay`` as a grower calls it, and as a grower may mistake it."""

import gzip
import json
from importlib import resources
from pathlib import Path

import pytest
from click.testing import CliRunner

from sheafwright.answers import replay as replaying
from sheafwright.cli.replay import command
from sheafwright.core.errors import SheafwrightError

DEMO = str(resources.files("sheafwright") / "data/demo/weather.csv.gz")
LINES = gzip.decompress(Path(DEMO).read_bytes()).decode().splitlines()
ASKED = ["--weather", DEMO, "--latitude", "52.4", "--sown", "10-10"]


def told(*options):
    """One sentence of what is wrong: by the command's own check, or by ours."""
    result = CliRunner().invoke(command, options)
    if isinstance(result.exception, SheafwrightError):
        return str(result.exception)
    assert result.exit_code == 2
    return result.output


@pytest.mark.parametrize("sown", ["13-40", "10-10-2024", "October", "02-30"])
def test_a_day_that_is_none_is_refused(sown):
    assert "should be MM-DD" in told("--weather", DEMO, "--sown", sown)


def test_leap_day_is_a_sowing_day():
    told_of_latitude = told("--weather", DEMO, "--sown", "02-29")
    assert "latitude should be given" in told_of_latitude


def test_a_chart_that_cannot_be_made_is_refused_before_the_sums(monkeypatch):
    monkeypatch.setattr(replaying, "replay", lambda *_: pytest.fail("began the sums"))
    assert "should end in" in told(*ASKED, "--chart", "chart.bmp")


def test_a_table_of_losses_that_lacks_a_row_is_refused(tmp_path):
    table = tmp_path / "losses.toml"
    table.write_text("[ripeness]\nfit_from = 0.75\n", encoding="utf-8")
    says = told(*ASKED, "--losses", str(table))
    assert "losses.toml [ripeness] lacks full_from, full_to" in says


def test_a_latitude_where_the_sun_does_not_set_is_refused():
    assert "latitude of 89" in told(*ASKED[:2], "--latitude", "89", *ASKED[4:])


def test_an_unknown_class_is_refused_with_those_there_are():
    assert "end-january" in told(*ASKED, "--class", "modern")


def test_a_record_of_few_years_is_refused(tmp_path):
    short = tmp_path / "marl.csv"
    short.write_text("\n".join(LINES[:1500]), encoding="utf-8")
    says = told("--weather", str(short), "--latitude", "52.4", "--sown", "10-10")
    assert "whole harvests" in says
    assert "at least" in says


@pytest.fixture(scope="module")
def short_replay(tmp_path_factory):
    """Fourteen harvests of the demo record."""
    path = tmp_path_factory.mktemp("replay") / "marl.csv"
    path.write_text("\n".join([LINES[0], *LINES[-5400:]]), encoding="utf-8")
    return ["--weather", str(path), "--latitude", "52.4", "--sown", "10-10"]


def test_the_json_is_one_object_and_the_chart_is_saved(short_replay, tmp_path):
    chart = tmp_path / "replay.svg"
    result = CliRunner().invoke(command, [*short_replay, "--json", "--chart", chart])
    assert json.loads(result.stdout)["forecast_skill"] == "none"
    assert chart.read_text("utf-8").startswith("<svg")


def test_the_sentence_comes_first_and_every_policy_is_shown(short_replay):
    result = CliRunner().invoke(command, short_replay)
    lines = result.stdout.splitlines()
    assert lines[0].startswith("Over 1")
    for name in ("advice", "first fit day", "wait for dry days", "foresight"):
        assert any(line.strip().startswith(name) for line in lines)
    assert max(map(len, lines)) <= 80
