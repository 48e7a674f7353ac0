"""Sheaves counted after the cut, when there is time."""

from django.utils.translation import gettext as _

from sheafwright.feeds import sheaves as feed
from sheafwright.records.models import Movement, Place
from sheafwright.records.services.book import place_of
from sheafwright.records.services.checks import happened
from sheafwright.records.services.entry import writing
from sheafwright.records.services.weights import hold, ours, weighed


def sheaves_count(
    *, id, holding, made_by, stook_set, date, sheaves, kg_per_sheaf=None, note=""
):
    """Put the guess of what stands in the stooks right by the sheaves counted there."""
    ours(holding, stook_set)
    happened(holding, date, stook_set.cut.date, _("it was cut"))
    amount = weighed(sheaves * (kg_per_sheaf or feed.sheaves().kg_per_sheaf))
    with writing(holding):
        return hold(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=Movement.Kind.ADJUST,
            date=date,
            place=place_of(
                holding=holding, kind=Place.Kind.STOOKS, subject=stook_set.pk
            ),
            amount=amount,
            estimated=True,
            note=note,
        )
