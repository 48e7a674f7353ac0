"""What the drum is given, and what it gives."""

import dataclasses
import uuid
from collections import Counter

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.models import Line, Lot, Movement, Place, Threshing
from sheafwright.records.selectors.heat import heat_by
from sheafwright.records.selectors.origin import origin_of
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.checks import happened, refuse
from sheafwright.records.services.entry import entry_write, writing
from sheafwright.records.services.made import lot_made
from sheafwright.records.services.weights import (
    all_of,
    moisture,
    ours,
    taken,
    there,
    weighed,
)

WASTE = Place.Kind.WASTE.value


@dataclasses.dataclass(frozen=True)
class Outturn:
    """One thing the drum gave: a lot, or the waste."""

    kind: str
    """A kind of lot, or ``waste``."""
    kg: float
    code: str = ""
    """The lot's own; waste has none."""
    moisture_pct: float | None = None
    grade: str = ""
    length_cm: float | None = None
    bundles: int | None = None


def threshing_record(
    *,
    id,
    holding,
    made_by,
    date,
    rick=None,
    stook_set=None,
    kg=None,
    combed=True,
    smelt_of_fish=False,
    fire_service="",
    outturn=(),
    note="",
):
    """Write down a run of the drum; all that was left was threshed, if not said."""
    source = _source(rick, stook_set)
    ours(holding, source)
    since = rick.built if rick else stook_set.cut.date
    happened(holding, date, since, _("it was cut or ricked"))
    asked = None if kg is None else weighed(kg)
    weights = [weighed(each.kg) for each in outturn]
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        threshing, is_new = entry_write(
            Threshing,
            id=id,
            date=date,
            rick=rick,
            stook_set=stook_set,
            combed=combed,
            smelt_of_fish=smelt_of_fish,
            fire_service=fire_service,
            note=note,
            **who,
        )
        if is_new:
            _fire_service_spoken_of(threshing)
            _write(threshing, asked, _given(threshing, outturn, weights))
        else:
            _said_the_same(threshing, asked, outturn, weights)
    return threshing


def _source(rick, stook_set):
    if (rick is None) == (stook_set is None):
        raise ValidationError(
            _("Say the rick or the stooks that were threshed, and only one of them.")
        )
    return rick or stook_set


def _fire_service_spoken_of(threshing):
    """Of a hot rick it is said whether the fire service was asked before it was opened.

    Whoever is about to open it is stopped once and told to ring. But what was done was
    done: a rick opened without asking is written down, too, as just that. A record that
    could not be written would help nobody, and a box that must be ticked as "asked"
    would only teach people to say what is not so.
    """
    rick = threshing.rick
    if rick is None or threshing.fire_service:
        return
    heat = heat_by(rick=rick, day=threshing.date)
    if heat.fire_service_first:
        refuse(
            "fire_service",
            _(
                "%(rick)s was at %(heat).0f °C: ring the fire service before anyone "
                "opens it. Then say here whether they were asked."
            )
            % {"rick": rick, "heat": heat.hottest},
        )


def _store(threshing):
    kind = Place.Kind.RICK if threshing.rick_id else Place.Kind.STOOKS
    subject = threshing.rick_id or threshing.stook_set_id
    return place_of(holding=threshing.holding, kind=kind, subject=subject)


def _drum(threshing):
    return place_of(
        holding=threshing.holding, kind=Place.Kind.DRUM, subject=threshing.pk
    )


def _given(threshing, outturn, weights):
    """A step for each thing that the drum gave."""
    origin = origin_of(_store(threshing), threshing.date)
    return [
        Step(
            place_of(holding=threshing.holding, kind=Place.Kind.WASTE)
            if each.kind == WASTE
            else _lot_place(threshing, each, origin),
            amount,
            moisture(each.moisture_pct),
        )
        for each, amount in zip(outturn, weights, strict=True)
    ]


def _lot_place(threshing, outturn, origin):
    return lot_made(
        by=threshing,
        code=outturn.code,
        kind=outturn.kind,
        variety=origin.variety,
        harvest_year=origin.harvest_year,
        grade=outturn.grade,
        length_cm=outturn.length_cm,
        bundles=outturn.bundles,
        set_apart=threshing.smelt_of_fish,
    )


def _write(threshing, asked, given):
    """Two movements: to the drum what was threshed, and from it what it gave.

    What the drum shows above what was there comes from what was grown. What it does
    not show is waste; if the waste was weighed as well, it is unexplained.
    """
    store, drum = _store(threshing), _drum(threshing)
    shown = sum(step.grams for step in given)
    amount = max(shown, asked or (there(store) if shown else all_of(store)))
    said = {
        "holding": threshing.holding,
        "made_by": threshing.made_by,
        "kind": Movement.Kind.THRESH,
        "date": threshing.date,
        "subject": threshing.pk,
    }
    movement_write(
        id=_to_drum(threshing),
        steps=[*taken(store, amount, estimated=True), Step(drum, amount)],
        **said,
    )
    rest = _rest(threshing, amount - shown, given)
    movement_write(
        id=threshing.pk, steps=[Step(drum, -amount), *_merged(given), *rest], **said
    )


def _to_drum(threshing):
    return uuid.uuid5(threshing.pk, "to the drum")


def _rest(threshing, left, given):
    kinds = {step.place.kind for step in given}
    kind = Place.Kind.UNEXPLAINED if WASTE in kinds else Place.Kind.WASTE
    place = place_of(holding=threshing.holding, kind=kind)
    return [Step(place, left, estimated=True)] if left else []


def _merged(given):
    """One step a place, for waste that was weighed in several heaps."""
    merged = {}
    for step in given:
        before = merged.get(step.place.pk)
        more = before.grams if before else 0
        merged[step.place.pk] = dataclasses.replace(step, grams=step.grams + more)
    return list(merged.values())


def _said_the_same(threshing, asked, outturn, weights):
    said = Counter()
    for each, amount in zip(outturn, weights, strict=True):
        said[WASTE if each.kind == WASTE else each.code] += amount
    written = Counter()
    lines = Line.objects.filter(movement_id=threshing.pk).select_related("place")
    codes = dict(
        Lot.objects.filter(pk__in=[line.place.subject for line in lines]).values_list(
            "pk", "code"
        )
    )
    for line in lines:
        written[codes.get(line.place.subject, line.place.kind)] += line.grams
    drum = -written.pop(Place.Kind.DRUM)
    written.pop(Place.Kind.UNEXPLAINED, None)
    if WASTE not in said:
        written.pop(WASTE, None)
    if said != written or (asked and drum != max(asked, said.total())):
        raise SaidOtherwise(
            "This threshing was already written, and said otherwise; undo it and "
            "write a new one."
        )
