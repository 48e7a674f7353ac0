import uuid

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.question import STAGES
from sheafwright.answers.wording import STAGE_NAMES
from sheafwright.feeds.telling import say
from sheafwright.records import wording
from sheafwright.records.clock import today
from sheafwright.records.selectors.prospects import crops_with_prospects
from sheafwright.web.access import for_right
from sheafwright.web.prospects import prospect_told
from sheafwright.web.sheets import (
    Action,
    Quick,
    Section,
    Sheet,
    first_sentences,
    sheet,
    write_action,
)
from sheafwright.web.years import years_of

TOLD = 2
"""Sentences of an outlook that stand open: what to do, and what that is worth."""


@for_right(Right.SEE_WORK)
def growing(request):
    holding = request.membership.holding
    told = crops_with_prospects(holding=holding)
    crops = [crop for crop, _prospect in told]
    years = years_of(holding.slug, [crop.sowing for crop in crops])
    return sheet(
        request,
        Sheet(
            title=_("Growing"),
            answer=wording.growing_headline(crops),
            sections=(
                *(
                    _crop(request, crop, years[crop.sowing.pk], prospect)
                    for crop, prospect in told
                ),
                *([] if crops else [Section(actions=write_action(request, "sowing"))]),
                _rest(request),
            ),
        ),
    )


def _crop(request, crop, year, prospect):
    said, rest = first_sentences(crop.sentence, TOLD) if crop.sentence else ("", "")
    return Section(
        heading=str(crop.sowing.field),
        sentence=said or wording.being_worked_out(),
        year=year,
        quick=_seen(request, crop.sowing),
        actions=(
            *write_action(request, "observation", sowing=crop.sowing.pk),
            *write_action(request, "plant-count", sowing=crop.sowing.pk),
            *write_action(request, "weed-walk", sowing=crop.sowing.pk),
            *write_action(request, "expect", sowing=crop.sowing.pk),
        ),
        working=tuple(crop.said.get("working", ())),
        made_at=crop.answer and crop.answer.made_at,
        **prospect_told(request, prospect, rest),
    )


def _seen(request, sowing):
    """A stage seen, in two taps."""
    holding = request.membership.holding
    if not request.membership.may(Right.DO_WORK):
        return None
    seen = {each.stage for each in sowing.observations.all()}
    last = max((n for n, stage in enumerate(STAGES) if stage in seen), default=-1)
    return Quick(
        summary=_("I have seen today…"),
        url=reverse("web:write", args=[holding.slug, "observation"]),
        hidden={
            "id": uuid.uuid4(),
            "sowing": sowing.pk,
            "date": today(holding).isoformat(),
        },
        name="stage",
        choices=tuple((s, say(STAGE_NAMES[s])) for s in list(STAGES)[last + 1 :]),
    )


def _rest(request):
    almanac = reverse("web:almanac", args=[request.membership.holding.slug])
    return Section(
        heading=_("The weather here"),
        actions=(
            *write_action(request, "gauge"),
            Action(_("The season almanac, to print"), almanac),
        ),
    )
