"""From the standing crop to the rick."""

import uuid

from django.db.models import Sum
from django.utils.translation import gettext as _

from sheafwright.feeds import sheaves as feed
from sheafwright.records.models import Cut, Movement, Place, StookSet
from sheafwright.records.selectors.undone import not_undone
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.checks import happened
from sheafwright.records.services.entry import entry_write, writing
from sheafwright.records.services.weights import (
    all_of,
    hold,
    moisture,
    ours,
    taken,
    there,
    weighed,
    written_before,
)

SMALLEST_PLOT_HA = 0.001


def crop_expect(*, id, holding, made_by, sowing, date, kg, note=""):
    """Say what the standing crop is expected to weigh, straw and ears together."""
    ours(holding, sowing)
    happened(holding, date, sowing.date, _("it was sown"))
    amount = weighed(kg, least=0)
    with writing(holding):
        return hold(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=Movement.Kind.GROW,
            date=date,
            place=_place(holding, Place.Kind.STANDING, sowing),
            amount=amount,
            estimated=True,
            note=note,
        )


def cut_record(
    *,
    id,
    holding,
    made_by,
    sowing,
    date,
    area_ha,
    sheaves=None,
    kg_per_sheaf=None,
    stooks=None,
    sheaves_each=None,
    contractor=None,
    note="",
):
    """Write down a block cut and stooked, by what was counted of it."""
    ours(holding, sowing)
    happened(holding, date, sowing.date, _("it was sown"))
    amount = weighed(_guessed_kg(area_ha, sheaves, kg_per_sheaf, stooks, sheaves_each))
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        cut, is_new = entry_write(
            Cut,
            id=id,
            sowing=sowing,
            date=date,
            area_ha=area_ha,
            sheaves=sheaves,
            contractor=contractor,
            note=note,
            **who,
        )
        stook_set = entry_write(
            StookSet,
            id=uuid.uuid5(id, "stooks"),
            cut=cut,
            stooks=stooks,
            sheaves_each=sheaves_each,
            **who,
        )[0]
        place = _place(holding, Place.Kind.STOOKS, stook_set)
        said = {"id": id, "kind": Movement.Kind.CUT, "date": date}
        if is_new:
            steps = _cut_steps(cut, place, amount)
            movement_write(**said, **who, subject=cut.pk, steps=steps)
        else:
            written_before(**said, holding=holding, gives=(place, amount))
    return cut


def carting_record(
    *,
    id,
    holding,
    made_by,
    stook_set,
    rick,
    date,
    kg=None,
    moisture_pct=None,
    note="",
):
    """Carry so much from a set of stooks to a rick; all that is left, if not said."""
    ours(holding, stook_set, rick)
    happened(holding, date, stook_set.cut.date, _("it was cut"))
    amount = None if kg is None else weighed(kg)
    damp = moisture(moisture_pct)
    said = {"id": id, "holding": holding, "kind": Movement.Kind.CART, "date": date}
    with writing(holding):
        stooks = _place(holding, Place.Kind.STOOKS, stook_set)
        stack = _place(holding, Place.Kind.RICK, rick)
        asked = {"leaves": (stooks, 0)} if kg is None else {"gives": (stack, amount)}
        if written := written_before(**said, **asked):
            return written
        amount = amount or all_of(stooks)
        how = {"moisture_pct": damp, "estimated": kg is None}
        steps = [*taken(stooks, amount, **how), Step(stack, amount, **how)]
        return movement_write(**said, made_by=made_by, steps=steps, note=note)


def _place(holding, kind, subject):
    return place_of(holding=holding, kind=kind, subject=subject.pk)


def _guessed_kg(area_ha, sheaves, kg_per_sheaf, stooks, sheaves_each):
    guess = feed.sheaves()
    if sheaves is None and stooks is None:
        return area_ha * guess.crop_kg_per_ha
    if sheaves is None:
        sheaves = stooks * (sheaves_each or guess.sheaves_per_stook)
    return sheaves * (kg_per_sheaf or guess.kg_per_sheaf)


def _cut_steps(cut, stooks, amount):
    """What is cut, from what stands; the last block takes all that was guessed.

    What the stooks show above the guess comes from what was grown, and what is left of
    the guess when nothing stands any more goes back there.
    """
    standing = _place(cut.holding, Place.Kind.STANDING, cut.sowing)
    grown = place_of(holding=cut.holding, kind=Place.Kind.GROWN)
    stood = there(standing)
    had = stood if _is_last(cut) else min(stood, amount)
    steps = (
        Step(standing, -had, estimated=True),
        Step(grown, had - amount, estimated=True),
        Step(stooks, amount, estimated=True),
    )
    return [step for step in steps if step.grams]


def _is_last(cut):
    blocks = not_undone(Cut.objects.filter(sowing=cut.sowing))
    area = blocks.aggregate(area=Sum("area_ha"))["area"]
    return area > cut.sowing.area_ha - SMALLEST_PLOT_HA
