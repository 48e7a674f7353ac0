"""Write in a book until told to stop, and tell of each entry once it is kept.

``python write_on.py FOLDER make`` makes a book to write in, ``… on NAME`` writes in it,
``… look`` tells as JSON what is in it.
"""

import itertools
import json
import random
import sys
import time
import uuid
from pathlib import Path

from book_to_write import DAY, new_book, same_book

SLUG = "marl-hollow"
SMALL_KG = 300
"""A lot that is soon sold out, so that writers fight for the last of it."""


def make():
    from sheafwright.records.services.harvest import carting_record, cut_record
    from sheafwright.records.services.threshing import Outturn, threshing_record

    book = new_book(SLUG)
    said = {"sowing": book.sowing, "date": DAY, "area_ha": 0.1}
    cut = book.write(cut_record, sheaves=100_000, kg_per_sheaf=9, **said)
    store = {"rick": book.rick, "date": DAY}
    book.write(carting_record, stook_set=cut.stook_set, kg=450_000, **store)
    small = (Outturn("reed", SMALL_KG, "SMALL"),)
    book.write(threshing_record, kg=SMALL_KG, outturn=small, **store)


def on(name, seconds):
    """Write, send some of it twice, and say the ids of what was new."""
    from sheafwright.records.errors import TooLittleThere

    rng, book = random.Random(name), same_book(SLUG)
    entries, end = writes(book), time.monotonic() + float(seconds)
    for number in itertools.count():
        if time.monotonic() > end:
            break
        id = uuid.uuid5(uuid.NAMESPACE_URL, f"{name} {number}")
        entry = rng.choice(entries)
        try:
            entry(id)
            tell(entry, id)
            if rng.random() < 0.2:
                entry(id)
        except TooLittleThere:
            tell(entry, None)


def writes(book):
    from sheafwright.records.models import Cut, Lot, Place
    from sheafwright.records.services.book import place_of
    from sheafwright.records.services.harvest import carting_record, cut_record
    from sheafwright.records.services.stock import loss_record, sale_record

    stook_set = Cut.objects.get(sheaves=100_000).stook_set
    small = Lot.objects.get(code="SMALL")
    rick = place_of(holding=book.holding, kind=Place.Kind.RICK, subject=book.rick.pk)
    lost = {"by": "rats", "counted_as": "vermin", "place": rick, "kg": 1}

    def cut(id):
        said = {"sowing": book.sowing, "area_ha": 0.01, "sheaves": 10}
        book.write(cut_record, id=id, date=DAY, **said)

    def cart(id):
        said = {"stook_set": stook_set, "rick": book.rick, "kg": 3}
        book.write(carting_record, id=id, date=DAY, **said)

    def lose(id):
        book.write(loss_record, id=id, date=DAY, **lost)

    def sell(id):
        said = {"lot": small, "kg": 1, "buyer_name": "Hob"}
        book.write(sale_record, id=id, date=DAY, **said)

    return cut, cart, lose, sell


def tell(entry, id):
    sys.stdout.write(json.dumps([entry.__name__, id and str(id)]) + "\n")
    sys.stdout.flush()


def look():
    from sheafwright.records.models import Balance, Cut, Loss, Movement, Sale
    from sheafwright.records.verify import verify

    books = Balance.objects.values_list("place__kind", "grams")
    holds = {kind: sum(g for k, g in books if k == kind) for kind, _ in books}
    entries = {
        "cut": Cut.objects.exclude(sheaves=100_000),
        "cart": Movement.objects.filter(kind="cart").exclude(seq=2),
        "lose": Loss.objects.all(),
        "sell": Sale.objects.all(),
    }
    told = {
        "wrong": verify().failures,
        "holds_kg": {kind: grams / 1000 for kind, grams in holds.items()},
        "movements": Movement.objects.count(),
        "ids": {
            name: [str(id) for id in found.values_list("pk", flat=True)]
            for name, found in entries.items()
        },
    }
    sys.stdout.write(json.dumps(told))


def main(folder, do, *words):
    from sheafwright.server.run import configure, prepare

    if do == "make":
        prepare(folder)
        return make()
    configure(folder)
    return on(*words) if do == "on" else look()


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
