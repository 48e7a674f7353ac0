"""A crop's story: from its seed to the last lot sold."""

import datetime
import decimal
import random

from sheafwright.records.demo.grain import grain_dressed, grain_milled
from sheafwright.records.demo.labour import JOBS, own_hours
from sheafwright.records.demo.plan import SPRING_VARIETY
from sheafwright.records.demo.straw import straw_graded
from sheafwright.records.models import (
    Labour,
    Loss,
    Lot,
    Place,
    Rick,
    SeedHealthTest,
    SeedLot,
)
from sheafwright.records.models.work import Task
from sheafwright.records.services.crop import (
    meter_reading_record,
    observation_record,
    plant_count_record,
    sowing_record,
    weed_walk_record,
)
from sheafwright.records.services.harvest import (
    carting_record,
    crop_expect,
    cut_record,
)
from sheafwright.records.services.inspection import cleaning_record, derogation_add
from sheafwright.records.services.seed import (
    germination_test_add,
    seed_health_test_add,
    seed_lot_add,
)
from sheafwright.records.services.stock import (
    grain_move,
    loss_record,
    sale_record,
)
from sheafwright.records.services.store import (
    lot_test_record,
    rick_build,
    rick_empty,
    rick_reading_record,
)
from sheafwright.records.services.threshing import Outturn, threshing_record
from sheafwright.records.services.work import labour_record

DAY = datetime.timedelta(1)
THREE_LEAVES = datetime.timedelta(40)
"""After the crop comes up."""
RATE_KG_PER_HA = 135.0
EXPECTED_KG_PER_HA = 6200
KG_PER_STOOK, SHEAVES_EACH = 72, 8
SOUND_C = (21.0, 27.0, 30.0, 27.0, 23.0, 20.0)
"""Of a rick that settles as it should, probed every few days."""
BAY = {
    "shape": Rick.Shape.BAY,
    "length_m": 9.0,
    "width_m": 6.0,
    "eaves_m": 4.0,
    "to_buildings_m": 26.0,
    "to_road_m": 12.0,
    "to_rick_m": 9.0,
    "insurers_conditions": "No engine within 15 m while it is open; a charged "
    "extinguisher by the door.",
}
"""Each rick fills one of an open barn, which stands nearer the lane than is advised."""
EARLY_SHARE = 0.3
"""Of a rick, threshed early for seed and the first orders."""
KG_PER_BUNDLE = 6.35
BADLY_SET = 0.05
"""Share of runs for which nobody looked at the comb."""
THATCHERS = (
    "Bram Tolliver, thatcher",
    "Orla Quince, thatcher",
    "Nell Ash, thatcher",
)
MARKET = {
    Lot.Kind.REED: (THATCHERS, 1.35),
    Lot.Kind.LONG_STRAW: (THATCHERS, 0.85),
    Lot.Kind.GRAIN: (("Sallow Ford Mill",), 0.36),
    Lot.Kind.FLOUR: (("at the farm gate", "Combe Bakery"), 1.9),
}
"""Who buys what, for so many pounds a kilogram: invented, like all that is sold."""
WORTH_MILLING_KG, MILLED_SHARE = 50, 0.2
NEIGHBOURS = ("Dan Tarrow", "Eve Coppin")


def crop_story(book, crop):
    yield crop.sown - 9 * DAY
    seed = _seed_for(book, crop)
    yield crop.sown
    sowing = book.note(
        sowing_record,
        f"{crop.name} sown",
        field=crop.field,
        seed_lot=seed,
        date=crop.sown,
        harvest_year=crop.year,
        area_ha=crop.field.area_ha,
        rate_kg_per_ha=RATE_KG_PER_HA,
        row_spacing_mm=170,
        variety_class=crop.variety_class,
    )
    hours = 5 * crop.field.area_ha
    own_hours(book, f"{crop.name} sown by us", crop.sown, Task.SOWING, hours, 1, sowing)
    yield from _growing(book, crop, sowing)
    if crop.cut:
        rick = yield from _harvest(book, crop, sowing)
        yield from _winter(book, crop, rick)


# Seed.


def _seed_for(book, crop):
    """Seed of one's own, if enough was kept; else bought."""
    needs = round(crop.field.area_ha * RATE_KG_PER_HA)
    grain = book.grain.get(crop.variety)
    if grain is None or book.kg_of(grain) < needs:
        return _bought(book, crop)
    book.write(
        grain_move,
        f"{crop.name} seed kept",
        lot=grain,
        to="seed",
        kg=needs,
        date=crop.sown - 9 * DAY,
    )
    if grain.pk not in book.seed:
        book.seed[grain.pk] = _tested(book, crop, _own(book, crop, grain))
    return book.seed[grain.pk]


