"""The chart of drying stooks: what it says and marks."""

import datetime
import html
import re

import pytest

from sheafwright.answers.stooks import Reading, StooksQuestion, stooks
from sheafwright.charts.save import save
from sheafwright.charts.stooks import stooks_chart
from sheafwright.charts.theme import INK, PALE_RAIN, PAPER, RAIN
from sheafwright.feeds.holding import demo_holding

HOLDING = demo_holding()
CUT, TODAY = datetime.date(2025, 8, 1), datetime.date(2025, 8, 7)
READINGS = (Reading(datetime.date(2025, 8, 5), 0.22, 0.27), Reading(TODAY, 0.20))


@pytest.fixture(scope="module")
def answer():
    asked = {"columns": HOLDING.columns, "as_of": TODAY, "summers": 100}
    return stooks(
        StooksQuestion(HOLDING.weather, CUT, "Long Acre", readings=READINGS, **asked)
    )


@pytest.fixture(scope="module")
def svg(answer, tmp_path_factory):
    path = tmp_path_factory.mktemp("charts") / "stooks.svg"
    save(stooks_chart(answer), path)
    return path.read_text("utf-8")


def words(svg):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", svg)).split())


def test_the_picture_says_the_whole_sentence(answer, svg):
    assert answer.sentence in words(svg)


def test_the_limits_to_carry_are_named(svg):
    assert "carry at 17%" in words(svg)
    assert "carry at 16%" in words(svg)


def test_every_reading_is_a_point(svg):
    points = re.findall(rf'<path[^>]*fill="{INK}" stroke="{PAPER}"', svg)
    assert len(points) == 3


def test_rain_that_fell_is_darker_than_rain_expected(svg):
    assert svg.count(f'fill="{RAIN}"') == 7
    assert svg.count(f'fill="{PALE_RAIN}"') == 21


def test_no_letter_is_too_small_for_a_phone(svg):
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', svg)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert min(sizes) * 360 / width > 8.5
