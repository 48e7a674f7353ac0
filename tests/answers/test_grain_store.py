"""Grain in its store, and what came of a run of the mill."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.grain_keeping import grain_keeping
from sheafwright.answers.grain_run import milling_yield
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.grain import FLOURS
from sheafwright.feeds.telling import Reader, again, read_by
from told import METRIC, loose

FOUND = [
    (0.14, 8, "sound", "keeps for more than a year"),
    (0.17, 14, "sound", "one seed in twenty is dead after 79 days"),
    (0.19, 20, "soon", "one seed in twenty is dead after 14 days"),
    (0.25, 10, "too_damp", "too damp to keep: dry it now"),
    (0.15, 45, "too_warm", "it heats: move it and cool it now"),
]


@pytest.mark.parametrize(("moisture", "heat", "level", "says"), FOUND)
def test_grain_keeps_by_how_damp_and_warm_it_is(moisture, heat, level, says):
    answer = grain_keeping(moisture, heat)
    assert (answer.level, says in answer.sentence) == (level, True), answer.sentence


def test_insects_are_spoken_of_where_they_breed():
    assert "Insects breed" in grain_keeping(0.14, 16).sentence
    assert "Insects" not in grain_keeping(0.14, 15).sentence
    assert "Insects" not in grain_keeping(0.14, 50).sentence


@given(st.floats(0.12, 0.23), st.floats(-5, 35))
def test_damper_or_warmer_never_keeps_longer(moisture, heat):
    days = grain_keeping(moisture, heat).days
    assert grain_keeping(moisture + 0.005, heat).days <= days
    assert grain_keeping(moisture, heat + 1).days <= days


@pytest.mark.parametrize(("moisture", "heat"), [(0.95, 10), (0.15, 200)])
def test_what_cannot_be_is_refused(moisture, heat):
    with pytest.raises(OutOfRange):
        grain_keeping(moisture, heat)


RUNS = [
    ("stone_white", 405, 85, "usual"),
    ("stone_white", 300, 190, "less"),
    ("white", 450, 0, "more"),
    ("wholemeal", 490, 0, "usual"),
]


@pytest.mark.parametrize(("kind", "flour", "bran", "level"), RUNS)
def test_a_run_stands_beside_what_is_usual(kind, flour, bran, level):
    assert milling_yield(kind, 500, flour, bran).level == level


def test_what_is_neither_flour_nor_bran_is_lost():
    assert milling_yield("brown", 500, 400, 60).lost == pytest.approx(0.08)
    assert milling_yield("brown", 500, 400, 60).much_is_lost
    assert not milling_yield("brown", 500, 400, 90).much_is_lost


@pytest.mark.parametrize("kind", FLOURS)
def test_they_are_told_in_other_words_and_units(kind):
    answers = [grain_keeping(m, h) for m, h, *_ in FOUND]
    answers.append(milling_yield(kind, 500, 400, 60))
    for answer in answers:
        told = [answer.sentence, *(step.says for step in answer.working)]
        assert not list(loose(told))
        with read_by(Reader("imperial")):
            assert not [each for each in told if METRIC.search(again(each))]
