"""The material book as it reads: each entry, from where to where."""

import dataclasses

from django.db.models import Prefetch, Q

from sheafwright.records.models import Line, Movement
from sheafwright.records.selectors.places import name_of, subjects_of


@dataclasses.dataclass(frozen=True)
class MovementSaid:
    movement: Movement
    taken_from: str
    given_to: str
    grams: int
    """That it moved."""
    is_undone: bool


def movements_of(*, holding, begins, ends, most):
    """So many entries of a period, the last first."""
    found = list(
        Movement.objects.filter(holding=holding, date__range=(begins, ends))
        .annotate(is_reversed=Q(reversed_by__isnull=False))
        .prefetch_related(Prefetch("lines", Line.objects.select_related("place")))
        .order_by("-seq")[:most]
    )
    lines = [line for movement in found for line in movement.lines.all()]
    subjects = subjects_of({line.place.pk: line.place for line in lines}.values())
    return [_said(movement, subjects) for movement in found]


def _said(movement, subjects):
    lines = movement.lines.all()
    gifts = [line for line in lines if line.grams > 0]
    return MovementSaid(
        movement=movement,
        taken_from=_names((x for x in lines if x.grams < 0), subjects),
        given_to=_names(gifts, subjects),
        grams=sum(line.grams for line in gifts),
        is_undone=movement.is_reversed or movement.reverses_id is not None,
    )


def _names(lines, subjects):
    names = (name_of(line.place, subjects[line.place_id]) for line in lines)
    return ", ".join(dict.fromkeys(names))
