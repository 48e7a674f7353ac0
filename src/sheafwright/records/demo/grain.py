"""What the demo does with its grain: dressed, looked at, milled, bagged."""

import datetime

from sheafwright.records.models import Dressing, Flour, FlourCheck, Lot, StoreCheck
from sheafwright.records.services.grain import (
    dressing_record,
    flour_bags_record,
    flour_check_record,
    milling_record,
    store_check_record,
)
from sheafwright.records.services.stock import grain_move

DAY = datetime.timedelta(days=1)
CLEAN, FLOUR, BRAN = 0.97, 0.82, 0.16
"""Shares of what went through."""
WORTH_DRESSING_KG = 50
BAG_KG, SHARE_BAGGED = 1.5, 0.5
TICKED = ("registered", "hygiene", "label", "weights", "insured")
"""Two of the list are still to be done."""


def grain_dressed(book, crop, lot, day):
    """Cleaned as it comes from the drum, and looked at; it stays the same lot."""
    kg = book.kg_of(lot)
    if kg < WORTH_DRESSING_KG:
        # The rest went for seed.
        return
    book.write(
        dressing_record,
        f"{crop.name} {lot} dressed",
        lot=lot,
        date=day,
        machine="winnower, by hand",
        clean_kg=round(kg * CLEAN),
        screenings_to=Dressing.To.FED,
    )
    book.note(
        store_check_record,
        f"{crop.name} {lot} looked at",
        lot=lot,
        date=day,
        where="bin 1, the granary",
        temperature_c=8,
        moisture_pct=14.2,
        found=StoreCheck.Found.NOTHING,
    )


def grain_milled(book, crop, lot, kg, day):
    """Milled on the holding's own stones; the lot of flour."""
    book.write(grain_move, f"{lot} milled {day}", lot=lot, to="mill", kg=kg, date=day)
    code = book.next_code(crop.year)
    flour_kg, bran_kg = round(kg * FLOUR), round(kg * BRAN)
    book.write(
        milling_record,
        f"{lot} flour {day}",
        lot=lot,
        date=day,
        flour=Flour.STONE_WHITE,
        cleaned_first=True,
        flour_kg=flour_kg,
        flour_code=code,
        bran_kg=bran_kg,
        bran_code=f"{code}b",
    )
    flour, bran = (
        Lot.objects.get(holding=book.holding, code=each) for each in (code, f"{code}b")
    )
    book.write(
        grain_move, f"{bran} fed {day}", lot=bran, to="fed", kg=bran_kg, date=day
    )
    book.write(
        flour_bags_record,
        f"{lot} bagged {day}",
        lot=flour,
        date=day,
        bags=int(flour_kg * SHARE_BAGGED / BAG_KG),
        bag_kg=BAG_KG,
        best_before=day + 270 * DAY,
    )
    return flour


def flour_story(book, year):
    """What was done before the first flour was sold."""
    day = datetime.date(year - 1, 11, 2)
    yield day
    for what in TICKED:
        book.write(
            flour_check_record,
            f"flour: {what}",
            what=FlourCheck.What(what),
            date=day,
            who=book.owner.name,
        )
