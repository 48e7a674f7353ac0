"""Five hundred invented photographs, and fifty that no one should measure by."""

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest
from scenes import make_bad, make_scene
from scoring import Score, f1, nearest

from sheafwright.core.errors import SheafwrightError
from sheafwright.measure.straw import measure_straw

GOOD, BAD = 500, 50
TOLD_TIMES = 3
"""A bad photo's figure is a lie if it errs by so many times what is told."""

pytestmark = pytest.mark.prove


def measured(seed):
    """What was laid on the board, and what was found there."""
    scene = make_scene(seed)
    return scene.stems, measure_straw(scene.jpeg).stems


@pytest.fixture(scope="module")
def score():
    score = Score()
    with ProcessPoolExecutor(mp_context=get_context("fork")) as several:
        for made, found in several.map(measured, range(1, GOOD + 1)):
            score.add(made, found)
    return score


def test_nine_stems_in_ten_are_measured(score):
    assert score.measured >= 0.9 * score.made


def test_lengths_and_diameters_are_right_19_times_in_20(score):
    assert score.p95("length") <= 3.0
    assert score.p95("diameter") <= 0.3


def test_dog_legs_are_told_from_curves(score):
    assert f1(score.dog_legs) >= 0.95


@pytest.mark.parametrize("seed", range(BAD))
def test_a_bad_photo_is_refused_or_told_of_truly(seed):
    scene, _ = make_bad(seed)
    try:
        found = measure_straw(scene.jpeg)
    except SheafwrightError:
        return
    for stem in found.stems:
        true = nearest(scene.stems, stem)
        miss = abs(stem.length.mm - true.length_mm)
        assert miss < max(TOLD_TIMES * stem.length.error_mm, 3.0)
