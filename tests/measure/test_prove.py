"""Five hundred invented photographs, and fifty that no one should measure by."""

import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import numpy as np
import pytest
from scenes import REAL_EVERY, make_bad, make_scene
from scoring import Score, f1, nearest

from sheafwright.core.errors import SheafwrightError
from sheafwright.measure.straw import measure_straw

GOOD, BAD = 500, 50
TOLD_TIMES = 3
"""A bad photo's figure is a lie if it errs by so many times what is told."""
MOST_WRONG = 0.003
"""Stems whose lengths are off by five times what is asked."""
LEAST_F1 = {"crushed": 0.9, "split": 0.75, "mouldy": 0.9, "leaf": 0.75}

pytestmark = pytest.mark.prove


def measured(seed):
    """What was laid on the board, and what was found there: nothing, if refused."""
    scene = make_scene(seed)
    try:
        return scene.stems, measure_straw(scene.jpeg).stems
    except SheafwrightError:
        return scene.stems, []


def scored(seeds):
    """The `Score` of all photographs, and of those on a photographed ground."""
    everywhere, real = Score(), Score()
    with ProcessPoolExecutor(mp_context=get_context("fork")) as several:
        for seed, (made, found) in zip(
            seeds, several.map(measured, seeds), strict=True
        ):
            everywhere.add(made, found)
            if seed % REAL_EVERY == 0:
                real.add(made, found)
    return {"everywhere": everywhere, "on a real ground": real}


@pytest.fixture(scope="module")
def scores():
    return scored(range(1, GOOD + 1))


@pytest.fixture(params=["everywhere", "on a real ground"])
def score(scores, request):
    return scores[request.param]


def test_nine_stems_in_ten_are_measured(score):
    assert score.measured >= 0.9 * score.made


def test_lengths_and_diameters_are_right_19_times_in_20(score):
    assert score.p95("length") <= 3.0
    assert score.p95("diameter") <= 0.3


def test_hardly_a_length_is_wildly_wrong(score):
    assert len(score.wrong()) <= MOST_WRONG * score.measured


def test_dog_legs_are_told_from_curves(score):
    assert f1(score.dog_legs) >= 0.95


def test_errors_are_within_what_is_told_of_them(score):
    assert np.mean(score.within) >= 0.95


@pytest.mark.parametrize("kind", LEAST_F1)
def test_harm_is_found_and_seldom_told_wrongly(scores, kind):
    assert f1(scores["everywhere"].damage[kind]) >= LEAST_F1[kind]


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


if __name__ == "__main__":
    # The figures themselves, of so many photographs.
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else GOOD
    for name, score in scored(range(1, how_many + 1)).items():
        sys.stdout.write(f"{name}: {score}\n")
