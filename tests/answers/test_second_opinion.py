"""What another scheme of development says, and when it says nothing."""

import dataclasses
import datetime

import numpy as np
import pytest

from sheafwright.answers.second_opinion import SecondOpinion

SPOKEN = "A second scheme"
NEAR, FAR = [200.0, 202.0, 205.0], [209.0, 213.0, 216.0]


def opinion(first, second):
    return SecondOpinion(
        np.array([[150.0, 152.0, 155.0]] * 2), np.array([first, second])
    )


def last_step(answer):
    return answer.working[-1].says


@pytest.mark.parametrize(
    ("hard", "is_same", "parts"),
    [
        ((NEAR, NEAR), True, False),
        ((NEAR, [199.0, 205.0, 210.0]), True, False),
        ((NEAR, [199.0, 206.0, 210.0]), False, False),
        ((NEAR, FAR), False, True),
        ((FAR, NEAR), False, True),
    ],
)
def test_two_schemes_are_the_same_or_part_by_their_bands(hard, is_same, parts):
    made = opinion(*hard)
    assert (made.is_same, made.parts) == (is_same, parts)


def test_a_crop_that_needs_cold_has_a_second_opinion(look):
    answer = look(seen={})
    assert last_step(answer).startswith(SPOKEN)
    first, second = answer.second.flowering[:, 1]
    # It was set by an October crop in a mean climate; a real year is not far off.
    assert abs(second - first) < 15


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"seen": {}, "variety_class": "spring", "sown": datetime.date(2025, 3, 1)},
        {"seen": {}, "sown": datetime.date(2025, 4, 20)},
    ],
    ids=["a stage was seen", "needs no cold", "never ripens"],
)
def test_of_others_nothing_is_said(look, changes):
    answer = look(**changes)
    assert answer.second is None
    assert SPOKEN not in last_step(answer)


@pytest.mark.parametrize(
    ("hard", "is_said"), [((NEAR, FAR), True), ((NEAR, NEAR), False)]
)
def test_schemes_that_part_are_said_to(look, hard, is_said):
    answer = look(seen={})
    apart = dataclasses.replace(answer, second=opinion(*hard))
    assert ("go by what you see in the field" in last_step(apart)) == is_said