def _own(book, crop, grain):
    return book.write(
        seed_lot_add,
        f"seed of {grain.code}",
        name=f"S {grain.code}",
        variety=crop.variety,
        came=SeedLot.Came.OWN,
        grown_as=grain,
        standing=SeedLot.Standing.ORGANIC,
        thousand_grain_weight_g=round(crop.luck.uniform(42, 52), 1),
    )


def _bought(book, crop):
    name = f"B {crop.year % 100:02d} {crop.variety}"
    known = SeedLot.objects.filter(holding=book.holding, name=name).first()
    return known or _tested(book, crop, _buy(book, crop, name))


def _buy(book, crop, name):
    leave = _leave_to_sow(book, crop) if crop.variety == SPRING_VARIETY else None
    standing = SeedLot.Standing
    return book.write(
        seed_lot_add,
        name,
        name=name,
        variety=crop.variety,
        came=SeedLot.Came.BOUGHT,
        supplier="Linnet Seeds",
        standing=standing.UNTREATED if leave else standing.ORGANIC,
        derogation=leave,
        thousand_grain_weight_g=round(crop.luck.uniform(42, 52), 1),
    )


def _leave_to_sow(book, crop):
    """Of the spring variety no organic seed was on offer."""
    return book.write(
        derogation_add,
        f"derogation {crop.year}",
        date=crop.sown - 20 * DAY,
        variety=crop.variety,
        reason="no organic seed of the variety on offer",
        reference=f"D-{crop.year}-1",
    )


def _tested(book, crop, lot):
    day, luck = crop.sown - 9 * DAY, crop.luck
    book.write(
        germination_test_add,
        f"{lot.name} germination",
        seed_lot=lot,
        date=day,
        came_up=[luck.randint(90, 98) for _ in range(4)],
    )
    for sickness in SeedHealthTest.Sickness:
        book.write(
            seed_health_test_add,
            f"{lot.name} {sickness}",
            seed_lot=lot,
            date=day,
            sickness=sickness,
            found=SeedHealthTest.Found.NONE,
            laboratory="Teasel Laboratory",
        )
    return lot


# In the field.


def _growing(book, crop, sowing):
    """All that is seen and done before the cut, in the order of its days."""
    happens = [(day, _see, {"stage": s}) for s, day in crop.days.items()]
    happens.append((crop.days["emergence"] + THREE_LEAVES, _count, {}))
    happens.append((datetime.date(crop.year, 5, 20), _expect, {}))
    happens.append((datetime.date(crop.year, 6, 11), _walk, {}))
    if crop.luck.random() < 0.3:
        happens.append((datetime.date(crop.year, 7, 9), _rooks, {}))
    for day, do, said in sorted(happens, key=lambda each: each[0]):
        if crop.cut is None or day <= crop.cut:
            yield day
            do(book, crop, sowing, day, **said)


def _see(book, crop, sowing, day, stage):
    luck, seen = crop.luck, {}
    if stage == "ear_out":
        seen = {"height_cm": luck.randint(112, 138), "stems_per_m2": 310}
    if stage == "soft_dough":
        seen = {"height_cm": luck.randint(115, 142), "lodged_pct": luck.randint(0, 12)}
    book.note(
        observation_record,
        f"{crop.name} {stage}",
        sowing=sowing,
        date=day,
        stage=stage,
        **seen,
    )


def _count(book, crop, sowing, day):
    """In ten places of a quarter of a square metre, some thin, some thick."""
    luck = random.Random(f"{crop.name} plants")
    stand = luck.uniform(38, 60)
    book.note(
        plant_count_record,
        f"{crop.name} plants",
        sowing=sowing,
        date=day,
        counts=[round(luck.gauss(stand, 7)) for _ in range(10)],
        place_m2=0.25,
    )


def _expect(book, crop, sowing, day):
    book.write(
        crop_expect,
        f"{crop.name} expected",
        sowing=sowing,
        date=day,
        kg=round(EXPECTED_KG_PER_HA * sowing.area_ha),
    )


def _walk(book, crop, sowing, day):
    book.note(
        weed_walk_record,
        f"{crop.name} weeds",
        sowing=sowing,
        date=day,
        weeds=crop.luck.choice(("docks by the gate", "a few thistles", "wild oats")),
        clover_height_cm=crop.luck.randint(8, 25),
        rogued=True,
    )


def _rooks(book, crop, sowing, day):
    book.note(
        loss_record,
        f"{crop.name} rooks",
        date=day,
        by=Loss.By.ROOKS,
        counted_as=Place.Kind.VERMIN,
        place=book.place(Place.Kind.STANDING, sowing),
        kg=round(25 * sowing.area_ha),
        sowing=sowing,
    )


# The harvest.


