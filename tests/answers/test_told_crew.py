"""Who does what, and what changes, told to whoever reads it."""

import dataclasses
import functools
from importlib import resources

import pytest

from sheafwright.answers.crew import crew
from sheafwright.feeds.crew_day import read_question
from sheafwright.feeds.telling import Reader, Said, again, read_by
from told import FOREIGN, METRIC, loose

DEMO = read_question(resources.files("sheafwright") / "data/demo/day.toml")
NAMES = {
    *(field.name for field in DEMO.fields),
    *(field.farm for field in DEMO.fields),
    *(stooked.field for stooked in DEMO.stooks),
    *(person.name for person in DEMO.people),
    "the old binder",
}
WET = tuple(dataclasses.replace(half, dry_chance=0.2) for half in DEMO.half_days)
BROKEN = (dataclasses.replace(DEMO.binders[0], broken=("2025-08-07",)),)
AWAY = (dataclasses.replace(DEMO.people[0], away=("2025-08-07",)), *DEMO.people[1:])
UPSETS = {
    "as it was": {},
    "a breakdown": {"binders": BROKEN},
    "no binder": {"binders": ()},
    "a shower": {"showers": ("2025-08-07 afternoon",)},
    "wet": {"half_days": WET},
    "one away": {"people": AWAY},
    "few": {"people": DEMO.people[:1]},
    "a field less": {"fields": DEMO.fields[1:]},
}


@pytest.fixture(scope="module", autouse=True)
def solver():
    pytest.importorskip("ortools", reason="CP-SAT is not installed")


@functools.cache
def planned():
    return crew(DEMO).to_json()


def upset(name):
    return crew(dataclasses.replace(DEMO, **UPSETS[name]), planned()).to_json()


def words(said):
    """All that is said to be read."""
    yield from (said["sentence"], said["comes_to"], said["caution"])
    yield from said["changed"] or ()
    yield from (half["says"] for half in said["half_days"] if half["rows"])
    yield from (row["says"] for half in said["half_days"] for row in half["rows"])
    yield from (each["why"] for each in said["left"])
    yield from (step["says"] for step in said["working"])


def assert_told_whole(said):
    for each in words(said):
        assert isinstance(each, Said), each
        assert not list(loose(each, NAMES)), each
        with read_by(FOREIGN):
            assert "⟦" in again(each)
        with read_by(Reader("imperial")):
            assert not METRIC.search(again(each)), again(each)
            assert "hectare" not in again(each), again(each)


def test_a_plan_is_told_in_every_language_and_in_acres():
    assert_told_whole(planned())


@pytest.mark.parametrize("name", UPSETS)
def test_a_plan_that_is_upset_is_told_so_in_every_language_and_in_acres(name):
    assert_told_whole(upset(name))


def test_going_back_is_told_so_too():
    for name in ("a breakdown", "wet", "one away", "a field less"):
        assert_told_whole(crew(DEMO, upset(name)).to_json())
