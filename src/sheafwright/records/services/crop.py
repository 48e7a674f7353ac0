"""The crop as it is sown, seen, walked and metered."""

from django.db.models import Sum
from django.utils.translation import gettext as _

from sheafwright.answers.question import STAGES
from sheafwright.feeds.crop import sign_ladders, variety_classes
from sheafwright.records.models import (
    MeterReading,
    Observation,
    PlantCount,
    Sowing,
    WeedWalk,
)
from sheafwright.records.photos import photo_kept
from sheafwright.records.selectors.crop import seen_stages
from sheafwright.records.services.checks import (
    happened,
    happened_at,
    in_order,
    not_ahead,
    refuse,
    says_something,
)
from sheafwright.records.services.entry import entry_add, entry_write, writing

MOST_PLACES = 100
"""Nobody counts in more."""
PACED_OUT = 1.05
"""A field paced out may come this much larger than the map has it."""


def sowing_record(
    *,
    id,
    holding,
    made_by,
    field,
    date,
    harvest_year,
    area_ha,
    variety_class="",
    **said,
):
    not_ahead(holding, date)
    if harvest_year not in (date.year, date.year + 1):
        refuse(
            "harvest_year",
            _("Wheat sown in %(sown)d is cut that year or the next.")
            % {"sown": date.year},
        )
    if variety_class and variety_class not in variety_classes():
        refuse("variety_class", _one_of(variety_class, variety_classes()))
    with writing(holding):
        _check_area(id, field, harvest_year, area_ha)
        sowing, _new = entry_write(
            Sowing,
            id=id,
            holding=holding,
            made_by=made_by,
            field=field,
            date=date,
            harvest_year=harvest_year,
            area_ha=area_ha,
            variety_class=variety_class,
            **said,
        )
    return sowing


def observation_record(
    *, id, holding, made_by, sowing, date, stage="", signs=None, photo=None, **said
):
    """Write down what was seen of a crop.

    Parameters
    ----------
    photo : file, optional
        As it was sent; it is kept only if it is a photograph.
    """
    happened(holding, date, sowing.date, _("it was sown"))
    signs = signs or {}
    says_something("stage", stage, signs, photo, *said.values())
    _check_signs(signs)
    with photo_kept(id, photo) as name, writing(holding):
        if stage:
            _check_stage(id, sowing, stage, date)
        seen, _new = entry_write(
            Observation,
            id=id,
            holding=holding,
            made_by=made_by,
            sowing=sowing,
            date=date,
            stage=stage,
            signs=signs,
            photo=name,
            **said,
        )
    return seen


def plant_count_record(*, holding, sowing, date, counts, **said):
    happened(holding, date, sowing.date, _("it was sown"))
    if (
        not counts
        or len(counts) > MOST_PLACES
        or not all(0 <= n <= 5000 for n in counts)
    ):
        refuse(
            "counts",
            _("Counts should be from 1 to %(most)d whole numbers, none below 0.")
            % {"most": MOST_PLACES},
        )
    return entry_add(
        PlantCount, holding=holding, sowing=sowing, date=date, counts=counts, **said
    )


def weed_walk_record(*, holding, sowing, date, **said):
    happened(holding, date, sowing.date, _("it was sown"))
    return entry_add(WeedWalk, holding=holding, sowing=sowing, date=date, **said)


def meter_reading_record(
    *, holding, stook_set, at, grain_pct=None, straw_pct=None, **said
):
    happened_at(holding, at, stook_set.cut.date, _("it was cut"))
    says_something("grain_pct", grain_pct, straw_pct)
    return entry_add(
        MeterReading,
        holding=holding,
        stook_set=stook_set,
        at=at,
        grain_pct=grain_pct,
        straw_pct=straw_pct,
        **said,
    )


def _check_area(id, field, harvest_year, area_ha):
    others = field.sowings.filter(harvest_year=harvest_year).exclude(pk=id)
    sown = others.aggregate(sown=Sum("area_ha"))["sown"] or 0
    if sown + area_ha > PACED_OUT * field.area_ha:
        refuse(
            "area_ha",
            _(
                "%(sown).2f ha would be sown in %(field)s, which has %(whole).2f ha; "
                "sow no more than the field, or put the field's own area right."
            )
            % {"sown": sown + area_ha, "field": field, "whole": field.area_ha},
        )


def _check_stage(id, sowing, stage, date):
    if stage not in STAGES:
        refuse("stage", _one_of(stage, STAGES))
    order = list(STAGES)
    others = sowing.observations.exclude(pk=id)
    for other, seen in seen_stages(others).items():
        if order.index(other) < order.index(stage):
            in_order(seen, date, _("%(stage)s was seen") % {"stage": other})
        if order.index(other) > order.index(stage) and date > seen:
            refuse(
                "date",
                _("%(stage)s comes before %(other)s, which was seen on %(seen)s.")
                % {"stage": stage, "other": other, "seen": seen},
            )


def _check_signs(signs):
    ladders = sign_ladders()
    for kind, level in signs.items():
        if kind not in ladders:
            refuse("signs", _one_of(kind, ladders))
        if level not in ladders[kind].levels:
            refuse("signs", _one_of(level, ladders[kind].levels))


def _one_of(said, known):
    return _("%(said)s is not known here; it should be one of %(known)s.") % {
        "said": said,
        "known": ", ".join(known),
    }
