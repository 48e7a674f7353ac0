"""Lots sold, kept and lost; weights put right; entries undone."""

import uuid

from sheafwright.core.errors import OutOfRange
from sheafwright.records.errors import SetApart, StillNeeded, TooLittleThere
from sheafwright.records.models import Delivery, Loss, Lot, Movement, Place, Sale
from sheafwright.records.selectors.orders import order_now, reserved_of
from sheafwright.records.services.book import (
    Step,
    movement_reverse,
    movement_write,
    place_of,
)
from sheafwright.records.services.checks import not_ahead
from sheafwright.records.services.entry import entry_write, writing
from sheafwright.records.services.weights import (
    GUESSED,
    IN_HAND,
    hold,
    ours,
    taken,
    there,
    weighed,
    written_before,
)

WAYS = {
    "mill": (Place.Kind.MILL, Movement.Kind.MOVE),
    "seed": (Place.Kind.SEED, Movement.Kind.KEEP_SEED),
    "fed": (Place.Kind.FED, Movement.Kind.FEED),
    "owed": (Place.Kind.OWED, Movement.Kind.GIVE_BACK),
}
"""Where grain goes besides to a buyer, and what that is called in the book."""


def sale_record(**said):
    """Sell so much of a lot as is kept for nobody; what is said is as in `sell`."""
    return sell(order=None, **said)


def sell(
    *,
    order,
    id,
    holding,
    made_by,
    lot,
    date,
    kg,
    buyer_name,
    buyer=None,
    bundles=None,
    price=None,
    note="",
):
    """Sell so much of a lot as is not kept for others than the order that it fills."""
    ours(holding, lot)
    not_ahead(holding, date)
    amount = weighed(kg)
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        sale, is_new = entry_write(
            Sale,
            id=id,
            date=date,
            lot=lot,
            buyer_name=buyer_name,
            buyer=buyer,
            bundles=bundles,
            price=price,
            note=note,
            **who,
        )
        if is_new:
            may_leave(lot)
            _is_not_kept_for_others(order, lot, amount)
        movement_write(
            id=id,
            kind=Movement.Kind.SELL,
            date=date,
            subject=sale.pk,
            steps=_from_lot(lot, holding, Place.Kind.SOLD, sale.pk, amount),
            **who,
        )
    return sale


def loss_record(
    *, id, holding, made_by, date, by, counted_as, place, kg, sowing=None, note=""
):
    """Write off so much of what is in a place, by the name of the loss."""
    ours(holding, place)
    not_ahead(holding, date)
    if place.kind not in IN_HAND:
        raise OutOfRange(f"What is {place} has left; lose only what is in hand.")
    amount = weighed(kg)
    who = {"holding": holding, "made_by": made_by}
    said = {"id": id, "kind": Movement.Kind.LOSE, "date": date}
    with writing(holding):
        loss, is_new = entry_write(
            Loss,
            id=id,
            date=date,
            by=by,
            counted_as=counted_as,
            sowing=sowing,
            note=note,
            **who,
        )
        gone = place_of(holding=holding, kind=counted_as)
        if is_new:
            steps = [*taken(place, amount), Step(gone, amount)]
            movement_write(**said, **who, subject=loss.pk, steps=steps)
        else:
            written_before(**said, holding=holding, gives=(gone, amount))
    return loss


def weight_adjust(*, id, holding, made_by, place, kg, date, note=""):
    """Put the weight of what is in a place right, now that it was weighed."""
    ours(holding, place)
    not_ahead(holding, date)
    if place.kind not in (*GUESSED, Place.Kind.LOT):
        raise OutOfRange(
            f"What is {place} is not weighed again; weigh a crop, stooks, a rick or "
            "a lot."
        )
    amount = weighed(kg, least=0)
    with writing(holding):
        return hold(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=Movement.Kind.ADJUST,
            date=date,
            place=place,
            amount=amount,
            note=note,
        )


