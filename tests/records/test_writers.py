"""Eight at once lose nothing and double nothing."""

import json
import sys

import pytest

WRITERS = 8
MADE = 4
"""Movements that the book begins with."""


def write_at_once(programs, seconds):
    """What each writer said was kept, and what the book holds afterwards."""
    programs.run("write_on.py", "make")
    writers = [
        programs.start("write_on.py", "on", f"writer {n}", seconds)
        for n in range(WRITERS)
    ]
    told = [writer.communicate() for writer in writers]
    assert [wrong for _, wrong in told if wrong] == []
    said = [json.loads(line) for out, _ in told for line in out.splitlines()]
    kept = [(kind, id) for kind, id in said if id]
    return kept, json.loads(programs.run("write_on.py", "look"))


def assert_nothing_lost_or_doubled(kept, book):
    assert book["wrong"] == []
    ids = {(kind, id) for kind, found in book["ids"].items() for id in found}
    assert ids == set(kept)
    assert len(kept) == len(set(kept))
    assert book["movements"] == MADE + len(kept)


def assert_each_kilogram_is_where_it_went(kept, book):
    many = {kind: sum(k == kind for k, _ in kept) for kind in book["ids"]}
    holds = book["holds_kg"]
    assert holds["rick"] == 450_000 - 300 + 3 * many["cart"] - many["lose"]
    assert holds["stooks"] == 450_000 - 3 * many["cart"] + 90 * many["cut"]
    assert (holds["sold"], holds["lot"]) == (many["sell"], 300 - many["sell"])
    assert holds["vermin"] == many["lose"]


def entries_a_second(programs, seconds):
    kept, book = write_at_once(programs, seconds)
    assert_nothing_lost_or_doubled(kept, book)
    assert_each_kilogram_is_where_it_went(kept, book)
    return len(kept) / seconds


def test_eight_writers_lose_and_double_nothing(on_either):
    assert entries_a_second(on_either, 3) > 0


@pytest.mark.prove
def test_eight_writers_keep_20_entries_a_second_for_a_minute(on_either, capsys):
    rate = entries_a_second(on_either, 60)
    with capsys.disabled():
        sys.stdout.write(f"\nEight writers kept {rate:.1f} entries a second.\n")
    assert rate >= 20
