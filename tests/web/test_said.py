"""How pages say quantities, days and chances."""

import datetime

import pytest
from django.utils import timezone

from sheafwright.answers import wording
from sheafwright.web.templatetags import said


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        (said.area(2.0), "2.00 ha"),
        (said.area(2.0, "imperial"), "4.94 acres"),
        (said.area(2.0, ""), "2.00 ha"),
        (said.grams(1_500_000), "1.50 t"),
        (said.kg(None), "–"),
        (said.day(datetime.date(2026, 8, 5)), "5 Aug"),
        (said.weekday(datetime.date(2026, 8, 5)), "Wed 5 Aug"),
        (said.day_and_year(None), "–"),
        (said.percent(17.54), "17.5%"),
    ],
)
def test_a_page_says(written, shown):
    assert written.replace("\u00a0", " ") == shown


def test_a_moment_is_said_in_the_holdings_zone():
    at = datetime.datetime(2026, 8, 5, 11, 30, tzinfo=datetime.UTC)
    with timezone.override("Europe/London"):
        assert said.day_and_time(at).endswith("12:30")


@pytest.mark.parametrize("chance", [0, 0.04, 0.05, 0.1, 0.44, 0.7, 0.95, 0.96, 1])
def test_a_page_says_odds_in_the_words_of_every_answer(chance):
    assert said.odds(chance) == wording.odds(chance)
