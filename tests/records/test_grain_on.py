"""The line of grain on each database that a book may lie in."""

import json
from decimal import Decimal

import pytest

PROGRAM = "grain_on.py"
MILLERS, RUN_KG = 3, 90
"""How many mill at once, and how much each at a time."""


def test_the_line_of_grain_is_written_and_told(on_either):
    on_either.run(PROGRAM, "make")
    told = json.loads(on_either.run(PROGRAM, "look"))
    assert told["sound"]
    grams = told["grams"]
    water = 2_000_000 - round(2_000_000 * 82 / 86)
    assert (grams["water"], grams["milling"]) == (water, 20_000)
    assert sum(grams.values()) == 0
    assert told["moistures"] == {"C": 14, "T": None, "F": None, "B": None}
    assert told["steps"]["C"] == "lot-test"
    assert told["steps"]["F"] == "flour-check"
    assert told["jobs"] == [
        "Probe Barn end.",
        "See to what comes before flour is sold.",
    ]
    # Seed by reed and grain of the drum; the bill of what was dressed, by the half
    # of it that was milled.
    assert told["costs"]["G"] == "0.00"
    borne = sum(Decimal(cost) for cost in told["costs"].values())
    assert abs(borne - (Decimal("99.91") * 2000 / 4500 + Decimal("33.33"))) < 1
    assert Decimal(told["left"]) == Decimal(150) - Decimal(told["costs"]["F"])
    assert (told["runs"], told["milled"], told["owed"]) == ([20_000], 2, 150_000)
    assert told["times"] > 1


@pytest.mark.prove
def test_however_many_mill_at_once_no_more_is_milled_than_there_is(on_either):
    on_either.run(PROGRAM, "make")
    millers = [
        on_either.start(PROGRAM, "mill", f"M{n}", RUN_KG) for n in range(MILLERS)
    ]
    said = [miller.communicate() for miller in millers]
    assert all(miller.returncode == 0 for miller in millers), said
    # 1,000 kg of what was dressed are not milled yet.
    assert sum(int(runs) for runs, _wrong in said) == 1000 // RUN_KG
    assert json.loads(on_either.run(PROGRAM, "look"))["sound"]