def _harvest(book, crop, sowing):
    """Two blocks cut, stooked, read and carted; gives the rick."""
    sets = []
    for block in range(2):
        day = crop.cut + block * DAY
        yield day
        sets.append(_cut(book, crop, sowing, day, block))
    carted = crop.cut + crop.stook_days * DAY
    for day in (crop.cut + 2 * DAY, crop.cut + 4 * DAY, carted):
        if day <= carted:
            yield day
            _read_meter(book, crop, sets[0], day)
    rick = _build(book, crop, carted)
    for block, stook_set in enumerate(sets):
        _cart(book, crop, stook_set, rick, block)
    yield from _probe(book, crop, rick)
    return rick


def _cut(book, crop, sowing, day, block):
    kg = sowing.area_ha / 2 * EXPECTED_KG_PER_HA * crop.luck.uniform(0.85, 1.1)
    cut = book.note(
        cut_record,
        f"{crop.name} cut {block}",
        sowing=sowing,
        date=day,
        area_ha=round(sowing.area_ha / 2, 3),
        stooks=round(kg / KG_PER_STOOK),
        sheaves_each=SHEAVES_EACH,
    )
    _work(book, crop, day, Task.CUTTING, 9, NEIGHBOURS[block], sowing=sowing)
    each = 4 * sowing.area_ha / 2
    name = f"{crop.name} cut by us {block}"
    own_hours(book, name, day, Task.CUTTING, each, 2, sowing)
    return cut.stook_set


def _read_meter(book, crop, stook_set, day):
    days = (day - crop.cut).days
    book.note(
        meter_reading_record,
        f"{crop.name} meter {days}",
        stook_set=stook_set,
        at=book.at(day),
        grain_pct=round(max(16.0, 27 - 1.1 * days), 1),
        straw_pct=round(max(14.5, 38 - 3.2 * days), 1),
    )


def _build(book, crop, day):
    return book.note(
        rick_build,
        f"{crop.name} rick",
        name=f"{crop.field.name} rick",
        built=day,
        capacity_kg=16_000,
        cover=Rick.Cover.ROOF,
        fit_to_comb=crop.combs,
        **BAY,
    )


def _cart(book, crop, stook_set, rick, block):
    book.note(
        carting_record,
        f"{crop.name} carted {block}",
        stook_set=stook_set,
        rick=rick,
        date=rick.built,
        moisture_pct=15.5,
    )
    _work(book, crop, rick.built, Task.CARTING, 7, NEIGHBOURS[block])
    name = f"{crop.name} carted by us {block}"
    own_hours(book, name, rick.built, Task.CARTING, 4 * crop.field.area_ha / 2, 3)


def _probe(book, crop, rick):
    """Every morning at first, if it warms; every few days, if it does not."""
    every = 1 if crop.temperatures_c else 7
    for number, warm in enumerate(crop.temperatures_c or SOUND_C, 1):
        day = rick.built + number * every * DAY
        yield day
        book.note(
            rick_reading_record,
            f"{crop.name} probe {number}",
            rick=rick,
            at=book.at(day),
            temperature_c=warm,
            depth_m=1.5,
        )


def _work(book, crop, day, task, hours, who, job=None, sowing=None):
    """A neighbour comes, or we go to theirs: it need not come out even."""
    job = job or JOBS[task]
    book.write(
        labour_record,
        f"{crop.name} {job} {who}",
        date=day,
        who=who,
        hours=hours,
        task=task,
        job=job,
        sowing=sowing,
        owed=crop.luck.choice((Labour.Owed.TO_THEM, Labour.Owed.TO_US)),
    )


# The drum, and the winter's trade.


def _winter(book, crop, rick):
    """A first run for seed and early orders, the rest later, and sales all year."""
    early = rick.built + 45 * DAY
    yield early
    first = _thresh(book, crop, rick, early, EARLY_SHARE, "early")
    straw_graded(book, crop, first, early)
    book.grain[crop.variety] = first[Lot.Kind.GRAIN]
    late = datetime.date(rick.built.year, 12, 4) + crop.luck.randint(0, 60) * DAY
    yield late - 5 * DAY
    _rats(book, crop, rick, late - 5 * DAY)
    yield late
    second = _thresh(book, crop, rick, late, 1, "late", smells=crop.smells)
    straw_graded(book, crop, second, late)
    book.write(rick_empty, f"{crop.name} emptied", rick=rick, emptied=late)
    if crop.smells:
        _clean_down(book, crop, late)
    yield late + 12 * DAY
    for lots in (first, second):
        grain_dressed(book, crop, lots[Lot.Kind.GRAIN], late + 12 * DAY)
    _test(book, crop, second[Lot.Kind.GRAIN], late + 12 * DAY)
    # What is milled in one round is sold as flour in the next.
    trade = [
        *((40, first, 1), (75, second, 0.6), (110, first, 1)),
        *((320, second, 1), (350, second, 1)),
    ]
    for days, lots, share in trade:
        yield late + days * DAY
        if lots is first or not crop.smells:
            _trade(book, crop, lots, late + days * DAY, share)


