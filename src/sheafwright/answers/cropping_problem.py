"""A grower's question made a problem to solve, or refused in one sentence."""

import dataclasses
import datetime
import math

from sheafwright.answers.organic import IN_CONVERSION, ORGANIC, organic_status
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.cropping import Buyer
from sheafwright.feeds import cropping as feed
from sheafwright.feeds.telling import joined, measured, say, say_n
from sheafwright.feeds.units import AREAS
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
    rotated = {each.name: each for each in question.fields if not each.keep_in_grass}
    first, last = question.first_year, question.first_year + question.years - 1
    yield (
        not 1 <= question.years <= MOST_YEARS,
        say_n(
            "A plan of {n} year can't be made; it should be of 1 to {most}.",
            "A plan of {n} years can't be made; it should be of 1 to {most}.",
            question.years,
            most=MOST_YEARS,
        ),
    )
    yield (
        not FIRST_YEARS[0] <= first <= FIRST_YEARS[1],
        say(
            "first_year is {year}; it should be a harvest such as {example}.",
            year=first,
            example=2027,
        ),
    )
    yield from _wrong_fields(question, rotated, crops)
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
        say(
            "increase should start from some kilograms of seed, and be wanted for a "
            "harvest from {first} to {last}.",
            first=first,
            last=last,
        ),
    )


def _wrong_fields(question, rotated, crops):
    names = [field.name for field in question.fields]
    yield (
        not rotated or len(names) > MOST_FIELDS,
        say_n(
            "There is {n} field to plan; there should be 1 to {most}.",
            "There are {n} fields to plan; there should be 1 to {most}.",
            len(rotated),
            most=MOST_FIELDS,
        ),
    )
    twice = next((each for each in names if names.count(each) > 1), None)
    yield (
        twice is not None,
        say("Two fields are named {name}; each needs its own name.", name=twice),
    )
    for field in question.fields:
        yield from _wrong_field(field, crops)


def _wrong_field(field, crops):
    least, most = AREAS
    yield (
        not least <= field.area_ha <= most,
        say(
            "{field} has {area}; it should have {least} to {most}.",
            field=field.name,
            area=measured(field.area_ha, "ha"),
            least=measured(least, "ha"),
            most=measured(most, "ha", ","),
        ),
    )
    where = say("{field}, without:", field=field.name)
    other = next((each for each in field.without if each not in crops), None)
    yield other is not None, _no_crop(where, other, crops)
    yield (
        set(field.without) >= set(crops),
        say(
            "{field} is to be without every crop; it should be left one.",
            field=field.name,
        ),
    )


def _wrong_wanted(wanted, crops, first, last):
    kinds = {crop.kind for crop in crops.values()}
    yield (
        not first <= wanted.year <= last,
        say(
            "wanted: {year} is no year of the plan; it should be from {first} to "
            "{last}.",
            year=wanted.year,
            first=first,
            last=last,
        ),
    )
    yield (
        wanted.crop not in kinds | set(crops),
        _no_crop("wanted:", wanted.crop, sorted(kinds | set(crops))),
    )
    yield (
        not 0 <= wanted.least_ha <= wanted.most_ha or wanted.least_ha == math.inf,
        say(
            "wanted: {crop} in {year} is from {least} to {most}; it should run from 0 "
            "up.",
            crop=wanted.crop,
            year=wanted.year,
            least=measured(wanted.least_ha, "ha"),
            most=measured(wanted.most_ha, "ha"),
        ),
    )


def _wrong_limits(question):
    hours = (question.hours_a_week, *(each.hours_a_week for each in question.busy))
    yield (
        not all(0 <= each < math.inf for each in hours),
        say("Hours a week should be 0 or more."),
    )
    weeks = [(each.first_week, each.last_week) for each in question.busy]
    yield (
        not all(1 <= first <= last <= WEEKS for first, last in weeks),
        say(
            "busy: weeks should run from the first to the last, within 1 to {weeks}.",
            weeks=WEEKS,
        ),
    )
    yield (
        not 0 <= question.binders < math.inf,
        say(
            "{binders:g} binders can't be; it should be 0 or more.",
            binders=question.binders,
        ),
    )
    numbers = [number for buyer in question.buyers for number in buyer]
    yield (
        not all(0 <= each < math.inf for each in numbers),
        say("buyers: tonnes and prices should be 0 or more."),
    )
    other = next((crop for crop in question.varieties if crop not in feed.CROPS), None)
    yield other is not None, _no_crop("varieties:", other, feed.CROPS)


