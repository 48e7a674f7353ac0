"""``sheafwright grade``: its print, its JSON and its refusals."""

import json

import pytest

from answers.straw_stems import SHORT, SOUND


@pytest.fixture
def stems_file(tmp_path):
    """Six bundles of a dozen stems, one of them short."""
    rows = [SOUND | {"bundle": n % 6 + 1} for n in range(71)] + [SHORT | {"bundle": 6}]
    path = tmp_path / "stems.json"
    path.write_text(json.dumps(rows))
    return path


def answered(say, *arguments):
    return json.loads(say("grade", *arguments, "--json"))


def test_the_grade_comes_first_with_its_confidence(say, stems_file):
    printed = " ".join(say("grade", stems_file).split())
    assert printed.startswith("Grade 1 for coatwork, with 9")
    assert "71 of 72 stems keep the rule; of the rest, 1 too short." in printed
    assert "A thatcher's page asks 30 inches or more" in printed


def test_another_use_has_another_rule(say, stems_file):
    said = answered(say, stems_file, "--use", "ridge")
    assert said["stems_within_rule"] == 72
    assert said["rule"]["length_least_mm"] == 450


def test_the_growers_own_rule_stands_beside_the_packages(say, stems_file, tmp_path):
    own = tmp_path / "rules.toml"
    own.write_text("[coatwork]\nlength_least = 1100\n")
    said = answered(say, stems_file, "--rules", own)
    assert said["grade"] == "below" and said["own_rule"]
    assert said["rule"]["first_share"] == 0.9


def test_with_bundles_it_says_which_to_open(say, stems_file):
    said = answered(say, stems_file, "--bundles", 300)
    assert len(said["bundle_numbers"]) == said["open_bundles"]
    assert answered(say, stems_file, "--bundles", 300, "--seed", 2) != said


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["none.json"], "none.json cannot be read"),
        (["{stems}", "--bundles", "0"], "A lot of 0 bundles can't be right"),
        (["{stems}", "--rules", "{own}"], "has no section coatwork"),
    ],
)
def test_what_it_can_not_read_is_refused_in_one_sentence(
    refuse, stems_file, tmp_path, arguments, says
):
    own = tmp_path / "rules.toml"
    own.write_text("[ridge]\nlength_least = 500\n")
    given = [each.format(stems=stems_file, own=own) for each in arguments]
    assert says in refuse("grade", *given)
