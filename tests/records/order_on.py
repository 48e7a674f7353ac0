"""Take orders until told to stop, and tell of each once it is kept.

``python order_on.py FOLDER make`` makes a book to write in, ``… on NAME SECONDS`` takes
orders in it, some sent twice and some refused, ``… look`` tells as JSON the numbers of
the papers that are in it.
"""

import itertools
import json
import random
import sys
import time
import uuid
from decimal import Decimal
from pathlib import Path

from book_to_write import DAY, new_book, same_book

SLUG = "marl-hollow"
TERMS = {"price_per_t": Decimal("1400.00"), "vat_pct": Decimal(20)}


def make():
    from sheafwright.records.services.trade import customer_add

    book = new_book(SLUG)
    book.write(customer_add, name="Orla Quince", trade="thatcher")


def on(name, seconds):
    """An order is its own entry and its paper, both or neither."""
    from django.core.exceptions import ValidationError

    from sheafwright.records.models import Customer
    from sheafwright.records.services.trade import order_take

    rng, book = random.Random(name), same_book(SLUG)
    said = {"customer": Customer.objects.get(), "date": DAY, "kind": "reed", **TERMS}
    end = time.monotonic() + float(seconds)
    for number in itertools.count():
        if time.monotonic() > end:
            break
        id = uuid.uuid5(uuid.NAMESPACE_URL, f"{name} {number}")
        kg = rng.choice((700.0, 900.0, -1.0))
        try:
            for _ in range(1 + (rng.random() < 0.2)):
                book.write(order_take, id=id, weight_kg=kg, **said)
        except ValidationError:
            continue
        sys.stdout.write(f"{id}\n")
        sys.stdout.flush()


def look():
    from sheafwright.records.models import Order, Paper

    papers = Paper.objects.filter(kind="order")
    told = {
        "orders": [str(id) for id in Order.objects.values_list("pk", flat=True)],
        "of": [str(id) for id in papers.values_list("order", flat=True)],
        "numbers": sorted(papers.values_list("number", flat=True)),
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
