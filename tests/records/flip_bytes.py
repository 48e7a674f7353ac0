"""Change a book byte by byte, and see what `verify` says of each change.

``python flip_bytes.py FOLDER COUNT`` prints, as JSON, how many changes were made in
the pages of the material book, how many were found, and where one was neither found
nor without meaning.

A program of its own, since Django's settings hold for a whole process.
"""

import json
import sys
from pathlib import Path


def main(folder, count):
    from sheafwright.server.run import configure

    configure(folder)
    path = folder / "book.sqlite3"
    whole, before = settled(path), meaning()
    sound = found(path, whole)
    assert not sound, sound
    offsets = ledger_bytes(whole)
    offsets = offsets[:: max(1, len(offsets) // count)]
    missed, seen = [], 0
    for offset in offsets:
        if found(path, changed(whole, offset)):
            seen += 1
        elif meaning() != before:
            missed.append(offset)
    found(path, whole)
    told = {"changes": len(offsets), "found": seen, "missed": missed}
    sys.stdout.write(json.dumps(told))


def settled(path):
    """The bytes of the book, with nothing left in a log beside it."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return path.read_bytes()


def meaning():
    """All that the material book says, as it is read."""
    from sheafwright.records.models import Balance, Line, Movement, Place

    return [
        list(kind.objects.order_by("pk").values_list())
        for kind in (Place, Movement, Line, Balance)
    ]


def found(path, content):
    from django.db import connection

    from sheafwright.records.verify import verify

    connection.close()
    for beside in path.parent.glob("book.sqlite3-*"):
        beside.unlink()
    path.write_bytes(content)
    return verify().failures


def changed(whole, offset):
    return whole[:offset] + bytes([whole[offset] ^ 1]) + whole[offset + 1 :]


def ledger_bytes(whole):
    """Offsets of every byte in a page that speaks of a movement, line or place."""
    from sheafwright.records.models import Line, Movement, Place

    size = int.from_bytes(whole[16:18])
    names = [
        id.hex.encode()
        for kind in (Movement, Line, Place)
        for id in kind.objects.values_list("pk", flat=True)
    ]
    return [
        offset
        for start in range(0, len(whole), size)
        if any(name in whole[start : start + size] for name in names)
        for offset in range(start, start + size)
        if whole[offset]
    ]


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
