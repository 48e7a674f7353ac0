"""What the drum gave is said in shares; what is unusual is said and never refused."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.outturn import outturn
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "outturn.json").read_text("utf-8"))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_usual_run_is_said_in_shares():
    answer = outturn(2000, {"reed": 900, "grain": 560, "tail": 40})
    assert valid(answer)["sentence"] == (
        "The sheaves gave 45% reed, 30% grain and 25% cavings and waste, as is usual."
    )


def test_tail_corn_counts_as_grain():
    shares = {s.product: s.share for s in outturn(100, {"grain": 28, "tail": 4}).shares}
    assert shares["grain"] == pytest.approx(0.32)


def test_little_reed_and_much_waste_are_both_said():
    answer = outturn(1000, {"reed": 300, "grain": 300})
    assert [share.product for share in answer.unusual] == ["reed", "rest"]
    assert valid(answer)["sentence"].endswith(
        "That is little reed (40% to 50%) and much cavings and waste (20% to 35%): "
        "weigh again, or say why."
    )


def test_long_straw_has_ranges_of_its_own():
    answer = outturn(1000, {"long_straw": 600, "grain": 300}, combed=False)
    assert not answer.unusual
    assert answer.shares[0].usual == (0.55, 0.65)


def test_more_out_than_in_is_said_and_not_refused():
    answer = outturn(1000, {"reed": 600, "grain": 500})
    assert valid(answer)["sentence"].startswith("More came out than the 1,000 kg")


def test_the_working_says_that_the_ranges_are_assumed():
    assert [step.standing for step in outturn(10, {}).working] == ["given", "assumed"]


@pytest.mark.parametrize(
    ("sheaves", "products"),
    [(0, {}), (float("nan"), {}), (10, {"reed": -1}), (10, {"tail": float("inf")})],
)
def test_a_mass_no_scale_could_show_is_refused(sheaves, products):
    with pytest.raises(OutOfRange, match=r"it should be . kg or more"):
        outturn(sheaves, products)


masses = st.floats(0, 1e5)


@given(st.floats(1, 1e5), masses, masses, masses, st.booleans())
def test_the_shares_always_make_a_whole(sheaves, straw, grain, tail, combed):
    name = "reed" if combed else "long_straw"
    answer = outturn(sheaves, {name: straw, "grain": grain, "tail": tail}, combed)
    assert sum(share.share for share in answer.shares) == pytest.approx(1, abs=1e-6)
