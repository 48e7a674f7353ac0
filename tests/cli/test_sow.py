"""``sheafwright sow``: its print, its JSON and its refusals."""

import contextlib
import io
import json
from unittest import mock

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.cli import main

LOT = ("--tgw-g", "48", "--germination-pct", "95", "--row-spacing", "7 in")
WHOLE = (*LOT, "--establishment-pct", "70")
USUAL = dict(zip(WHOLE[::2], WHOLE[1::2], strict=True)) | {"--rate": "120 kg/ha"}
OTHERS = (
    "--plants-per-m2",
    "--sown",
    "--soil",
    "--after",
    "--purpose",
    "--tillering",
    "--area",
    "--sack",
)
LIKELY = ("", "-1", "0", "nan", "inf", "1e999", "7 in", "5 acres", "10-15", "02-30")


def flat(text):
    return " ".join(text.split())


def answered(say, *arguments):
    return json.loads(say("sow", *arguments, "--json"))


def test_the_answer_comes_first_in_every_unit(say):
    printed = say("sow", "--plants-per-m2", "140", *WHOLE)
    assert flat(printed).startswith(
        "For 140 plants/m² sow 101 kg/ha (0.80 cwt/acre, 6.4 st/acre): 211 seeds/m², "
        "37 to a metre of row."
    )
    assert max(map(len, printed.splitlines())) <= 80


def test_the_working_shows_the_formula_and_its_source(say):
    printed = flat(say("sow", "--plants-per-m2", "140", *WHOLE))
    assert "210.5 seeds/m² × 48 g ÷ 100 is 101.1 kg/ha" in printed
    assert "published: AHDB" in printed


def test_a_hundredweight_and_a_half_an_acre_is_188_kg_a_hectare_and_thick(say):
    said = answered(say, "--rate", "1.5 cwt/acre", *WHOLE)
    assert said["rate_kg_per_ha"] == pytest.approx(188.303, abs=5e-4)
    assert said["rate_cwt_per_acre"] == 1.5
    assert said["rate_st_per_acre"] == 12
    assert said["seeds_per_m2"] == pytest.approx(392.298, abs=5e-4)
    assert said["plants_per_m2"] == pytest.approx(392.298 * 0.95 * 0.7, abs=1e-3)
    assert said["seeds_per_m_row"] == pytest.approx(392.298 * 0.1778, abs=1e-3)
    assert "thick seed" in said["sentence"]


@pytest.mark.parametrize("same", ["12 st/acre", "168 lb/acre", "188.30299 kg/ha"])
def test_a_rate_may_be_typed_in_any_unit(say, same):
    said = answered(say, "--rate", same, *WHOLE)
    assert said["rate_cwt_per_acre"] == pytest.approx(1.5, abs=1e-4)


def test_a_date_gives_the_stand_to_aim_for(say):
    said = answered(say, "--sown", "10-15", "--soil", "loam", *LOT)
    assert said["plants_per_m2"] == said["target_plants_per_m2"] == 135
    assert said["sown"] == "10-15"


def test_a_date_after_new_year_is_of_the_same_season(say):
    autumn, february = (
        answered(say, "--sown", day, *WHOLE)["target_plants_per_m2"]
        for day in ("11-14", "02-10")
    )
    assert autumn < february


def test_an_area_gives_the_seed_to_have_ready(say):
    printed = flat(say("sow", "--rate", "100", *WHOLE, "--area", "5 acres"))
    assert "For 2.02 ha have 212 kg ready, 9 sacks of 25 kg" in printed


def test_a_sack_of_the_growers_own_is_counted_in(say):
    area = ("--area", "5 acres", "--sack", "1 cwt")
    said = answered(say, "--rate", "100", *WHOLE, *area)
    assert said["sack_kg"] == pytest.approx(50.80234544)
    assert said["sacks"] == 5


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ((), "Nothing says how thick"),
        (("--rate", "100", "--plants-per-m2", "100"), "both given"),
        (("--rate", "1.5 cwt"), "--rate: '1.5 cwt' is not a quantity that fits"),
        (("--rate", "9 cwt/rood"), "--rate: '9 cwt/rood' is in 'cwt/rood', a unit"),
        (("--rate", "-3"), "--rate: '-3' is less than nothing"),
        (("--rate", "100", "--row-spacing", "7 st"), "--row-spacing: '7 st' is not"),
        (("--rate", "100", "--row-spacing", "7 m"), "Rows 700 cm apart can't be"),
        (("--plants-per-m2", "many"), "'many' is not a valid float"),
        (("--plants-per-m2", "nan"), "nan plants/m² can't be right"),
        (("--rate", "100", "--germination-pct", "0"), "A germination of 0% can't"),
        (("--rate", "100", "--establishment-pct", "120"), "of 120% can't be right"),
        (("--rate", "100", "--tgw-g", "0.048"), "should be from 15 to 90 g"),
        (("--sown", "31-10"), "--sown: '31-10' should be MM-DD"),
        (("--sown", "06-29"), "Wheat is not sown on 29 June"),
        (("--sown", "10-15", "--soil", "chalk"), "'chalk' is not one of"),
        (("--rate", "100", "--sack", "0"), "A sack of 0 kg can't be right"),
        (("--rate", "100", "--area", "0"), "An area of 0 ha can't be right"),
        (("--rate", "100", "--weather", "x"), "No such option"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_wrong_value_is_one_sentence(refuse, asked, says):
    assert says in refuse("sow", *WHOLE, *asked)


def test_what_is_needed_is_asked_for_in_one_sentence(refuse):
    assert "Missing option '--tgw-g'" in refuse("sow", "--rate", "100")
    assert "No establishment is given" in refuse("sow", "--rate", "100", *LOT)


@settings(deadline=None)
@given(
    st.dictionaries(
        st.sampled_from([*USUAL, *OTHERS]),
        st.text(max_size=12) | st.sampled_from(LIKELY) | st.floats().map(str),
        max_size=3,
    )
)
def test_whatever_is_typed_is_answered_or_one_sentence(typed):
    arguments = [each for pair in (USUAL | typed).items() for each in pair]
    out, err, code = io.StringIO(), io.StringIO(), 0
    with (
        mock.patch("sys.argv", ["sheafwright", "sow", *arguments, "--json"]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            main.main()
        except SystemExit as stop:
            code = stop.code
    if code:
        assert (code, out.getvalue()) == (2, "")
        assert err.getvalue().startswith("sheafwright: ")
        assert err.getvalue().count("\n") == 1
    else:
        assert json.loads(out.getvalue())["rate_kg_per_ha"] > 0
