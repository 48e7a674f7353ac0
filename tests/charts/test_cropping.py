"""A rotation drawn: a square for every field and year."""

from importlib import resources

import pytest

from sheafwright.answers.cropping import cropping
from sheafwright.charts.cropping import COLOURS, cropping_chart
from sheafwright.charts.save import svg
from sheafwright.core.inputs.cropping import Pin
from sheafwright.feeds.cropping import (
    CROPS,
    GRASS,
    CroppingQuestion,
    FieldAsked,
    read_question,
)

DEMO = resources.files("sheafwright") / "data/demo/cropping.toml"


@pytest.fixture(scope="module")
def answer():
    return cropping(read_question(DEMO), compared_years=0)


def cells(chart):
    return chart.to_dict()["data"]["values"]


def test_every_field_and_year_has_its_crop(answer):
    chart = cropping_chart(answer)
    drawn = {(cell["field"], cell["year"]): cell["crop"] for cell in cells(chart)}
    for field in answer.question.fields:
        crops = answer.crops(field.name)
        for year, crop in zip(answer.years, crops, strict=True):
            assert drawn[field.name, year] == crop
    assert "Long Acre" in svg(chart)


def test_every_crop_has_a_colour_of_its_own():
    assert COLOURS.keys() == {*CROPS, GRASS}
    assert len(set(COLOURS.values())) == len(COLOURS)


def test_a_pin_is_outlined_and_more_years_are_lettered():
    field = FieldAsked("A", 1.0, ("ley", "ley"))
    question = CroppingQuestion(
        2027, 8, (field,), 500.0, pins=(Pin("A", 2029, "roots"),)
    )
    drawn = cells(cropping_chart(cropping(question, compared_years=0), titled=False))
    assert [cell["year"] for cell in drawn if cell["pinned"]] == [2029]
    assert {len(cell["says"]) for cell in drawn} == {1}
