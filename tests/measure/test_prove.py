"""Five hundred invented photographs, and fifty that no one should measure by."""

import time

import numpy as np
import pytest
from scenes import make_bad, make_scene
from scoring import Score, f1, nearest

from sheafwright.core.errors import SheafwrightError
from sheafwright.measure.straw import measure_straw

GOOD, BAD = 500, 50
MOST_S = 2.0
TOLD_TIMES = 3
"""A bad photo's figure is a lie if it errs by so many times what is told."""

pytestmark = pytest.mark.prove


@pytest.fixture(scope="module")
def proof():
    score, times = Score(), []
    for seed in range(1, GOOD + 1):
        scene = make_scene(seed)
        began = time.process_time()
        found = measure_straw(scene.jpeg)
        times.append(time.process_time() - began)
        score.add(scene.stems, found.stems)
    return score, times


def test_nine_stems_in_ten_are_measured(proof):
    score, _ = proof
    assert score.measured >= 0.9 * score.made


def test_lengths_and_diameters_are_right_19_times_in_20(proof):
    score, _ = proof
    assert score.p95("length") <= 3.0
    assert score.p95("diameter") <= 0.3


def test_dog_legs_are_told_from_curves(proof):
    score, _ = proof
    assert f1(score.dog_legs) >= 0.95


def test_a_photo_takes_less_than_two_seconds_of_a_core(proof):
    _, times = proof
    assert np.median(times) < MOST_S


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
