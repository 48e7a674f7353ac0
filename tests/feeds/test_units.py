"""What a person types is understood, or refused in one sentence; never guessed."""

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.errors import OutOfRange, SheafwrightError, UnreadableInput
from sheafwright.feeds.units import (
    FAMILIES,
    QUANTITIES,
    in_unit,
    parse,
    show,
    usual_unit,
)

PATH = Path(__file__).parent / "checks/units.toml"
CHECKS = tomllib.loads(PATH.read_text("utf-8"))["check"]
STANDINGS = {"published", "from memory", "closed form"}

quantities = st.sampled_from(sorted(QUANTITIES))
families = st.sampled_from(FAMILIES)
unhurried = settings(deadline=None)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check["typed"])
def test_a_typed_quantity_has_the_checked_value(check):
    got = parse(check["typed"], check["quantity"])
    assert got == pytest.approx(check["expected"], rel=0, abs=check["abs_tol"])
    assert check["standing"] in STANDINGS
    assert check["source"].strip()


@pytest.mark.parametrize(
    ("typed", "quantity", "same"),
    [
        ("2.5 acres", "area", "2.5 ac"),
        ("2.5ACRES", "area", "2.5 acre"),
        ("1,200 kg", "mass", "1.2 t"),
        ("1 ton 5 cwt", "mass", "25 cwts"),
        ("5 cwt per acre", "rate", "5 cwt an acre"),
        ("5'6\"", "height", "66 in."),
        ("40 m²", "area", "40 sq m"),
        ("100 ft2", "area", "1 square"),
        (".5 in", "depth", "0.5 inches"),
    ],
)
def test_two_spellings_say_one_thing(typed, quantity, same):
    assert parse(typed, quantity) == pytest.approx(parse(same, quantity))


def test_a_bare_number_is_in_the_familys_usual_unit():
    assert parse("7", "depth", "metric") == 7
    assert parse("7", "depth", "imperial") == pytest.approx(177.8)
    assert usual_unit("depth", "imperial") == "in"


def test_a_night_may_be_colder_than_nothing():
    assert parse("-3.5", "temperature") == -3.5
    assert parse("−3.5 °C", "temperature") == -3.5


REFUSED = {
    ("5 furlongs", "distance"): "is in 'furlongs', a unit we don't know",
    ("5 gallons", "mass"): "a unit we don't know",
    ("5 kg", "area"): "it should be such as 2.5 acres",
    ("50 units", "rate"): "it should be such as 1.5 cwt/acre",
    ("3,2", "area"): "it should be such as 2.5 acres",
    ("12,34 kg", "mass"): "it should be such as 3 cwt",
    ("nan", "area"): "not a quantity",
    ("inf ha", "area"): "not a quantity",
    ("", "area"): "not a quantity",
    ("acres", "area"): "not a quantity",
    ("1e9 ha", "area"): "a unit we don't know",
    ("4 ft 6", "height"): "not a quantity",
    ("2 1/2 acres", "area"): "not a quantity",
    ("4 ha ha", "area"): "a unit we don't know",
    ("9 lb//acre", "rate"): "a unit we don't know",
    ("9 dimensionless", "area"): "not a quantity",
    ("20 c 20 c", "temperature"): "not a quantity",
    ("9" * 61, "mass"): "not a quantity",
}


@pytest.mark.parametrize(("typed", "words"), REFUSED.items(), ids=str)
def test_what_cannot_be_understood_is_refused_in_words(typed, words):
    with pytest.raises(UnreadableInput) as refusal:
        parse(*typed)
    assert words in str(refusal.value)


def test_less_than_nothing_is_out_of_range():
    with pytest.raises(OutOfRange, match="less than nothing; it should be 0 or more"):
        parse("-3 acres", "area")


SHOWN = [
    (1.0117141056, "area", "imperial", "2.50 acres"),
    (1.0117141056, "area", "metric", "1.01 ha"),
    (188.303, "rate", "imperial", "1.50 cwt/acre"),
    (188.303, "rate", "metric", "188 kg/ha"),
    (3012.85, "yield", "imperial", "1.20 tons/acre"),
    (3012.85, "yield", "metric", "3.01 t/ha"),
    (177.8, "depth", "imperial", "7.00 in"),
    (6.2, "depth", "metric", "6.2 mm"),
    (122, "height", "imperial", "48.0 in"),
    (122, "height", "metric", "122 cm"),
    (12.7, "mass", "imperial", "28.0 lb"),
    (76.2, "mass", "imperial", "1.50 cwt"),
    (12345678, "mass", "imperial", "12,151 tons"),
    (999, "mass", "metric", "999 kg"),
    (8250, "mass", "metric", "8.25 t"),
    (54, "temperature", "imperial", "54.0 °C"),
    (0, "mass", "metric", "0.0 kg"),
]


@pytest.mark.parametrize(("value", "quantity", "family", "text"), SHOWN)
def test_a_value_is_shown_as_its_family_writes_it(value, quantity, family, text):
    assert show(value, quantity, family).replace("\u00a0", " ") == text


def test_a_number_and_its_unit_stay_on_one_line():
    assert show(2, "area") == "2.00\u00a0ha"


@unhurried
@given(st.floats(0, 1e7), quantities, families)
def test_what_is_shown_is_read_back_as_nearly_as_it_is_shown(value, quantity, family):
    text = show(value, quantity, family)
    number, unit = text.split("\u00a0")
    last_digit = 10.0 ** -len(number.partition(".")[2])
    # Half a last digit in the shown unit, and as much again for its rounding.
    slack = parse(f"{last_digit:.9f} {unit}", quantity)
    assert parse(text, quantity, family) == pytest.approx(value, abs=slack, rel=1e-9)


@unhurried
@given(
    st.floats(0, 1e4),
    st.sampled_from(["kg/ha", "cwt/acre", "st/acre", "lb/acre", "t/ha"]),
)
def test_a_rate_in_another_unit_is_read_back_as_the_same_rate(value, unit):
    typed = f"{in_unit(value, 'rate', unit):.12f} {unit}"
    assert parse(typed, "rate") == pytest.approx(value, abs=1e-6)


@unhurried
@given(
    st.text(max_size=70)
    | st.from_regex(r"-?[0-9.,e]{1,9} ?[a-z/ '\"²]{0,12}", fullmatch=True),
    quantities,
    families,
)
def test_whatever_is_typed_is_a_number_or_one_sentence(text, quantity, family):
    try:
        value = parse(text, quantity, family)
    except SheafwrightError as refusal:
        said = str(refusal)
        assert said.endswith(".")
        assert "\n" not in said
    else:
        assert value >= 0 or quantity == "temperature"
        assert value < float("inf")


def test_pint_is_not_imported_until_something_is_read():
    asked = "import sys, sheafwright.feeds.units; print('pint' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True)
    assert said.stdout.strip() == "False"
