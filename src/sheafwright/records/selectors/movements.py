"""The material book as it reads: each entry, from where to where."""

import dataclasses

from sheafwright.records.models import Movement
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
        .select_related("reversed_by", "reverses")
        .prefetch_related("lines__place")
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
        is_undone=hasattr(movement, "reversed_by") or movement.reverses_id is not None,
    )


def _names(lines, subjects):
    names = (name_of(line.place, subjects[line.place_id]) for line in lines)
    return ", ".join(dict.fromkeys(names))
