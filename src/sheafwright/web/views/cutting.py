from django.shortcuts import render

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.selectors.cutting import crops_standing, replayed
from sheafwright.web.access import for_right
from sheafwright.web.crew import crew_sections, turns_told
from sheafwright.web.sheets import first_sentences

TOLD = 3
"""Sentences above the picture: what to do, what that is worth, and the best day."""


@for_right(Right.SEE_WORK)
def cutting(request):
    crops = crops_standing(holding=request.membership.holding)
    now = [crop.sowing.field for crop in crops if crop.action == "cut"]
    shown = next((crop for crop in crops if len(crop.days) > 1), None)
    left_head, left = turns_told(request.membership.holding, crops)
    past = replayed(holding=request.membership.holding) if crops else None
    context = {
        "past": past,
        "past_said": wording.replayed(past.said) if past else "",
        "crops": [(crop, left.get(crop.sowing.pk, "")) for crop in crops],
        "left_head": left_head,
        "shown": shown,
        **_said(shown),
        "crew": crew_sections(request),
        "headline": wording.cutting_headline(now, crops),
    }
    return render(request, "web/cutting.html", context)


def _said(crop):
    """What is said above the picture of a crop, and below it."""
    said = crop.sentence if crop else ""
    above, below = first_sentences(said, TOLD) if said else ("", "")
    return {"above": above, "below": below}
