"""What is weighed or guessed, said in steps that the book can take."""

import decimal

from django.db.models import Sum

from sheafwright.core.errors import OutOfRange
from sheafwright.records.errors import (
    NothingChanges,
    NotOurs,
    SaidOtherwise,
    TooLittleThere,
)
from sheafwright.records.models import Balance, Line, Movement, Place
from sheafwright.records.services.book import Step, grams, movement_write, place_of

GUESSED = (Place.Kind.STANDING, Place.Kind.STOOKS, Place.Kind.RICK)
"""Places whose contents nobody weighs: the farm may show more than the guess."""
IN_HAND = (*GUESSED, Place.Kind.LOT, Place.Kind.MILL)
"""Places whose contents are still the holding's."""
MOST_KG = 10_000_000


def weighed(kg, *, least=1):
    """Whole grams of a weight that somebody gave."""
    try:
        said = grams(kg)
    except (decimal.InvalidOperation, ValueError, OverflowError):
        said = -1
    if not least <= said <= MOST_KG * 1000:
        raise OutOfRange(
            f"{kg} is no weight to write down; it should be a number of kilograms "
            f"from {least / 1000:g} to {MOST_KG:,}."
        )
    return said


def moisture(pct):
    """A moisture as the book keeps it, or None. [%]"""
    if pct is None:
        return None
    try:
        kept = decimal.Decimal(str(pct)).quantize(decimal.Decimal("0.1"))
    except decimal.InvalidOperation:
        kept = decimal.Decimal(-1)
    if not 0 <= kept < 100:
        raise OutOfRange(f"A moisture of {pct}% cannot be; it should be 0 to 99.9.")
    return kept


def ours(holding, *things):
    """Refuse what is another holding's."""
    for thing in things:
        if thing.holding_id != holding.pk:
            name = type(thing)._meta.verbose_name
            raise NotOurs(f"There is no such {name} on this holding.")


def there(place):
    """What is in a place now. [g]"""
    return Balance.objects.values_list("grams", flat=True).get(place=place)


def all_of(place):
    """What is in a place now, if there is anything. [g]"""
    left = there(place)
    if left <= 0:
        raise TooLittleThere(
            f"Nothing is left in the {place}; say how many kilograms there were."
        )
    return left


def taken(place, amount, *, moisture_pct=None, estimated=False):
    """Steps that take an amount; more than was guessed comes from what was grown."""
    had = min(amount, there(place)) if place.kind in GUESSED else amount
    steps = [Step(place, -had, moisture_pct, estimated)] if had else []
    if more := amount - had:
        grown = place_of(holding=place.holding, kind=Place.Kind.GROWN)
        steps.append(Step(grown, -more, moisture_pct, estimated))
    return steps


def hold(*, id, holding, made_by, kind, date, place, amount, estimated=False, note=""):
    """Move what is more or less than guessed, so that a place holds an amount."""
    written = written_before(
        id=id, holding=holding, kind=kind, date=date, leaves=(place, amount)
    )
    if written:
        return written
    more = amount - there(place)
    if more == 0:
        raise NothingChanges(
            f"The {place} holds {amount / 1000:,.1f} kg in the book already."
        )
    grown = place_of(holding=holding, kind=Place.Kind.GROWN)
    steps = [
        Step(place, more, estimated=estimated),
        Step(grown, -more, estimated=estimated),
    ]
    return movement_write(
        id=id,
        holding=holding,
        made_by=made_by,
        kind=kind,
        date=date,
        steps=steps,
        note=note,
    )


def written_before(*, id, holding, kind, date, gives=None, leaves=None):
    """The movement of this id, if it was written and said the same.

    What it took depends on what was there then, so only what was asked for is
    compared: a place and what it gave to it, or a place and what it left in it.
    """
    written = Movement.objects.filter(pk=id).first()
    if written is None:
        return None
    same = (written.holding_id, written.kind, written.date) == (holding.pk, kind, date)
    if gives:
        same &= written.lines.filter(place=gives[0], grams=gives[1]).exists()
    if leaves:
        same &= _left(written, leaves[0]) == leaves[1]
    if not same:
        raise SaidOtherwise(
            f"Movement {written.seq} was already written, and said otherwise; undo it "
            "by its reverse and write a new one."
        )
    return written


def _left(written, place):
    until = Line.objects.filter(place=place, movement__seq__lte=written.seq)
    return until.aggregate(left=Sum("grams"))["left"]