def _thresh(book, crop, rick, day, share, run, smells=False):
    """One run of the drum; its lots by kind."""
    kg = round(book.kg_in(Place.Kind.RICK, rick) * share)
    outturn = _outturn(book, crop, kg)
    threshing = book.write(
        threshing_record,
        f"{crop.name} threshed {run}",
        date=day,
        rick=rick,
        kg=kg if share < 1 else None,
        combed=crop.combs,
        smelt_of_fish=smells,
        outturn=outturn,
    )
    _work(book, crop, day, Task.THRESHING, 8, NEIGHBOURS[0], f"threshing {run}")
    own_hours(book, f"{crop.name} drum {run}", day, Task.THRESHING, 8, 3)
    codes = [each.code for each in outturn if each.code]
    lots = Lot.objects.filter(holding=threshing.holding, code__in=codes)
    return {lot.kind: lot for lot in lots.select_related("holding")}


def _outturn(book, crop, kg):
    shares = _shares(crop, kg)
    return (
        *(
            Outturn(
                kind=kind,
                kg=round(kg * share),
                code=book.next_code(crop.year),
                moisture_pct=14.5,
                **_bundled(crop, kind, kg * share),
            )
            for kind, share in shares.items()
        ),
        Outturn(kind="waste", kg=round(kg * (0.985 - sum(shares.values())))),
    )


def _shares(crop, kg):
    """By kind of lot; now and then the comb is set badly, and little reed comes."""
    luck, apart = crop.luck, random.Random(f"{crop.name} {kg} at the drum")
    straw, low, high = (
        (Lot.Kind.REED, 0.42, 0.47) if crop.combs else (Lot.Kind.LONG_STRAW, 0.52, 0.58)
    )
    share = luck.uniform(low, high)
    if crop.combs and apart.random() < BADLY_SET:
        share -= 0.12
    return {
        straw: share,
        Lot.Kind.GRAIN: apart.gauss(0.29, 0.008),
        Lot.Kind.TAIL: apart.gauss(0.03, 0.003),
    }


def _bundled(crop, kind, kg):
    if kind == Lot.Kind.REED:
        return {
            "bundles": round(kg / KG_PER_BUNDLE),
            "length_cm": crop.luck.randint(95, 118),
        }
    return {}


def _rats(book, crop, rick, day):
    book.note(
        loss_record,
        f"{crop.name} rats",
        date=day,
        by=Loss.By.RATS,
        counted_as=Place.Kind.VERMIN,
        place=book.place(Place.Kind.RICK, rick),
        kg=crop.luck.randint(8, 40),
    )


def _clean_down(book, crop, day):
    book.write(
        cleaning_record,
        f"{crop.name} cleaned down",
        date=day,
        what="drum, comber, elevators",
        how="stopped at the smell; brushed, blown and washed before the next rick",
    )


def _test(book, crop, grain, day):
    luck = crop.luck
    book.write(
        lot_test_record,
        f"{crop.name} grain test",
        lot=grain,
        date=day,
        laboratory="Teasel Laboratory",
        moisture_pct=14.2,
        protein_pct=round(luck.uniform(9.8, 12.4), 1),
        hagberg_s=luck.randint(170, 310),
        specific_weight_kg_per_hl=round(luck.uniform(71, 78), 1),
    )


def _trade(book, crop, lots, day, share):
    """So much of what is left of each lot; the flour that is milled joins them."""
    for kind, lot in list(lots.items()):
        kg = int(book.kg_of(lot) * share)
        if kg <= 0:
            continue
        if kind == Lot.Kind.TAIL:
            book.write(
                grain_move, f"{lot} fed {day}", lot=lot, to="fed", kg=kg, date=day
            )
        elif kind == Lot.Kind.GRAIN and kg >= WORTH_MILLING_KG:
            milled = round(kg * MILLED_SHARE)
            lots[Lot.Kind.FLOUR] = grain_milled(book, crop, lot, milled, day)
            _sell(book, crop, lot, kg - milled, day)
        else:
            _sell(book, crop, lot, kg, day)


def _sell(book, crop, lot, kg, day):
    buyers, gbp_per_kg = MARKET[lot.kind]
    buyer_name = crop.luck.choice(buyers)
    book.write(
        sale_record,
        f"{lot} sold {day}",
        lot=lot,
        date=day,
        kg=kg,
        bundles=round(kg / KG_PER_BUNDLE) if lot.bundles else None,
        buyer_name=buyer_name,
        buyer=book.buyer if buyer_name.startswith(book.buyer.name) else None,
        price=decimal.Decimal(f"{kg * gbp_per_kg:.2f}"),
    )
