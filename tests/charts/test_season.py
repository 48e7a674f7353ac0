"""The season's chart: what it says, what it marks, and that it renders anywhere."""

import dataclasses
import html
import re

import pytest

from sheafwright.answers.outlook import outlook
from sheafwright.answers.question import Question
from sheafwright.charts.save import check_ending, save
from sheafwright.charts.season import season_chart
from sheafwright.charts.theme import PALE_RAIN, RAIN
from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.forecast.read import parse
from sheafwright.feeds.holding import demo_holding

HOLDING = demo_holding()
FORECAST = parse(
    b"date,member,rain_mm\n2025-08-08,a,0\n2025-08-09,a,0\n2025-08-10,a,4\n", "here"
)


@pytest.fixture(scope="module")
def question():
    field = HOLDING.fields[0]
    return Question(
        weather=HOLDING.weather,
        columns=HOLDING.columns,
        sown=field.sown,
        as_of=HOLDING.as_of,
        seen=field.seen,
        summers=100,
    )


@pytest.fixture(scope="module")
def answer(question):
    return outlook(question)


@pytest.fixture(scope="module")
def foretold(question):
    return outlook(dataclasses.replace(question, forecast=FORECAST))


def drawn(tmp_path, answers, names=None):
    path = tmp_path / "chart.svg"
    save(season_chart(answers, names), path)
    return path.read_text("utf-8")


def words(svg):
    """All that the picture says, in the order it says it."""
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", svg)).split())


def test_the_picture_says_the_whole_sentence(answer, tmp_path):
    assert answer.sentence in words(drawn(tmp_path, [answer]))


def test_a_field_of_known_area_is_drawn_in_pounds(question, answer, tmp_path):
    shares = words(drawn(tmp_path, [answer]))
    assert "Share of a perfect crop" in shares and "£" not in shares
    known = outlook(dataclasses.replace(question, area=2.0))
    said = words(drawn(tmp_path, [known]))
    assert "What it may bring" in said and "Share of" not in said
    # A perfect crop of 2 ha brings £6,050.
    assert "£6,000" in said


def test_every_face_of_type_has_one_that_is_always_there(answer, tmp_path):
    faces = re.findall(r'font-family="([^"]+)"', drawn(tmp_path, [answer]))
    assert faces
    assert all(face.endswith(("serif", "sans-serif")) for face in faces)


def test_no_letter_is_too_small_for_a_phone(answer, tmp_path):
    svg = drawn(tmp_path, [answer])
    width = float(re.search(r'<svg[^>]* width="([\d.]+)"', svg)[1])
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert min(sizes) * 360 / width > 8.5


def test_the_fields_year_shows_a_stage_seen_and_one_to_come(answer, tmp_path):
    said = words(drawn(tmp_path, [answer]))
    assert "19 Jun" in said
    assert re.search(r"1\d Aug ±\d", said)


def test_the_best_day_is_marked(answer, tmp_path):
    assert re.search(r"\d+ Aug: (best day to aim for|cut today)", words(
        drawn(tmp_path, [answer])
    ))  # fmt: skip


def test_where_the_forecast_ends_is_marked_only_if_there_is_one(
    answer, foretold, tmp_path
):
    with_one, without = (drawn(tmp_path, [each]) for each in (foretold, answer))
    assert "past the forecast: other summers" in words(with_one)
    assert "past the forecast" not in words(without)


def test_rain_foretold_is_darker_than_rain_drawn(foretold, tmp_path):
    svg = drawn(tmp_path, [foretold])
    # Today and the three days foretold.
    assert svg.count(f'fill="{RAIN}"') == 4
    assert svg.count(f'fill="{PALE_RAIN}"') > 10


def test_two_fields_stand_one_below_the_other_by_name(answer, foretold, tmp_path):
    said = words(drawn(tmp_path, [answer, foretold], ["Kiln Ground", "Long Acre"]))
    assert said.index("Kiln Ground: ") < said.index("Long Acre: ")


def test_too_late_there_is_only_the_fields_year(question, tmp_path):
    late = HOLDING.as_of.replace(month=10)
    answer = outlook(dataclasses.replace(question, as_of=late))
    said = words(drawn(tmp_path, [answer]))
    assert "hard dough" in said
    assert "by the day aimed for" not in said


def test_a_page_is_whole_in_itself_and_fits_a_phone(answer, tmp_path):
    path = tmp_path / "chart.html"
    save(season_chart([answer]), path)
    page = path.read_text("utf-8")
    assert '<meta name="viewport"' in page
    assert "<script" not in page
    assert "<svg" in page


@pytest.mark.parametrize("name", ["chart", "chart.pdf", "svg"])
def test_an_ending_that_says_of_no_chart_is_refused(name):
    with pytest.raises(UnreadableInput, match=r"should end in \.svg, \.png or \.html"):
        check_ending(name)


def test_a_place_that_cannot_be_written_is_refused(answer, tmp_path):
    with pytest.raises(UnreadableInput, match="can't be saved"):
        save(season_chart([answer]), tmp_path / "nowhere" / "chart.svg")
