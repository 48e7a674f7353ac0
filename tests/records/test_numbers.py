"""Papers are numbered without a gap, however many write at once."""

import json

WRITERS, SECONDS = 6, 2


def test_six_writers_number_papers_without_a_gap(on_either):
    on_either.run("order_on.py", "make")
    writers = [
        on_either.start("order_on.py", "on", f"writer {n}", SECONDS)
        for n in range(WRITERS)
    ]
    told = [writer.communicate() for writer in writers]
    assert [wrong for _, wrong in told if wrong] == []
    kept = [id for out, _ in told for id in out.split()]
    book = json.loads(on_either.run("order_on.py", "look"))
    assert len(kept) > WRITERS
    assert book["numbers"] == list(range(1, len(kept) + 1))
    assert sorted(book["orders"]) == sorted(book["of"]) == sorted(kept)
