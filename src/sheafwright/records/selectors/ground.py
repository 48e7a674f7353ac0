"""Fields, with what grows on them now and how they are farmed."""

import dataclasses

from django.db.models import OuterRef, Prefetch, Subquery
from django.http import Http404

from sheafwright.records.clock import today
from sheafwright.records.models import Field, FieldStatus, Sowing


@dataclasses.dataclass(frozen=True)
class FieldNow:
    field: Field
    sowings: tuple[Sowing, ...]
    """Of the latest harvest that it was sown for."""
    status: FieldStatus | None
    """How it is farmed now, if that was ever said."""


def fields_now(*, holding):
    """Every field with its last harvest's sowings, and how it is farmed."""
    of_it = Sowing.objects.filter(field=OuterRef("field")).order_by("-harvest_year")
    latest = Sowing.objects.select_related("seed_lot").filter(
        harvest_year=Subquery(of_it.values("harvest_year")[:1])
    )
    fields = Field.objects.filter(holding=holding)
    fields = fields.prefetch_related("statuses", Prefetch("sowings", latest))
    return tuple(_now(field, today(holding)) for field in fields)


def field_now(*, holding, id):
    field = fields_of(holding=holding).filter(pk=id).first()
    if field is None:
        raise Http404
    return _now(field, today(holding))


def fields_of(*, holding):
    """Fields with all that was ever said of them, by name."""
    return (
        Field.objects.filter(holding=holding)
        .select_related("holding")
        .prefetch_related("statuses", "leys", "past_crops", "inputs", _sowings())
    )


def status_on(field, date):
    """How a field was farmed on a day: the last status that had begun by then."""
    begun = [status for status in field.statuses.all() if status.since <= date]
    return max(begun, key=lambda status: (status.since, status.made_at), default=None)


def _sowings():
    said = Sowing.objects.select_related("seed_lot").prefetch_related("observations")
    return Prefetch("sowings", said)


def _now(field, day):
    sown = field.sowings.all()
    last = max((sowing.harvest_year for sowing in sown), default=None)
    return FieldNow(
        field,
        tuple(sowing for sowing in sown if sowing.harvest_year == last),
        status_on(field, day),
    )
