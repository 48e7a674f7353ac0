"""Straw in invented photographs is measured, or it is said why it was not."""

import io
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from PIL import Image
from scenes import make_bad, make_scene
from scoring import Score, nearest

from sheafwright.answers.straw import straw
from sheafwright.core.errors import OutOfRange, SheafwrightError
from sheafwright.feeds.telling import read_by
from sheafwright.measure.drawn import drawn
from sheafwright.measure.straw import measure_straw
from told import FOREIGN, loose

SCHEMAS = Path(__file__).parents[1] / "answers/schemas"
SCHEMA = json.loads((SCHEMAS / "straw.json").read_text("utf-8"))
SEEDS = (1,)
"""Beside the fixture's: photographs enough for a short look; `prove` takes 500."""


@pytest.fixture(scope="module")
def score(scene, found):
    score = Score()
    score.add(scene.stems, found.stems)
    for seed in SEEDS:
        other = make_scene(seed)
        score.add(other.stems, measure_straw(other.jpeg).stems)
    return score


@pytest.fixture(scope="module")
def answer(scene):
    return straw([("ann.jpg", scene.jpeg)])


def test_most_stems_are_measured_close_to_what_they_are(score):
    assert score.measured >= 0.8 * score.made
    assert max(np.abs(score.length)) < 3
    assert np.percentile(np.abs(score.diameter), 95) < 0.3


def test_every_dog_leg_is_found_and_no_other_bend_is_called_one(score):
    assert score.dog_legs[1] == score.dog_legs[2] == 0


def test_most_errors_lie_within_what_is_told_of_them(score):
    assert np.mean(score.within) > 0.85


def test_a_butt_is_the_thicker_end(scene, found):
    for stem in found.stems:
        true = nearest(scene.stems, stem)
        from_butt = np.hypot(*(stem.line[0] - true.line[0, :2]))
        assert from_butt < np.hypot(*(stem.line[-1] - true.line[0, :2]))


def test_the_answer_keeps_its_schema(answer):
    jsonschema.Draft202012Validator(SCHEMA).validate(answer.to_json())


def test_the_answer_can_be_told_in_any_language(answer):
    with read_by(FOREIGN):
        said = answer.to_json()
        told = [
            said["sentence"],
            said["warnings"],
            [s["says"] for s in said["working"]],
        ]
    assert not list(loose(told, names={"ann.jpg"}))


def test_a_photo_too_poor_is_told_beside_one_that_is_good(scene):
    answer = straw([("ann.jpg", scene.jpeg), ("ben.jpg", _grey())])
    assert [each.name for each in answer.refused] == ["ben.jpg"]
    assert "1 photo was refused" in answer.sentence


def test_a_photo_without_a_board_is_refused():
    with pytest.raises(OutOfRange, match="No board can be made out"):
        straw([("ben.jpg", _grey())])


@pytest.mark.parametrize("seed", [3, 4])
def test_a_bad_photo_is_refused(seed):
    scene, kind = make_bad(seed)
    with pytest.raises(SheafwrightError):
        pytest.fail(f"{kind}: {len(measure_straw(scene.jpeg).stems)} stems")


def test_a_longer_bar_makes_straw_longer(scene, found):
    longer = measure_straw(scene.jpeg, bar_mm=181.8)
    pairs = zip(longer.stems, found.stems, strict=True)
    assert all(1.005 < a.length.mm / b.length.mm < 1.015 for a, b in pairs)


def test_a_bar_that_no_printer_makes_is_refused(scene):
    with pytest.raises(OutOfRange, match="A bar of 90 mm is odd"):
        measure_straw(scene.jpeg, bar_mm=90)


def test_the_drawn_photo_keeps_nothing_of_where_the_phone_was(scene, found):
    picture = Image.open(io.BytesIO(drawn(found)))
    assert not picture.getexif()
    assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def _grey():
    out = io.BytesIO()
    Image.new("RGB", (1600, 1200), (150, 150, 150)).save(out, "JPEG")
    return out.getvalue()
