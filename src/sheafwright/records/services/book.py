"""Writing in the material book. Everything that moves a kilogram comes through here."""

import dataclasses
import decimal
import uuid

from django.utils import timezone

from sheafwright.records.errors import SaidOtherwise, TooLittleThere
from sheafwright.records.models import Balance, Line, Movement, Place
from sheafwright.records.models.material import SOURCES
from sheafwright.records.seal import seal
from sheafwright.records.services.entry import writing


@dataclasses.dataclass(frozen=True)
class Step:
    """So many grams to a place; less than nothing from it."""

    place: Place
    grams: int
    moisture_pct: decimal.Decimal | None = None
    estimated: bool = False


def grams(kg):
    """Whole grams of so many kilograms."""
    return round(decimal.Decimal(str(kg)) * 1000)


def place_of(*, holding, kind, subject=None):
    """The place of this kind for a subject; opened if it is new."""
    place, _ = Place.objects.get_or_create(
        holding=holding, kind=kind, subject=subject or holding.pk
    )
    return place


def movement_write(
    *,
    id,
    holding,
    made_by,
    kind,
    date,
    steps,
    subject=None,
    reverses=None,
    note="",
):
    """Write a movement with its lines, or find it if it was written before.

    Raises
    ------
    TooLittleThere
        A place would go below nothing.
    SaidOtherwise
        It was written before with other lines.
    """
    with writing(holding):
        written = Movement.objects.filter(pk=id).first()
        if written is not None:
            return _same(written, holding, kind, date, steps)
        _enough(steps)
        seq, previous_seal = _last(holding)
        now = timezone.now()
        movement = Movement(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=kind,
            date=date,
            subject=subject,
            reverses=reverses,
            note=note,
            seq=seq + 1,
            made_at=now,
            said_at=now.isoformat(),
            previous_seal=previous_seal,
        )
        lines = [_line(movement, n, step) for n, step in enumerate(steps)]
        movement.seal = seal(movement, lines)
        # Gifts first, so that a place filled and emptied at once is never short; the
        # movement last, so that the database can see that its lines balance.
        Line.objects.bulk_create(sorted(lines, key=lambda line: -line.grams))
        movement.save(force_insert=True)
        return movement


def movement_reverse(*, id, holding, made_by, movement, date, note=""):
    """Undo a movement by its reverse."""
    steps = [
        Step(line.place, -line.grams, line.moisture_pct, line.estimated)
        for line in movement.lines.select_related("place")
    ]
    return movement_write(
        id=id,
        holding=holding,
        made_by=made_by,
        kind=Movement.Kind.REVERSE,
        date=date,
        steps=steps,
        subject=movement.subject,
        reverses=movement,
        note=note,
    )


def _last(holding):
    """Number and seal of the last movement in a holding's book."""
    written = Movement.objects.filter(holding=holding).order_by("-seq")
    return written.values_list("seq", "seal").first() or (0, "")


def _line(movement, number, step):
    return Line(
        id=uuid.uuid5(movement.id, str(number)),
        movement=movement,
        place=step.place,
        grams=step.grams,
        moisture_pct=step.moisture_pct,
        estimated=step.estimated,
    )


def _enough(steps):
    """Say it in words before the database refuses it."""
    moved = {}
    for step in steps:
        moved[step.place] = moved.get(step.place, 0) + step.grams
    giving = [p for p, by in moved.items() if by < 0 and p.kind not in SOURCES]
    balances = Balance.objects.filter(place__in=giving)
    held = dict(balances.values_list("place", "grams"))
    for place in giving:
        by, there = moved[place], held[place.pk]
        if there + by < 0:
            raise TooLittleThere(
                f"{-by / 1000:,.1f} kg would be taken from the {place}, where there "
                f"are {there / 1000:,.1f} kg; take no more than that."
            )


def _same(written, holding, kind, date, steps):
    said = sorted((step.place.pk, step.grams) for step in steps)
    lines = sorted(written.lines.values_list("place_id", "grams"))
    if (written.holding_id, written.kind, written.date, lines) != (
        holding.pk,
        kind,
        date,
        said,
    ):
        raise SaidOtherwise(
            f"Movement {written.seq} was already written, and said otherwise; undo it "
            "by its reverse and write a new one."
        )
    return written
