"""Facts that were put right, a line a fact, as a reader wants them."""

import dataclasses
import datetime

from django.utils.translation import gettext as _

from sheafwright.feeds.telling import first_sentence
from sheafwright.feeds.units import show
from sheafwright.records.models import Correction
from sheafwright.records.papers.roof_facts import answer_of

QUANTITIES = {"_ha": "area", "_kg": "mass", "_m": "distance"}
"""How a fact's name ends, to what it measures."""


@dataclasses.dataclass(frozen=True)
class PutRight:
    """One fact of one thing."""

    date: datetime.date
    thing: str
    fact: str
    was: str
    now: str
    why: str
    by: str


def corrections_of(*, holding, units, begins=None, ends=None, **which):
    """What was put right in a period, or of a thing, in the order it was written.

    What somebody asked for is told with it alone: no inspector asks after buyers.
    """
    found = Correction.objects.filter(holding=holding, **which).select_related()
    if not which:
        found = found.filter(enquiry=None)
    if begins and ends:
        found = found.filter(date__range=(begins, ends))
    return tuple(_told(each, name, units) for each in found for name in each.now)


def _told(correction, name, units):
    field = correction.thing._meta.get_field(name)
    return PutRight(
        date=correction.date,
        thing=str(correction.thing),
        fact=str(field.verbose_name),
        was=_said(field, correction.was[name], units),
        now=_said(field, correction.now[name], units),
        why=correction.why,
        by=correction.made_by.name,
    )


def _size(plan):
    """How large a roof is, as it is told where it is drawn."""
    return first_sentence(answer_of(plan).sentence)[0]


def _said(field, value, units):
    if value in (None, "", {}):
        return _("nothing")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    for ends, quantity in QUANTITIES.items():
        if field.name.endswith(ends):
            return show(value, quantity, units)
    if field.related_model:
        return str(field.related_model.objects.filter(pk=value).first())
    if isinstance(value, dict):
        is_roof = field.name == "roof_plan"
        return _size(value) if is_roof else _("an outline")
    return str(dict(field.flatchoices).get(value, value))
