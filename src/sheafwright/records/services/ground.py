"""Fields, how they are farmed, what grew there and what was put on."""

from django.utils.translation import gettext as _

from sheafwright.records.clock import today
from sheafwright.records.models import (
    Field,
    FieldStatus,
    InputApplied,
    Ley,
    PastCrop,
)
from sheafwright.records.services.checks import in_order, not_ahead, refuse
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add


def field_create(
    *, id, holding, made_by, name, area_ha=None, outline_file=None, **said
):
    """A field, its area typed or taken from its outline.

    Parameters
    ----------
    outline_file : bytes, optional
        GeoJSON or KML. A typed area stands beside it: headlands may not be sown.
    """
    drawn = _drawn(outline_file) if outline_file else None
    if drawn and area_ha is None:
        area_ha = round(drawn.area, 3)
    return entry_add(
        Field,
        id=id,
        holding=holding,
        made_by=made_by,
        name=name,
        area_ha=area_ha,
        outline=_geometry(drawn) if drawn else None,
        **said,
    )


def field_correct(
    *, id, holding, made_by, field, why, outline_file=None, note="", **said
):
    """Put a field's name, area, outline, soil or aspect right.

    A new outline changes no area by itself: headlands may not be sown.
    """
    if outline_file:
        said["outline"] = _geometry(_drawn(outline_file))
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        field=field,
        now=said,
        why=why,
        note=note,
    )


def field_status_add(*, holding, since, **said):
    not_ahead(holding, since, "since")
    return entry_add(FieldStatus, holding=holding, since=since, **said)


def ley_add(*, holding, sown=None, ploughed=None, **said):
    not_ahead(holding, sown, "sown")
    not_ahead(holding, ploughed, "ploughed")
    in_order(sown, ploughed, _("it was sown"), "ploughed")
    return entry_add(Ley, holding=holding, sown=sown, ploughed=ploughed, **said)


def past_crop_add(*, holding, field, harvest_year, **said):
    """What a field bore before the record, or that was not sown from it."""
    last = today(holding).year
    if harvest_year > last:
        refuse("harvest_year", _("That harvest is still to come."))
    if field.sowings.filter(harvest_year=harvest_year).exists():
        refuse("harvest_year", _("A sowing is written down for that harvest already."))
    return entry_add(
        PastCrop, holding=holding, field=field, harvest_year=harvest_year, **said
    )


def input_apply(*, holding, date, **said):
    not_ahead(holding, date)
    return entry_add(InputApplied, holding=holding, date=date, **said)


def _drawn(content):
    # Imported late: only a field with an outline needs geodesics.
    from sheafwright.feeds.outline import read_outline

    return read_outline(content)


def _geometry(drawn):
    return {
        "type": "MultiPolygon",
        "coordinates": [[ring.tolist() for ring in rings] for rings in drawn.polygons],
    }
