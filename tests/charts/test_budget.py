"""The chart of a budget: what it says and marks, in either family of units."""

import html
import re

import pytest

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.charts.budget import budget_chart
from sheafwright.charts.save import svg
from sheafwright.feeds.budget import terms_of
from sheafwright.feeds.telling import Reader, read_by


@pytest.fixture(scope="module")
def answer():
    return budget(BudgetQuestion(terms_of({"Long Meadow": 2.4}), 2027, draws=200))


def words(drawn):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", drawn)).split())


def bars(drawn):
    return len(re.findall(r'aria-roledescription="bar"|<path[^>]*d="M[^"]*Z"', drawn))


def test_the_picture_says_the_whole_sentence_and_every_use(answer):
    said = words(svg(budget_chart(answer)))
    assert answer.sentence in said
    for use in ("tall wheat", "milling wheat", "oats", "feed wheat, baled", "a ley"):
        assert use in said


def test_it_draws_a_band_a_use_and_a_bar_a_month(answer):
    drawn = svg(budget_chart(answer, titled=False))
    assert bars(drawn) >= 5 + len([each for each in answer.months if each.balance])


def test_it_is_by_the_acre_for_who_reckons_in_acres(answer):
    with read_by(Reader("imperial")):
        said = words(svg(budget_chart(answer, titled=False)))
    assert "Left in £/acre" in said
    assert "£/ha" not in said


def test_no_letter_is_too_small_for_a_phone(answer):
    drawn = svg(budget_chart(answer, titled=False))
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', drawn)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', drawn)]
    assert min(sizes) * 360 / width > 8.5
