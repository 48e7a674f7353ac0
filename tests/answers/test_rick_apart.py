"""A rick too near what burns is named, and what it may bring is said in a range."""

import pytest

from sheafwright.answers.rick_apart import rick_apart
from sheafwright.answers.rick_worth import rick_worth
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import Reader, read_by
from told import FOREIGN, METRIC, loose


def test_each_thing_too_near_is_named():
    answer = rick_apart(buildings=12.0, road=20.0, rick=19.9)
    assert answer.sentence == (
        "It stands 12 m from the nearest building; the usual advice is 20 m or more. "
        "It stands 19.9 m from the next rick; the usual advice is 20 m or more."
    )


def test_far_enough_is_said_and_nothing_is_said_of_nothing():
    assert rick_apart(road=20.0).sentence.startswith("It stands as far off as")
    assert rick_apart(buildings=None, road=None).sentence == ""


def test_what_was_only_remembered_is_called_so():
    steps = rick_apart(buildings=50.0, road=50.0).working
    assert [step.standing for step in steps] == ["from memory", "assumed"]


@pytest.mark.parametrize("distance", [-1.0, float("nan"), 20_000.0])
def test_no_rick_stands_there(distance):
    with pytest.raises(OutOfRange, match="it should be from 0 m to 10000 m"):
        rick_apart(road=distance)


def test_ten_tonnes_may_bring_what_the_drum_gives_of_them():
    # 4 t of reed and 2.5 t of grain at the least, 5 t and 3.5 t at the most.
    answer = rick_worth(10_000)
    assert (answer.low, answer.high) == (3825.0, 4875.0)
    assert answer.sentence == "What is in it may bring £3,800 to £4,900."


@pytest.mark.parametrize("answer", [rick_worth(9000), rick_apart(road=5.0, rick=1.0)])
def test_it_is_told_in_any_language_and_unit(answer):
    with read_by(FOREIGN):
        said = [answer.sentence, *(step.says for step in answer.working)]
        assert not list(loose(said))
    with read_by(Reader("imperial")):
        said = [answer.sentence, *(step.says for step in answer.working)]
    # A price is of a tonne, whoever reads.
    assert not METRIC.search(" ".join(said))
