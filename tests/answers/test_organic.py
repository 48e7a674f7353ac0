"""Organic goes by the day of sowing, in conversion by the day of cutting."""

import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.organic import organic_status
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import tables

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "organic.json").read_text("utf-8"))
CONVERTED = date(2024, 10, 1)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


@pytest.mark.parametrize(
    ("sown", "status"),
    [(date(2026, 9, 30), "in_conversion"), (date(2026, 10, 1), "organic")],
)
def test_two_years_are_counted_to_the_day_of_sowing(sown, status):
    assert organic_status(CONVERTED, sown, date(2027, 8, 1)).status == status


def test_a_crop_sown_a_day_early_is_not_organic_however_late_it_is_cut():
    answer = organic_status(CONVERTED, date(2026, 9, 30), date(2027, 8, 1))
    assert valid(answer)["sentence"] == (
        "In conversion and not organic: sown on 30 September 2026, and a crop there is "
        "organic if sown from 1 October 2026 on."
    )


@pytest.mark.parametrize(
    ("cut", "status"),
    [(date(2025, 9, 30), "not_organic"), (date(2025, 10, 1), "in_conversion")],
)
def test_a_year_is_counted_to_the_day_of_cutting(cut, status):
    assert organic_status(CONVERTED, date(2025, 3, 1), cut).status == status


def test_of_a_standing_crop_no_more_is_claimed_than_is_sure():
    answer = organic_status(CONVERTED, date(2025, 3, 1))
    assert valid(answer)["status"] == "not_organic"
    assert answer.sentence.endswith(
        "it may be sold as in conversion if cut from 1 October 2025 on."
    )


def test_a_crop_cut_too_soon_is_said_to_be():
    answer = organic_status(CONVERTED, date(2024, 10, 5), date(2025, 8, 1))
    assert "it was cut before 1 October 2025, too soon" in answer.sentence


def test_land_not_farmed_organically_has_no_dates():
    said = valid(organic_status(None, date(2025, 10, 5)))
    assert (said["status"], said["organic_if_sown_from"]) == ("not_organic", None)
    assert said["working"][0]["says"] == "No conversion is recorded."


def test_a_conversion_begun_on_a_leap_day_is_not_cut_short():
    answer = organic_status(date(2024, 2, 29), date(2026, 10, 5))
    assert answer.organic_from == date(2026, 3, 1)
    assert answer.label_from == date(2025, 3, 1)


def test_a_crop_cut_before_it_was_sown_is_refused():
    with pytest.raises(OutOfRange, match="it should be after it was sown"):
        organic_status(CONVERTED, date(2025, 3, 1), date(2025, 3, 1))


def test_every_row_of_the_table_is_in_the_working():
    rows = tables.shipped("organic")["conversion"].values()
    working = organic_status(CONVERTED, date(2025, 3, 1)).working
    assert [(s.source, s.standing) for s in working[1:]] == [
        (row.source, row.standing) for row in rows
    ]


ORDER = ["not_organic", "in_conversion", "organic"]
dates = st.dates(date(1990, 1, 1), date(2090, 1, 1))


@given(dates, dates, dates)
def test_an_earlier_conversion_never_gives_a_lesser_status(one, other, sown):
    early, late = (organic_status(each, sown).status for each in sorted([one, other]))
    assert ORDER.index(early) >= ORDER.index(late)
