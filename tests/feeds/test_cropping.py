"""A question of the cropping plan is read as it was written, or refused."""

import datetime
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.errors import SheafwrightError, UnreadableInput
from sheafwright.core.inputs.cropping import Buyer, Wanted
from sheafwright.feeds import cropping

DEMO = resources.files("sheafwright") / "data/demo/cropping.toml"
FIELD = '[[fields]]\nname = "Long Acre"\narea_ha = 2.6\n'
HEAD = "first_year = 2027\nyears = 3\nhours_a_week = 60.0\n"


@pytest.fixture
def asked(tmp_path):
    """The question of a file's text."""

    def asked(text):
        path = tmp_path / "plan.toml"
        path.write_text(text, encoding="utf-8")
        return cropping.read_question(path)

    return asked


def test_the_demo_is_read():
    question = cropping.read_question(DEMO)
    assert question.fields[0].conversion_from == datetime.date(2015, 1, 1)
    assert question.fields[0].history[-1] == "autumn_wheat"
    assert question.fields[-1].keep_in_grass
    assert question.buyers == (Buyer(9.0, 850.0), Buyer(6.0, 700.0))
    assert question.wanted[0] == Wanted(2027, "wheat", 2.5)
    assert question.increase.wanted_ha == 0.5


def test_a_value_of_ones_own_takes_the_place_of_the_tables(asked):
    question = asked(f"{HEAD}[values.oats]\ncost_gbp_per_ha = 500.0\n{FIELD}")
    crops = cropping.crops(question.values)
    assert crops["oats"].cost_gbp_per_ha == 500.0
    assert crops["roots"] == cropping.crops({})["roots"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("years = ", "is not a TOML file"),
        (f"{HEAD}fields = 3", "fields should be written as [[fields]]"),
        (f"{HEAD}colour = 1\n{FIELD}", "has colour, which nothing reads"),
        (f"first_year = 2027\nyears = 3\n{FIELD}", "lacks hours_a_week"),
        (f"{HEAD}[[fields]]\nname = 'A'", "[[fields]] lacks area_ha"),
        (f"{HEAD}[[fields]]\nname = 'A'\narea_ha = {'9' * 400}", "should be a number"),
        (f"{HEAD}{FIELD}history = 'ley'", "should be a list of texts"),
        (f"{HEAD}{FIELD}conversion_from = 2020", "a date such as 2026-08-06"),
        (f"{HEAD}{FIELD}keep_in_grass = 1", "true or false"),
        (f"{HEAD.replace('3', '3.5', 1)}{FIELD}", "should be a whole number"),
        (f"{HEAD}values = {{ oats = 3 }}\n{FIELD}", "sections of names and values"),
        (f"{HEAD}increase = 'no'\n{FIELD}", "should hold names and values"),
    ],
)
def test_what_is_wrong_is_said_in_one_sentence(asked, text, words):
    with pytest.raises(UnreadableInput) as refusal:
        asked(text)
    assert words in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_a_row_that_the_table_lacks_is_refused():
    with pytest.raises(UnreadableInput, match="has colour, which nothing reads"):
        cropping.crops({"oats": {"colour": "white"}})


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(UnreadableInput, match=r"none.toml cannot be read .No such"):
        cropping.read_question(tmp_path / "none.toml")


@given(
    at=st.integers(0, 3000),
    removed=st.integers(0, 30),
    put=st.binary(max_size=6) | st.sampled_from([b"1e999", b"-1", b"[", b"''", b"="]),
)
def test_bytes_replaced_anywhere_are_read_or_refused(
    tmp_path_factory, at, removed, put
):
    whole = DEMO.read_bytes()
    path = tmp_path_factory.mktemp("fuzz") / "plan.toml"
    path.write_bytes(whole[:at] + put + whole[at + removed :])
    try:
        cropping.read_question(path)
    except SheafwrightError as refusal:
        assert str(refusal).endswith(".")
