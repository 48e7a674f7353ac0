"""What may be asked of fields that wait their turn."""

from sheafwright.answers import wording
from sheafwright.answers.limits import Limit
from sheafwright.answers.question import AREAS
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import mark

MOST_FIELDS, MOST_DAYS = 60, 7
HANDS = Limit(mark("{value:g} hands"), 1, 100, mark("hands"))
BINDERS = Limit(mark("{value:g} binders"), 1, 20, mark("binders"))
CARTS = Limit(mark("{value:g} carts"), 1, 50, mark("carts"))
DISTANCE = Limit(mark("A rick {measure} away"), 0, 100, "km")
AREA = Limit(mark("{measure} to cut"), *AREAS, "ha")
LATEST = 14
"""Days from the last day known until a plan may begin. [d]"""


def check(question, as_of, first, until):
    """Refuse what can't be answered, in one sentence."""
    harvest = question.harvest
    _check_fields(harvest)
    for limit, number in (
        (HANDS, harvest.hands),
        (BINDERS, len(harvest.binders)),
        (CARTS, harvest.carts),
        (DISTANCE, harvest.distance_km),
        *((AREA, each.area_ha) for each in harvest.fields),
    ):
        if number is not None:
            limit.check(number)
    if not 0 <= (first - as_of).days <= LATEST:
        raise OutOfRange(
            "The plan begins on {first}; it should begin on {as_of}, the last day "
            "known, or at most {days} days later.",
            first=wording.date(first),
            as_of=wording.date(as_of),
            days=LATEST,
        )
    if not 0 <= (until - first).days < MOST_DAYS:
        raise OutOfRange(
            "The plan goes from {first} to {until}; it should be of 1 to {days} days.",
            first=wording.date(first),
            until=wording.date(until),
            days=MOST_DAYS,
        )


def _check_fields(harvest):
    names = [each.name for each in harvest.fields]
    if not 1 <= len(names) <= MOST_FIELDS:
        raise OutOfRange(
            "{n} fields were given; it should be from 1 to {most}.",
            n=len(names),
            most=MOST_FIELDS,
        )
    for name in names:
        if names.count(name) > 1:
            raise OutOfRange("The field {name} stands twice.", name=name)
