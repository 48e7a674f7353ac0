"""A writer killed in mid-write leaves a book that verifies, and loses nothing kept."""

import json
import random
import subprocess

import pytest

LONG = 1000


def kill_one(programs, number, rng):
    """What a writer said was kept before it was killed."""
    writer = programs.start("write_on.py", "on", f"killed {number}", LONG)
    heard = [writer.stdout.readline() for _ in range(rng.randrange(1, 20))]
    # Its next entry is on the way by now: any moment is in the middle of one.
    with pytest.raises(subprocess.TimeoutExpired):
        writer.wait(timeout=rng.random() * 0.03)
    writer.kill()
    with writer:
        heard += writer.stdout.readlines()
        assert writer.stderr.read() == ""
    return said(heard)


def said(lines):
    told = [json.loads(line) for line in lines if line.endswith("]\n")]
    return {(kind, id) for kind, id in told if id}


def kill(programs, times):
    programs.run("write_on.py", "make")
    rng, kept = random.Random(26), set()
    for number in range(times):
        kept |= kill_one(programs, number, rng)
        book = json.loads(programs.run("write_on.py", "look"))
        assert book["wrong"] == []
        ids = {(kind, id) for kind, found in book["ids"].items() for id in found}
        assert kept <= ids
        # At most the entry of each that was killed between its keeping and its telling.
        assert len(ids - kept) <= number + 1
        kept = ids
    assert len(kept) > times


def test_a_book_verifies_after_three_kills(on_sqlite):
    kill(on_sqlite, 3)


@pytest.mark.prove
def test_a_book_verifies_after_fifty_kills(on_either):
    kill(on_either, 50)
