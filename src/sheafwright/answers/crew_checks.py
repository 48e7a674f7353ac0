"""What a plan for the next half-days may be asked with."""

import datetime

from sheafwright.answers.limits import Limit
from sheafwright.answers.question import AREAS
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.crew_day import HALVES, TASKS
from sheafwright.feeds.telling import listed, mark, say

MOST_HALF_DAYS, MOST_OF_ALL = 14, 200
CHANCE = Limit(mark("A chance of {value:g}"), 0, 1, "in 1")
WORTH = Limit(mark("A worth of {value:g} of a perfect crop"), 0, 1, "in 1")
LEFT = Limit(mark("{value:g} of a perfect crop, if a field is left,"), -10, 1, "in 1")
"""Under nothing where it then costs the others more than it brings."""
MONEY = Limit(mark("A perfect crop of £{value:,g} a hectare"), 1, 100_000, "£/ha")
HOURS = Limit(mark("A half-day with {value:g} fit hours"), 0, 12, "h")
DISTANCE = Limit(mark("A rick {measure} away"), 0, 100, "km")
CARTS = Limit(mark("{value:g} carts"), 1, 50, "carts")
AREA = Limit(mark("{measure} to cut or to cart"), AREAS[0], AREAS[1], "ha")


def check(question):
    """Refuse what can't be planned, in one sentence."""
    _check_half_days(question)
    _check_numbers(question)
    for called, names in {
        mark("The field {name} stands twice."): [f.name for f in question.fields],
        mark("The stooks of {name} stand twice."): [s.field for s in question.stooks],
        mark("{name} is named twice among the people."): [
            p.name for p in question.people
        ],
        mark("{name} is named twice among the binders."): [
            b.name for b in question.binders
        ],
    }.items():
        _check_once(called, names)
    for person in question.people:
        for task in set(person.may) - set(TASKS):
            raise OutOfRange(
                "{name} may do {task}; it should be among {tasks}.",
                name=person.name,
                task=repr(task),
                tasks=listed(TASKS),
            )
    said = [
        *((p.name, each) for p in question.people for each in p.away),
        *((b.name, each) for b in question.binders for each in b.broken),
        *((say("A shower"), each) for each in question.showers),
    ]
    for name, each in said:
        if not _is_day_or_half(each):
            raise OutOfRange(
                "{name}: {said} should be a day, or a half-day such as "
                "2026-08-06 morning.",
                name=name,
                said=repr(each),
            )


def _check_half_days(question):
    names = [half.name for half in question.half_days]
    for half in question.half_days:
        if half.half not in HALVES:
            raise OutOfRange(
                "A half-day is {half}; it should be morning or afternoon.",
                half=repr(half.half),
            )
    ordered = sorted(
        question.half_days, key=lambda each: (each.day, HALVES.index(each.half))
    )
    if not names or len(names) > MOST_HALF_DAYS:
        raise OutOfRange(
            "{n} half-days were given; it should be from 1 to {most}.",
            n=len(names),
            most=MOST_HALF_DAYS,
        )
    if list(question.half_days) != ordered or len(set(names)) < len(names):
        raise OutOfRange("The half-days should each be given once, the earliest first.")


def _check_numbers(question):
    for limit, number in _numbers(question):
        if number is not None:
            limit.check(number)
    for many in (question.fields, question.stooks, question.people, question.binders):
        if len(many) > MOST_OF_ALL:
            raise OutOfRange(
                "{n} fields, people or machines of a kind are more than can be "
                "planned; it should be {most} at the most.",
                n=len(many),
                most=MOST_OF_ALL,
            )


def _numbers(question):
    """Each number given, with its `Limit`."""
    yield DISTANCE, question.distance_km
    yield CARTS, question.carts
    for half in question.half_days:
        yield from ((CHANCE, half.dry_chance), (HOURS, half.fit_hours))
    for each in (*question.fields, *question.stooks):
        yield from ((AREA, each.area_ha), (MONEY, each.perfect_gbp_per_ha))
    for field in question.fields:
        yield from ((WORTH, worth) for worth in (*field.worth.values(), field.waiting))
        yield LEFT, field.if_left
    for stooked in question.stooks:
        chances = (*stooked.fit_chance.values(), *stooked.rain_chance.values())
        yield from ((CHANCE, chance) for chance in chances)


def _check_once(called, names):
    for name in names:
        if names.count(name) > 1:
            raise OutOfRange(called, name=name)


def _is_day_or_half(said):
    day, _, half = said.partition(" ")
    try:
        datetime.date.fromisoformat(day)
    except ValueError:
        return False
    return half in ("", *HALVES)
