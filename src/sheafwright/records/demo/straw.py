"""How the demo's straw is graded and bundled; every stem of it is invented."""

import functools
import random

import numpy as np

from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.weather import read
from sheafwright.records.models import Lot
from sheafwright.records.services.grading import (
    bundles_record,
    hand_grade_record,
    stem_sample_record,
)

BUNDLES_OPENED, STEMS_EACH = 4, 9
FRESH = 74.0
"""Brightness of straw that no rain fell on. [points of 100]"""
DULLED = 0.16
"""By each millimetre on the stooks. [points mm⁻¹]"""
FIRST_OF_AUGUST = 213
SHORTER = 1.6
"""By each day that it was cut later. [mm]"""


def straw_graded(book, crop, lots, day):
    """A handful, the bundles and some stems of what the drum gave on a day."""
    luck = random.Random(f"{crop.name} {day} its straw")
    for kind in (Lot.Kind.REED, Lot.Kind.LONG_STRAW):
        if kind in lots:
            _by_hand(book, crop, lots[kind], day)
            _bundled(book, lots[kind], day, luck)
    if Lot.Kind.REED in lots:
        _stems(book, crop, lots[Lot.Kind.REED], day, luck)


def _by_hand(book, crop, lot, day):
    dull = _rain_on_stooks(crop) > 45
    book.note(
        hand_grade_record,
        f"{lot} twisted",
        lot=lot,
        date=day,
        twist="held",
        colour="dull" if dull else "bright",
        smell="sweet",
        stems="straight" if lot.kind == Lot.Kind.REED else "crushed",
        length_cm=lot.length_cm,
    )


def _bundled(book, lot, day, luck):
    """Told off by the score, and a few weighed."""
    count = lot.bundles or round(book.kg_of(lot) / 6.35)
    weighed = [round(luck.gauss(6.35, 0.25), 2) for _ in range(3)]
    for number, kg in enumerate(weighed):
        book.note(
            bundles_record,
            f"{lot} bundles {number}",
            lot=lot,
            date=day,
            count=1,
            tied_as="small",
            bundle_kg=kg,
            girth_cm=61,
            moisture_pct=14.5,
        )
    if count > len(weighed):
        rest = count - len(weighed)
        name = f"{lot} bundles told off"
        book.note(bundles_record, name, lot=lot, date=day, count=rest)


def _stems(book, crop, lot, day, luck):
    opened = luck.sample(range(1, max(lot.bundles or 0, 40) + 1), BUNDLES_OPENED)
    for bundle in sorted(opened):
        like = luck.gauss(0, 12)
        book.note(
            stem_sample_record,
            f"{lot} stems of {bundle}",
            lot=lot,
            date=day,
            bundle=bundle,
            stems=[_stem(crop, lot, like, luck) for _ in range(STEMS_EACH)],
        )


def _stem(crop, lot, like, luck):
    later = crop.cut.timetuple().tm_yday - FIRST_OF_AUGUST
    length = 10 * lot.length_cm - SHORTER * later + like
    # Now and then a stem was broken by the comb.
    length = luck.uniform(420, 700) if luck.random() < 0.02 else luck.gauss(length, 55)
    butt = luck.gauss(4.1, 0.5)
    bright = FRESH - DULLED * _rain_on_stooks(crop)
    return {
        "length_mm": round(max(length, 300), 1),
        "butt_mm": round(max(butt, 2.6), 2),
        "middle_mm": round(max(butt - 0.7, 1.8), 2),
        "top_mm": round(max(luck.gauss(2.4, 0.2), 1.2), 2),
        "bends": int(luck.random() < 0.02),
        "damage": int(luck.random() < 0.01),
        "brightness": round(luck.gauss(bright, 4), 1),
    }


def _rain_on_stooks(crop):
    return _rain(crop.cut, crop.stook_days)


@functools.lru_cache(256)
def _rain(cut, days):
    """Of the invented weather. [mm]"""
    record = _record()
    first = (cut - record.first).days + 1
    return float(np.nansum(record.values["rain"][first : first + days]))


@functools.cache
def _record():
    invented = demo_holding()
    return read(invented.weather, invented.columns)
