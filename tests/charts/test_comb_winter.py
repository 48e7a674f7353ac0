"""The chart of the winter's fit days: what it says and marks."""

import datetime
import html
import re

import pytest

from sheafwright.answers.comb_winter import WinterQuestion, comb_winter
from sheafwright.charts.comb_winter import comb_winter_chart
from sheafwright.charts.save import svg
from sheafwright.charts.theme import STRAW
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import read_by
from told import FOREIGN

DEMO = demo_holding()


@pytest.fixture(scope="module")
def answer():
    day = datetime.date(2024, 11, 20)
    place = DEMO.weather, DEMO.columns, DEMO.latitude, DEMO.altitude
    return comb_winter(WinterQuestion(*place, day, 60_000.0))


def words(drawn):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", drawn)).split())


def test_every_week_has_its_bar_and_some_their_names(answer):
    drawn = svg(comb_winter_chart(answer, titled=False))
    assert drawn.count(f'fill="{STRAW}"') == len(answer.weeks)
    assert "20 Nov" in words(drawn)
    assert "18 Dec" in words(drawn)


def test_titled_it_says_the_answer(answer):
    assert "days are fit to comb" in words(svg(comb_winter_chart(answer)))


def test_its_words_are_the_readers(answer):
    with read_by(FOREIGN):
        drawn = words(svg(comb_winter_chart(answer, titled=False)))
    assert "⟦too damp⟧" in drawn
    assert not re.search(r"(?<!⟦)\bFit days\b", drawn)
