"""The chart of straw by nitrogen: what it says and marks."""

import datetime
import html
import re

import pytest

from sheafwright.answers.expected_yield import YieldQuestion, expected_yield
from sheafwright.charts.expected_yield import expected_yield_chart
from sheafwright.charts.save import save
from sheafwright.charts.theme import INK

SOWN = datetime.date(2025, 10, 10)


def drawn(folder, *nitrogen):
    answer = expected_yield(YieldQuestion(nitrogen, 200, SOWN))
    path = folder / "yield.svg"
    save(expected_yield_chart(answer), path)
    return answer, path.read_text("utf-8")


@pytest.fixture
def usual(tmp_path):
    return drawn(tmp_path, 80, 100)


def words(svg):
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", svg)).split())


def field_line(svg):
    """Length of the mark of this field's supply. [px]"""
    rule = re.search(rf'<line[^>]*x2="([-\d.]+)"[^>]*stroke="{INK}"[^>]*width="5"', svg)
    return abs(float(rule[1]))


def test_the_picture_says_the_whole_sentence(usual):
    answer, svg = usual
    assert answer.sentence in words(svg)


def test_it_names_the_field_and_where_straw_goes_soft(usual):
    _, svg = usual
    assert "this field" in words(svg)
    assert "more: soft straw, lodging" in words(svg)


def test_the_fields_mark_is_as_long_as_its_supply_is_unsure(usual, tmp_path):
    _, svg = usual
    _, wide = drawn(tmp_path, 60, 100)
    assert field_line(wide) == pytest.approx(2 * field_line(svg), rel=0.01)


def test_ground_richer_than_the_curve_still_lies_on_the_picture(tmp_path):
    _, svg = drawn(tmp_path, 240, 300)
    assert "300" in words(svg)


def test_no_letter_is_too_small_for_a_phone(usual):
    _, svg = usual
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', svg)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert min(sizes) * 360 / width > 8.5
