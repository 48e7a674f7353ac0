"""``sheafwright roof``: its print, its JSON, its picture and its refusals."""

import json

import pytest
from click.testing import CliRunner

from sheafwright.cli.roof import command
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.holding import DEMO

FILE = str(DEMO / "roof.toml")


@pytest.fixture(scope="module")
def say():
    def say(*arguments):
        result = CliRunner().invoke(command, arguments)
        assert result.exit_code == 0, result.output
        return result.stdout

    return say


def test_the_sentence_comes_first_then_the_roof_then_what_it_takes(say):
    printed = say(FILE)
    assert printed.startswith(
        "The roof has 142.8 m², 15.4 squares, and 16.0 m of ridge."
    )
    lines = [" ".join(line.split()) for line in printed.splitlines()]
    assert "squares 15.38" in lines
    assert "bundles of 12.7 kg 464 569 681" in lines
    assert max(map(len, printed.splitlines())) <= 80


def test_cautions_are_printed_and_warnings_where_there_are_some(say, tmp_path):
    assert "Before anybody goes up" in say(FILE)
    assert "Look again" not in say(FILE)
    low = tmp_path / "low.toml"
    low.write_text("outline_m = [[0, 0], [9, 0], [9, 6], [0, 6]]\npitch_deg = 40\n")
    assert "the trade accepts no main slope below 45°" in " ".join(
        say(str(low)).split()
    )


def test_the_working_is_short_until_it_is_asked_for_whole(say):
    assert "more steps, each with its source: --working" in " ".join(say(FILE).split())
    assert "Danguy" in say(FILE, "--working")
    assert "Danguy" not in say(FILE)


def test_json_has_the_sizes_and_the_band(say):
    said = json.loads(say(FILE, "--json"))
    assert said["combed_reed_t"].keys() == {"low", "likely", "high"}
    assert said["area_m2"] == pytest.approx(142.84, abs=0.01)


def test_the_picture_is_saved(say, tmp_path):
    say(FILE, "--chart", str(tmp_path / "roof.svg"))
    assert (tmp_path / "roof.svg").read_text("utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("arguments", "part"),
    [
        (("nowhere.toml",), "nowhere.toml cannot be read"),
        ((FILE, "--chart", "roof.pdf"), "should end in"),
    ],
)
def test_what_is_wrong_is_one_sentence(arguments, part):
    result = CliRunner().invoke(command, arguments)
    assert isinstance(result.exception, SheafwrightError)
    assert part in str(result.exception)