def grain_move(*, id, holding, made_by, lot, to, kg, date, note=""):
    """Take grain of a lot to the mill, for seed, to feed, or to the seed's owner."""
    ours(holding, lot)
    not_ahead(holding, date)
    if to not in WAYS:
        raise OutOfRange(f"Grain goes to {', '.join(WAYS)}; not to {to!r}.")
    amount = weighed(kg)
    place, kind = WAYS[to]
    with writing(holding):
        # Sent again after the lot was set apart, it is still what was done before.
        if to != "fed" and not Movement.objects.filter(pk=id).exists():
            may_leave(lot)
        return movement_write(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=kind,
            date=date,
            steps=_from_lot(lot, holding, place, lot.pk, amount),
            note=note,
        )


def entry_undo(*, id, holding, made_by, movement, date, note=""):
    """Undo what a movement wrote down, with whatever was written together with it."""
    ours(holding, movement)
    not_ahead(holding, date)
    with writing(holding):
        undone = Movement.objects.filter(pk=id).first()
        if undone is not None and undone.reverses_id == movement.pk:
            return undone
        _may_be_undone(movement)
        for each in _written_together(movement):
            reverse_id = id if each == movement else uuid.uuid5(id, str(each.pk))
            _reverse(each, id=reverse_id, made_by=made_by, date=date, note=note)
    return Movement.objects.get(pk=id)


def _lot_place(holding, lot):
    return place_of(holding=holding, kind=Place.Kind.LOT, subject=lot.pk)


def _from_lot(lot, holding, kind, subject, amount):
    to = place_of(holding=holding, kind=kind, subject=subject)
    return [Step(_lot_place(holding, lot), -amount), Step(to, amount)]


def may_leave(lot):
    """Refuse to let a lot go that is set apart."""
    # Asked of the book, for it may have been set apart since the page was made.
    if Lot.objects.filter(pk=lot.pk, set_apart=True).exists():
        raise SetApart(
            f"Lot {lot} is set apart and may not leave the holding; clear it first, "
            "with what was found, or write it off as a loss."
        )


def _is_not_kept_for_others(order, lot, amount):
    kept = {of: kg for of, kg in reserved_of(lot).items() if of != order}
    free = there(_lot_place(lot.holding, lot)) / 1000 - sum(kept.values())
    if kept and amount / 1000 > free + 0.0005:
        raise TooLittleThere(
            f"{amount / 1000:,.1f} kg would leave lot {lot}, of which all but "
            f"{max(free, 0):,.1f} kg are kept for others; let a reservation go first."
        )


def _may_be_undone(movement):
    if movement.kind == Movement.Kind.REVERSE:
        raise StillNeeded(
            f"Movement {movement.seq} is an undoing itself; write the entry anew."
        )
    if Movement.objects.filter(reverses=movement).exists():
        raise StillNeeded(f"Movement {movement.seq} is undone already.")
    _is_not_invoiced(movement)


def _is_not_invoiced(movement):
    """What was invoiced is credited first: else it is owed, and invoiced again."""
    delivery = Delivery.objects.filter(sale=movement.subject).first()
    for each in order_now(delivery.order).invoices if delivery else ():
        if str(delivery.pk) in each.deliveries and not each.credited:
            raise StillNeeded(
                f"Movement {movement.seq} was invoiced as {each.paper.code}; correct "
                "that by a credit note first."
            )


def _written_together(movement):
    """The movements of one entry that still hold, the last first."""
    if movement.subject is None:
        return [movement]
    together = Movement.objects.filter(
        holding=movement.holding, subject=movement.subject, reversed_by=None
    )
    return list(together.exclude(kind=Movement.Kind.REVERSE).order_by("-seq"))


def _reverse(movement, *, id, made_by, date, note):
    try:
        movement_reverse(
            id=id,
            holding=movement.holding,
            made_by=made_by,
            movement=movement,
            date=date,
            note=note,
        )
    except TooLittleThere as short:
        raise StillNeeded(
            f"Movement {movement.seq} cannot be undone: what it gave has gone further "
            "since; undo that first."
        ) from short
