"""The chart of a crop that may lie: what it says and marks."""

import datetime
import html
import re

import pytest

from sheafwright.answers.lodging import LodgingQuestion, will_it_stand
from sheafwright.charts.lodging import lodging_chart
from sheafwright.charts.save import labelled
from sheafwright.charts.theme import STRAW
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.lodging import Crop

HOLDING = demo_holding()
CROP = Crop(datetime.date(2025, 10, 1), 300, 1.25, 2)


@pytest.fixture(scope="module")
def answer():
    return will_it_stand(LodgingQuestion(HOLDING.weather, CROP, HOLDING.columns))


@pytest.fixture(scope="module")
def svg(answer):
    """With a label at each mark, by which it is found here."""
    return labelled(lodging_chart(answer).to_dict())


def words(svg):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", svg)).split())


def test_the_picture_says_the_whole_sentence(answer, svg):
    assert answer.sentence in words(svg)


def test_a_page_that_says_it_already_gets_the_picture_alone(answer):
    assert "title" not in lodging_chart(answer, titled=False).to_dict()


def test_every_settled_change_is_a_bar_and_the_disputed_one_is_none(answer, svg):
    for name in ("as asked", "a usual field", "sowing three weeks later"):
        assert name in words(svg)
    assert f"{answer.chances['asked']:.0%}" in words(svg)
    assert "rows" not in words(svg)
    bars = re.findall(r'<path[^>]*aria-roledescription="bar"[^>]*>', svg)
    assert len(bars) == 2 + len(answer.question.changes)
    assert sum(f'fill="{STRAW}"' in bar for bar in bars) == 1


def test_no_letter_is_too_small_for_a_phone(svg):
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', svg)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert min(sizes) * 360 / width > 8.5
