"""A grower's question made a problem to solve, or refused in one sentence."""

import dataclasses
import datetime
import math

from sheafwright.answers.organic import IN_CONVERSION, ORGANIC, organic_status
from sheafwright.answers.question import AREAS
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.cropping import Buyer
from sheafwright.feeds import cropping as feed
from sheafwright.planning.cropping import problem as plain
from sheafwright.planning.cropping.model import WEEKS
from sheafwright.planning.cropping.rotation import (
    CORN,
    LEY,
    ROOTS,
    WHEAT,
    first_state,
    grown,
)

MOST_YEARS, MOST_FIELDS = 12, 200
FIRST_YEARS = 1800, 2200
KINDS = WHEAT, CORN, ROOTS, LEY
STATUSES = {ORGANIC: plain.ORGANIC, IN_CONVERSION: plain.IN_CONVERSION}


def problem_of(question):
    """The `Problem` of a `CroppingQuestion`."""
    crops, tables = feed.crops(question.values), feed.tables(question.values)
    straw, hands = feed.straw(question.values), tables["hands"]
    for wrong, says in (*_wrong(question, crops), *_uneven(crops, tables)):
        if wrong:
            raise OutOfRange(says)
    years = tuple(range(question.first_year, question.first_year + question.years))
    every = Buyer(math.inf, straw.reed_gbp_per_t)
    return plain.Problem(
        years=years,
        fields=tuple(
            _field(field, years, crops, tables["rules"])
            for field in question.fields
            if not field.keep_in_grass
        ),
        crops=crops,
        rotation=tables["rules"],
        ground=tables["ground"],
        seasons=tables["seasons"],
        hands=hands,
        straw=straw,
        seed_plot=tables["seed_plot"],
        hours=tuple(_hours(question, week) for week in range(1, WEEKS + 1)),
        binder_ha_per_week=(
            question.binders * hands.binder_ha_per_day * hands.cutting_days_per_week
        ),
        buyers=tuple(sorted(question.buyers, key=_price, reverse=True)) or (every,),
        wanted=question.wanted,
        varieties=question.varieties,
        increase=question.increase,
    )


def status_of(field, crop, year):
    """The `OrganicStatus` of a crop sown there for a harvest.

    Parameters
    ----------
    field : FieldAsked
    crop : Crop
    year : int
    """
    before, *day = crop.sown
    sown = datetime.date(year - before, *day)
    return organic_status(field.conversion_from, sown, datetime.date(year, *crop.cut))


def _field(field, years, crops, rules):
    state = first_state(rules)
    for past in field.history:
        kind = LEY if past == feed.GRASS else CORN
        state = grown(state, crops[past].kind if past in crops else kind, rules)
    choices = tuple(
        tuple(
            plain.Choice(
                name,
                STATUSES.get(status_of(field, crop, year).status, plain.NOT_ORGANIC),
            )
            for name, crop in crops.items()
            if name not in field.without
        )
        for year in years
    )
    return plain.Field(field.name, field.area_ha, state, choices)


def _hours(question, week):
    """Of the busy weeks that hold it, the last named has its say."""
    hours = question.hours_a_week
    for busy in question.busy:
        if busy.first_week <= week <= busy.last_week:
            hours = busy.hours_a_week
    return hours


def _price(buyer):
    return buyer.gbp_per_t


def _wrong(question, crops):
    """What no holding could ask, with what would be right."""
    names = [field.name for field in question.fields]
    rotated = {each.name: each for each in question.fields if not each.keep_in_grass}
    first, last = question.first_year, question.first_year + question.years - 1
    yield (
        not 1 <= question.years <= MOST_YEARS,
        (
            f"A plan of {question.years} years can't be made; it should be of 1 to "
            f"{MOST_YEARS}."
        ),
    )
    yield (
        not FIRST_YEARS[0] <= first <= FIRST_YEARS[1],
        f"first_year is {first}; it should be a harvest such as 2027.",
    )
    yield (
        not rotated or len(names) > MOST_FIELDS,
        f"There are {len(rotated)} fields to plan; there should be 1 to {MOST_FIELDS}.",
    )
    twice = next((each for each in names if names.count(each) > 1), None)
    yield twice is not None, f"Two fields are named {twice}; each needs its own name."
    for field in question.fields:
        yield from _wrong_field(field, crops)
    for wanted in question.wanted:
        yield from _wrong_wanted(wanted, crops, first, last)
    yield from _wrong_limits(question)
    yield from _wrong_pins(question, crops, rotated, first, last)
    increase = question.increase
    yield (
        increase is not None
        and not (
            first <= increase.year <= last
            and 0 < increase.seed_kg < math.inf
            and 0 <= increase.wanted_ha < math.inf
        ),
        (
            f"increase should start from some kilograms of seed, and be wanted for a "
            f"harvest from {first} to {last}."
        ),
    )


def _wrong_field(field, crops):
    least, most = AREAS
    yield (
        not least <= field.area_ha <= most,
        (
            f"{field.name} has {field.area_ha:g} ha; it should have {least:g} to "
            f"{most:,} ha."
        ),
    )
    other = next((each for each in field.without if each not in crops), None)
    yield other is not None, _no_crop(f"{field.name}, without:", other, crops)
    yield (
        set(field.without) >= set(crops),
        f"{field.name} is to be without every crop; it should be left one.",
    )


