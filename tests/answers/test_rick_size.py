"""Whether sheaves fit is said with the doubt in their density, and never too boldly."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.rick_size import CAUTION, Bay, Oblong, Round, rick_size
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "rick_size.json").read_text("utf-8"))
BARN, ROUND = Bay(6, 5, 4), Round(6, 3, 3)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_what_surely_fits_is_said_to():
    answer = rick_size(BARN, 1000)
    assert valid(answer)["sentence"] == (
        "It fits: 1,000 sheaves need 77 m³ to 111 m³ of its 120 m³."
    )


def test_what_may_fit_wants_room_kept_elsewhere():
    answer = rick_size(BARN, 1400, kg_per_sheaf=9)
    assert valid(answer)["sentence"] == (
        "It may fit: it holds 1,080 to 1,560 sheaves. Keep room elsewhere for 320. In "
        "21 days it sinks, and 94 to 136 more go on."
    )


def test_what_cannot_fit_is_counted():
    answer = rick_size(Oblong(10, 5, 3, 3, hipped=True), 5000)
    assert valid(answer)["sentence"] == (
        "It does not fit: it holds 3,187 to 4,037 sheaves, so 963 to 1,813 must go "
        "elsewhere. In 21 days it sinks, sheeted meanwhile, and 279 to 354 more go on. "
        "Its top needs 93 m² of thatch or sheet."
    )


def test_a_few_too_many_go_on_as_it_sinks():
    answer = rick_size(BARN, 1130)
    assert valid(answer)["rest_fits_after_d"] == pytest.approx(6.2, abs=0.05)
    assert "Filled up as it sinks, it takes them all within 7 days." in answer.sentence


def test_what_would_take_too_long_to_sink_is_not_promised():
    answer = rick_size(BARN, 1185)
    assert valid(answer)["rest_fits_after_d"] > 21
    assert "In 21 days it sinks, and 94 to 136 more go on." in answer.sentence


def test_a_barn_is_stacked_loosely_and_needs_no_cover_of_its_own():
    assert not rick_size(BARN, 1).tight
    assert rick_size(BARN, 1).cover == 0
    assert rick_size(ROUND, 1).tight


def test_the_cover_hangs_over_all_round():
    # Slope of 45°: the plan to the drip times the square root of 2.
    assert rick_size(ROUND, 1).cover == pytest.approx(
        3.1416 * 3.3**2 * 2**0.5, rel=1e-4
    )
    gabled = rick_size(Oblong(8, 6, 3, 3), 1)
    assert gabled.cover == pytest.approx(8.6 * 6.6 * 2**0.5)


def test_a_rick_too_high_for_its_width_is_said_to_slump():
    assert rick_size(Round(3, 3.1, 2), 10).sentence.endswith(
        "Its eaves are too high for its width, and it may slump: build it wider."
    )
    assert not rick_size(Round(3, 2.9, 2), 10).steep
    assert not rick_size(Bay(3, 3, 5), 10).steep


def test_the_caution_goes_with_every_answer():
    assert valid(rick_size(BARN, 1))["caution"] == CAUTION
    assert "Local codes and trained people first." in CAUTION


def test_each_end_of_the_density_has_a_standing_of_its_own():
    steps = [s for s in rick_size(ROUND, 9).working if "sheaves weigh" in s.says]
    assert [s.standing for s in steps] == ["assumed", "published"]
    steps = [s for s in rick_size(BARN, 9).working if "sheaves weigh" in s.says]
    assert [s.standing for s in steps] == ["assumed", "assumed"]


def test_a_sheaf_that_was_weighed_is_yours_and_one_that_was_not_is_assumed():
    taken, weighed = (
        rick_size(BARN, 9, kg_per_sheaf=kg).working[1] for kg in (None, 8)
    )
    assert (taken.standing, weighed.standing) == ("assumed", "given")


@pytest.mark.parametrize(
    "shape",
    [Round(0, 1, 1), Round(5, 1, 101), Bay(1, 1, float("nan")), Oblong(5, 4, -1, 2)],
)
def test_a_size_no_rick_could_have_is_refused(shape):
    with pytest.raises(OutOfRange, match="it should be more than 0 and at most 100 m"):
        rick_size(shape, 10)


@pytest.mark.parametrize(("sheaves", "sheaf"), [(0, 9), (10, 0), (10, 50), (2e6, 9)])
def test_counts_and_sheaves_that_cannot_be_are_refused(sheaves, sheaf):
    with pytest.raises(OutOfRange, match=r"it should be from 1 (kg )?to"):
        rick_size(BARN, sheaves, sheaf)


def test_a_length_shorter_than_the_width_is_refused():
    with pytest.raises(OutOfRange, match="the length should be the longer side"):
        Oblong(4, 5, 2, 2)


sizes = st.floats(1, 15)
shapes = st.one_of(
    st.builds(Round, sizes, sizes, sizes),
    st.builds(Bay, sizes, sizes, sizes),
    st.builds(
        lambda a, b, *rest: Oblong(max(a, b), min(a, b), *rest),
        *(sizes, sizes, sizes, sizes),
        st.booleans(),
    ),
)


@given(shapes, st.integers(1, 20_000), st.floats(4, 14))
def test_every_shape_is_answered_and_what_fits_has_the_room_it_needs(shape, n, sheaf):
    answer = rick_size(shape, n, sheaf)
    valid(answer)
    tight, loose = answer.needs
    assert tight <= loose
    assert (answer.verdict == "fits") == (loose <= shape.volume + 1e-9)
    assert (answer.verdict == "too_small") == (tight > shape.volume - 1e-9)


@given(shapes, st.integers(1, 20_000))
def test_what_may_fit_when_loose_may_fit_when_tight(shape, n):
    loose, tight = (rick_size(shape, n, 9, tight=each) for each in (False, True))
    assert loose.holds.low <= tight.holds.low
    assert loose.holds.high <= tight.holds.high
