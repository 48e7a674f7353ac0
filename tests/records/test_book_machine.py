"""The book holds what a plain dictionary holds, whatever is written in it."""

import pytest

MACHINE = "book_machine.py"


def steps(programs, examples, each):
    # An example now and then ends early, so that a few more are asked for.
    taken, lines = map(int, programs.run(MACHINE, examples, each).split())
    assert lines > taken / 2
    return taken


def test_the_book_is_a_dictionary_for_200_steps(on_sqlite):
    assert steps(on_sqlite, 6, 50) >= 200


def test_the_book_is_a_dictionary_for_100_steps_on_postgresql(on_postgresql):
    assert steps(on_postgresql, 3, 50) >= 100


@pytest.mark.prove
def test_the_book_is_a_dictionary_for_2000_steps(on_either):
    assert steps(on_either, 60, 50) >= 2000
