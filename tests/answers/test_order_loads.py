"""Loads no higher and no heavier than they may be, dropped the shortest way round."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.order_loads import BEARINGS, CAUTION, Drop, order_loads
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.orders import Vehicle
from sheafwright.feeds.orders import loading, vehicle
from sheafwright.feeds.telling import Reader, again, read_by
from told import METRIC, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "order_loads.json").read_text("utf-8")
)
ORLA = Drop("Orla Quince", 2400.0, 20.0, "n")
BRAM = Drop("Bram Tolliver", 1000.0, 10.0, "ne")
drops = st.lists(
    st.builds(
        Drop,
        st.text("abcdefgh", min_size=1, max_size=4),
        st.floats(1, 12_000),
        st.floats(0, 90),
        st.sampled_from(list(BEARINGS)),
    ),
    min_size=1,
    max_size=4,
)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_two_drops_are_told_in_their_order():
    answer = order_loads((ORLA, BRAM), "lorry")
    said = valid(answer)
    assert said["sentence"] == (
        "1 load on the lorry. What is dropped first goes on last."
    )
    assert said["loads"][0]["sentence"] == (
        "189 bundles to Orla Quince then 79 bundles to Bram Tolliver: 3,404 kg, "
        "1.9 m above the deck, 45 km round."
    )
    assert "Local codes and trained people first." in said["caution"]


@given(drops, st.sampled_from(("trailer", "lorry")))
def test_no_load_is_too_heavy_or_too_high(those, on):
    answer = order_loads(those, on)
    valid(answer)
    for load in answer.loads:
        assert load.kg <= vehicle(on).payload + 1e-6
        assert load.high <= loading().most_high + 1e-6
        assert load.bundles <= answer.most


@given(drops)
def test_everybody_gets_at_least_what_was_sold(those):
    answer = order_loads(those)
    got = sum(load.bundles for load in answer.loads) * answer.bundle
    assert sum(drop.kg for drop in those) - 1e-6 <= got
    assert got <= sum(drop.kg for drop in those) + len(those) * answer.bundle


def test_light_bundles_fill_the_room_and_heavy_ones_reach_the_weight():
    assert order_loads([ORLA], "trailer").by_weight
    assert "its weight says so" in order_loads([ORLA]).working[0].says


def test_ones_own_trailer_is_called_by_its_name():
    own = Vehicle(length=3.0, width=1.8, payload=900.0)
    answer = order_loads((ORLA,), "the green trailer", own=own)
    said = valid(answer)
    assert said["sentence"] == "3 loads on the green trailer."
    assert all(load.kg <= 900 for load in answer.loads)
    assert answer.working[0].says == (
        "the green trailer, a deck of 3.0 m by 1.8 m for 900 kg, takes 70 bundles of "
        "12.7 kg: its weight says so."
    )


WAITS = "The last load is only 1 bundle: it may wait, or go with another drop."


def test_a_last_load_of_a_bundle_or_two_is_pointed_out():
    own = Vehicle(length=3.0, width=1.8, payload=900.0)

    def loads(bundles, *more):
        drops = (Drop("Orla", 10.0 * bundles, 9.0), *more)
        return order_loads(drops, "the cart", bundle=10.0, own=own)

    assert [load.bundles for load in loads(91).loads] == [90, 1]
    assert loads(91).sentence == f"2 loads on the cart. {WAITS}"
    assert "only 8 bundles: they may wait" in loads(98).sentence
    says = "A last load of less than 10% of what one load may be is pointed out."
    assert says in [step.says for step in loads(91).working]
    # A tenth is worth going for; so is what goes alone, or beside another drop.
    for answer in (loads(99), loads(1), loads(90), loads(81, Drop("Bram", 90.0))):
        assert "may wait" not in answer.sentence
        assert not any("pointed out" in step.says for step in answer.working)


@given(drops)
def test_every_load_but_the_last_is_full_so_none_could_take_its_bundles(those):
    answer = order_loads(those)
    assert all(load.bundles == answer.most for load in answer.loads[:-1])


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        (lambda: order_loads([ORLA], "cart"), "'cart' is no vehicle"),
        (lambda: order_loads([ORLA] * 8), "8 drops are too many"),
        (lambda: order_loads([ORLA], bundle=0.2), "A bundle of 0.2 kg is odd"),
        (lambda: Drop("Orla", float("nan")), "Orla gets nan kg"),
        (lambda: Drop("Orla", 5.0, 1.0, "up"), "Orla lies 'up'"),
    ],
)
def test_an_odd_load_is_refused_in_words(ask, says):
    with pytest.raises(OutOfRange, match=says):
        ask()


def test_every_word_may_be_told_in_another_language():
    said = order_loads((ORLA, BRAM)).to_json()
    telling = [
        said["sentence"],
        said["caution"],
        *(x["sentence"] for x in said["loads"]),
    ]
    telling += [step["says"] for step in said["working"]]
    assert list(loose(telling, {"Orla Quince", "Bram Tolliver"})) == []


def test_who_thinks_in_miles_reads_no_kilometre():
    with read_by(Reader("imperial")):
        answer = order_loads((ORLA, BRAM))
        said = [answer.sentence, *(load.sentence for load in answer.loads)]
        said += [str(again(step.says)) for step in answer.working]
    assert not METRIC.search(" ".join(said))
    assert CAUTION