def _wrong_wanted(wanted, crops, first, last):
    kinds = {crop.kind for crop in crops.values()}
    yield (
        not first <= wanted.year <= last,
        (
            f"wanted: {wanted.year} is no year of the plan; it should be from "
            f"{first} to {last}."
        ),
    )
    yield (
        wanted.crop not in kinds | set(crops),
        _no_crop("wanted:", wanted.crop, sorted(kinds | set(crops))),
    )
    yield (
        not 0 <= wanted.least_ha <= wanted.most_ha or wanted.least_ha == math.inf,
        (
            f"wanted: {wanted.crop} in {wanted.year} is from {wanted.least_ha:g} to "
            f"{wanted.most_ha:g} ha; it should run from 0 up."
        ),
    )


def _wrong_limits(question):
    hours = (question.hours_a_week, *(each.hours_a_week for each in question.busy))
    yield (
        not all(0 <= each < math.inf for each in hours),
        "Hours a week should be 0 or more.",
    )
    weeks = [(each.first_week, each.last_week) for each in question.busy]
    yield (
        not all(1 <= first <= last <= WEEKS for first, last in weeks),
        f"busy: weeks should run from the first to the last, within 1 to {WEEKS}.",
    )
    yield (
        not 0 <= question.binders < math.inf,
        f"{question.binders:g} binders can't be; it should be 0 or more.",
    )
    numbers = [number for buyer in question.buyers for number in buyer]
    yield (
        not all(0 <= each < math.inf for each in numbers),
        "buyers: tonnes and prices should be 0 or more.",
    )
    other = next((crop for crop in question.varieties if crop not in feed.CROPS), None)
    yield other is not None, _no_crop("varieties:", other, feed.CROPS)


def _wrong_pins(question, crops, rotated, first, last):
    places = [(pin.field, pin.year) for pin in question.pins]
    for pin in question.pins:
        where = f"Pin of {pin.field} in {pin.year}:"
        yield (
            pin.field not in rotated,
            f"{where} it should be a field of the plan that is not kept in grass.",
        )
        yield (
            not first <= pin.year <= last,
            f"{where} the year should be from {first} to {last}.",
        )
        yield pin.crop not in crops, _no_crop(where, pin.crop, crops)
        yield (
            pin.field in rotated and pin.crop in rotated[pin.field].without,
            f"{where} {pin.crop} is among the crops that it is to be without.",
        )
        yield (
            places.count((pin.field, pin.year)) > 1,
            f"{where} it is pinned twice; once is right.",
        )


def _uneven(crops, tables):
    """Lists of the tables, some of them the grower's own, that don't match."""
    seasons = len(tables["seasons"].names)
    chances = tables["seasons"].chance
    yield (
        len(chances) != seasons or abs(sum(chances) - 1) > 1e-6 or min(chances) < 0,
        "[values.seasons] should give each of the names a chance, 1 in all.",
    )
    yield (
        not 0 < tables["seasons"].worst_share <= 1
        or not 0 <= tables["seasons"].caution <= 1,
        "[values.seasons]: worst_share and caution should be shares from 0 to 1.",
    )
    rules = dataclasses.asdict(tables["rules"])
    yield (
        not all(isinstance(n, int) and 1 <= n <= MOST_YEARS for n in rules.values()),
        f"[values.rules] should give whole numbers from 1 to {MOST_YEARS}.",
    )
    for name, crop in crops.items():
        yield from _uneven_crop(name, crop)
        yield (
            len(crop.yield_by_season) != seasons,
            (
                f"[values.{name}]: yield_by_season should hold {seasons} numbers, one "
                f"for each kind of season."
            ),
        )


def _uneven_crop(name, crop):
    works = (crop.work_first_week, crop.work_last_week, crop.work_h_per_ha)
    rows = list(zip(*works, strict=False))
    yield (
        {len(each) for each in (*works, crop.work_by_binder)} != {len(crop.work)}
        or not all(-WEEKS < first <= last <= WEEKS for first, last, _ in rows)
        or min(crop.work_h_per_ha, default=0) < 0,
        (
            f"[values.{name}]: each work should have a first and a last week, hours, "
            f"and 1 or 0 for the binder."
        ),
    )
    yield (
        crop.kind not in KINDS or len(crop.grain_gbp_per_t) != len(STATUSES) + 1,
        (
            f"[values.{name}]: kind should be one of {', '.join(KINDS)}, and "
            f"grain_gbp_per_t hold three prices."
        ),
    )
    yield (
        len(crop.sown) != 3 or not (_is_day(crop.sown[1:]) and _is_day(crop.cut)),
        (
            f"[values.{name}]: sown should be years before, month and day, and cut a "
            f"month and day."
        ),
    )


def _is_day(month_day):
    try:
        # No leap year, so that the day is there in every year.
        datetime.date(2001, *month_day)
    except (TypeError, ValueError):
        return False
    return True


def _no_crop(where, crop, crops):
    said = feed.crops({})
    each = [_with_its_word(name, said) for name in crops]
    return f"{where} {crop!r} is no crop; it should be one of {', '.join(each)}."


def _with_its_word(name, crops):
    """A crop as a file names it, and as a sentence does where that is another word."""
    says = crops[name].says if name in crops else name
    return name if says in (name, name.replace("_", " ")) else f"{name} ({says})"
