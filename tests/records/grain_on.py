"""Write the whole line of grain in a book, and tell what is in it.

``python grain_on.py FOLDER make`` dries, dresses, looks at, mills, bags and sells;
``… mill NAME KG`` mills so much again and again until too little is left; ``… look``
tells as JSON what the book and its selectors make of it.
"""

import datetime
import json
import sys
import uuid
from pathlib import Path

from book_to_write import DAY, new_book, same_book

SLUG = "marl-hollow"
THRESHED = DAY + datetime.timedelta(60)
BEST_BEFORE = DAY + datetime.timedelta(300)


def make():
    from sheafwright.records.services import grain as services

    book = new_book(SLUG)
    # Looked at as of a day, it says the same whenever it is looked at.
    book.holding.looked_at_as_of = THRESHED + datetime.timedelta(5)
    book.holding.save()
    said = {"lot": threshed(book), "date": THRESHED}
    undone = book.write(services.drying_record, **said, **DRIED | {"after_kg": 1500})
    undo(book, undone)
    book.write(services.drying_record, **said, **DRIED)
    book.write(services.dressing_record, **said, **DRESSED)
    clean = said | {"lot": lot_of("C")}
    book.write(services.store_check_record, **clean, where="bin", found="nothing")
    book.write(services.milling_record, **clean, **MILLED)
    flour = {"lot": lot_of("F"), "date": THRESHED, "best_before": BEST_BEFORE}
    book.write(services.flour_bags_record, **flour, bags=100, bag_kg=1.5)
    others(book, services)
    sold_and_spent(book)


DRIED = {"how": "air", "moisture_before_pct": 18.0, "moisture_after_pct": 14.0}
DRESSED = {
    "clean_kg": 1700, "clean_code": "C", "screenings_to": "kept",
    "screenings_kg": 100, "screenings_code": "T",
}  # fmt: skip
MILLED = {
    "flour": "stone_white", "weight_kg": 700, "flour_kg": 560, "flour_code": "F",
    "bran_kg": 120, "bran_code": "B",
}  # fmt: skip


def threshed(book):
    from sheafwright.records.services.harvest import carting_record, cut_record
    from sheafwright.records.services.threshing import Outturn, threshing_record

    cut = book.write(
        cut_record, sowing=book.sowing, date=DAY, area_ha=2.0, sheaves=1000,
        kg_per_sheaf=6,
    )  # fmt: skip
    store = {"rick": book.rick, "date": DAY}
    book.write(carting_record, stook_set=cut.stook_set, **store)
    came = (Outturn("reed", 2500, "R"), Outturn("grain", 2000, "G"))
    book.write(threshing_record, rick=book.rick, date=THRESHED, outturn=came)
    return lot_of("G")


def others(book, services):
    book.write(
        services.seed_loan_record, seed_lot=book.sowing.seed_lot, lender="Nell Ash",
        date=DAY, lent_kg=100, owed_kg=150,
    )  # fmt: skip
    book.write(services.grain_terms_set, since=DAY, price=350)
    book.write(services.flour_check_record, what="registered", date=THRESHED, who="Ann")


def sold_and_spent(book):
    from sheafwright.records.services.money import purchase_record
    from sheafwright.records.services.stock import sale_record

    sale = {"date": THRESHED, "buyer_name": "Combe Bakery"}
    book.write(sale_record, lot=lot_of("F"), kg=60, price="150.00", **sale)
    bill = {"date": THRESHED, "what": "it", "supplier": "Combe Stores"}
    book.write(purchase_record, **bill, line="seed", net="99.91", sowing=book.sowing)
    book.write(purchase_record, **bill, line="other", net="33.33", lot=lot_of("C"))


def undo(book, entry):
    from sheafwright.records.models import Movement
    from sheafwright.records.services.stock import entry_undo

    movement = Movement.objects.get(pk=entry.pk)
    book.write(entry_undo, movement=movement, date=THRESHED)


def lot_of(code):
    from sheafwright.records.models import Lot

    return Lot.objects.get(code=code)


def mill(name, kg):
    """Say how many runs there were before too little was left."""
    from sheafwright.records.errors import TooLittleThere
    from sheafwright.records.services.grain import milling_record

    book, runs, kg = same_book(SLUG), 0, int(kg)
    said = {"lot": lot_of("C"), "date": THRESHED, "flour": "wholemeal"}
    while True:
        code = {"id": uuid.uuid4(), "flour_code": f"{name}-{runs}"}
        weights = {"weight_kg": kg, "flour_kg": kg - 2}
        try:
            book.write(milling_record, **said, **code, **weights)
        except TooLittleThere:
            break
        runs += 1
    sys.stdout.write(str(runs))


def look():
    from django.db.models import Sum

    from sheafwright.records.models import Lot, Place
    from sheafwright.records.selectors.grain import at_prices_told, grain_now, owed_now
    from sheafwright.records.selectors.grain_next import KINDS, next_step
    from sheafwright.records.selectors.lot_worth import lot_worth
    from sheafwright.records.selectors.lots import lots_held
    from sheafwright.records.selectors.milled import millings_of, runs_of_mill
    from sheafwright.records.selectors.today import jobs_today
    from sheafwright.records.verify import verify

    holding = same_book(SLUG).holding
    held = grain_now(lots_held(holding=holding, kinds=KINDS).lots)
    day = holding.looked_at_as_of
    places = Place.objects.filter(holding=holding).values("kind").order_by("kind")
    grams = places.annotate(sum=Sum("balance__grams"))
    steps = {now.lot.code: next_step(now, day=day, left=7).entry for now in held}
    worth = {
        each.code: lot_worth(each) for each in Lot.objects.filter(code__in="GCTFB")
    }
    told = {
        "sound": verify().is_sound,
        "grams": {each["kind"]: each["sum"] for each in grams},
        "moistures": {now.lot.code: now.moisture for now in held},
        "steps": steps,
        "jobs": [str(job.says) for job in jobs_today(holding=holding)],
        "costs": {code: str(each.cost) for code, each in worth.items()},
        "left": str(worth["F"].left),
        "runs": [each.lost_grams for each in runs_of_mill(holding=holding, most=9)],
        "milled": len(millings_of(list(Lot.objects.all()))),
        "owed": owed_now(holding=holding).grams,
        "times": at_prices_told(holding=holding).times,
    }
    sys.stdout.write(json.dumps(told, sort_keys=True))


if __name__ == "__main__":
    from sheafwright.server.run import prepare

    prepare(Path(sys.argv[1]))
    {"make": make, "mill": mill, "look": look}[sys.argv[2]](*sys.argv[3:])