def _wrong_pins(question, crops, rotated, first, last):
    places = [(pin.field, pin.year) for pin in question.pins]
    for pin in question.pins:
        where = say("Pin of {field} in {year}:", field=pin.field, year=pin.year)
        yield (
            pin.field not in rotated,
            say(
                "{where} it should be a field of the plan that is not kept in grass.",
                where=where,
            ),
        )
        yield (
            not first <= pin.year <= last,
            say(
                "{where} the year should be from {first} to {last}.",
                where=where,
                first=first,
                last=last,
            ),
        )
        yield pin.crop not in crops, _no_crop(where, pin.crop, crops)
        yield (
            pin.field in rotated and pin.crop in rotated[pin.field].without,
            say(
                "{where} {crop} is among the crops that it is to be without.",
                where=where,
                crop=pin.crop,
            ),
        )
        yield (
            places.count((pin.field, pin.year)) > 1,
            say("{where} it is pinned twice; once is right.", where=where),
        )


def _uneven(crops, tables):
    """Lists of the tables, some of them the grower's own, that don't match."""
    seasons = len(tables["seasons"].names)
    chances = tables["seasons"].chance
    yield (
        len(chances) != seasons or abs(sum(chances) - 1) > 1e-6 or min(chances) < 0,
        say("[values.seasons] should give each of the names a chance, 1 in all."),
    )
    yield (
        not 0 < tables["seasons"].worst_share <= 1
        or not 0 <= tables["seasons"].caution <= 1,
        say("[values.seasons]: worst_share and caution should be shares from 0 to 1."),
    )
    rules = dataclasses.asdict(tables["rules"])
    yield (
        not all(isinstance(n, int) and 1 <= n <= MOST_YEARS for n in rules.values()),
        say(
            "[values.rules] should give whole numbers from 1 to {most}.",
            most=MOST_YEARS,
        ),
    )
    for name, crop in crops.items():
        yield from _uneven_crop(name, crop)
        yield (
            len(crop.yield_by_season) != seasons,
            say(
                "[values.{crop}]: yield_by_season should hold {seasons} numbers, one "
                "for each kind of season.",
                crop=name,
                seasons=seasons,
            ),
        )


def _uneven_crop(name, crop):
    works = (crop.work_first_week, crop.work_last_week, crop.work_h_per_ha)
    rows = list(zip(*works, strict=False))
    yield (
        {len(each) for each in (*works, crop.work_by_binder)} != {len(crop.work)}
        or not all(-WEEKS < first <= last <= WEEKS for first, last, _ in rows)
        or min(crop.work_h_per_ha, default=0) < 0,
        say(
            "[values.{crop}]: each work should have a first and a last week, hours, "
            "and 1 or 0 for the binder.",
            crop=name,
        ),
    )
    yield (
        crop.kind not in KINDS or len(crop.grain_gbp_per_t) != len(STATUSES) + 1,
        say(
            "[values.{crop}]: kind should be one of {kinds}, and grain_gbp_per_t hold "
            "three prices.",
            crop=name,
            kinds=", ".join(KINDS),
        ),
    )
    yield (
        len(crop.sown) != 3 or not (_is_day(crop.sown[1:]) and _is_day(crop.cut)),
        say(
            "[values.{crop}]: sown should be years before, month and day, and cut a "
            "month and day.",
            crop=name,
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
    """``where`` is said, or a name in the file."""
    known = feed.crops({})
    each = [_with_its_word(name, known) for name in crops]
    return say(
        "{where} {crop!r} is no crop; it should be one of {crops}.",
        where=where,
        crop=crop,
        crops=joined(*each, by=", "),
    )


def _with_its_word(name, crops):
    """A crop as a file names it, and as a sentence does where that is another word."""
    word = say(crops[name].says) if name in crops else name
    if word in (name, name.replace("_", " ")):
        return name
    return say("{name} ({word})", name=name, word=word)
