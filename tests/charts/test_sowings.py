"""The chart of sowings side by side: what it says and marks."""

import html
import re

import numpy as np
import pytest

from sheafwright.answers.sowing_dates import sowings
from sheafwright.answers.sowing_dates_question import SowingsQuestion
from sheafwright.charts.save import labelled
from sheafwright.charts.save import svg as drawn
from sheafwright.charts.sowings import sowings_chart
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import Reader, read_by

HOLDING = demo_holding()
NAMES = ("10 Oct", "15 Nov", "25 Mar", "15 Apr")
DATES, DENSITIES = ((10, 10), (11, 15), (3, 25), (4, 15)), (100.0, 170.0)


@pytest.fixture(scope="module")
def answer():
    asked = {"sown": DATES, "plants": DENSITIES, "columns": HOLDING.columns}
    return sowings(SowingsQuestion(HOLDING.weather, **asked))


@pytest.fixture(scope="module")
def svg(answer):
    """With a label at each mark, by which it is found here."""
    return labelled(sowings_chart(answer).to_dict())


def words(svg):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", svg)).split())


def test_the_picture_says_the_whole_sentence(answer, svg):
    assert answer.sentence in words(svg)


def test_a_page_that_shows_the_sentence_already_has_none_in_the_picture(answer):
    assert answer.sentence not in words(drawn(sowings_chart(answer, titled=False)))


def test_every_date_is_coloured_by_its_cold(answer, svg):
    ripe = dict(
        re.findall(r'aria-label="p50: [^;]+; date: ([^;]+); cold: ([a-z ]+)"', svg)
    )
    likely = [day for day, (_, p50, _) in zip(NAMES, answer.ripe_days, strict=True)
              if np.isfinite(p50)]  # fmt: skip
    statuses = [cold.status.replace("_", " ") for cold in answer.colds]
    assert ripe == {
        day: cold for day, cold in zip(NAMES, statuses, strict=True) if day in likely
    }
    assert set(ripe.values()) == {"safe", "at risk"}


def test_a_date_that_likely_never_ripens_is_said_to_be(answer, svg):
    assert answer.ripe_days[3][1] == np.inf
    assert words(svg).count("likely never") == 1


def test_there_is_a_point_for_each_sowing(svg):
    marks = re.findall(r'aria-label="[^"]*plants: \d+[^"]*"', svg)
    assert len(marks) == len(DATES) * len(DENSITIES)


def test_what_the_record_cannot_tell_is_not_drawn(svg):
    assert "Share that lies" not in words(svg)


def test_no_letter_is_too_small_for_a_phone(svg):
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', svg)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert min(sizes) * 360 / width > 8.5


def test_who_reads_acres_sees_what_an_acre_brings(answer):
    with read_by(Reader("imperial")):
        by_acre = labelled(sowings_chart(answer).to_dict())
    assert "£ an acre, over its seed" in words(by_acre)
    hectare, acre = (
        _first_worth(drawing)
        for drawing in (labelled(sowings_chart(answer).to_dict()), by_acre)
    )
    assert acre == pytest.approx(hectare * 0.40468564224, abs=1)


def _first_worth(drawing):
    return float(re.search(r'"mean: ([\d,]+)', drawing)[1].replace(",", ""))
