from django.shortcuts import render

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.models import Field, WeatherSource
from sheafwright.records.selectors.today import jobs_today
from sheafwright.web.access import for_right
from sheafwright.web.context import may_open
from sheafwright.web.sheets import write_action


@for_right(Right.SEE_WORK)
def today(request):
    member = request.membership
    # What is done on a page that is not theirs is somebody else's to do.
    jobs = [j for j in jobs_today(holding=member.holding) if may_open(j.page, member)]
    dangers = [job for job in jobs if job.is_danger]
    rest = [job for job in jobs if not job.is_danger]
    return render(
        request,
        "web/today.html",
        {
            "dangers": dangers,
            "first": rest[0] if rest else None,
            "jobs": rest[1:],
            "nothing": wording.nothing_to_do(),
            "begin": () if jobs else _first_steps(request),
        },
    )


def _first_steps(request):
    """What a new book lacks before it can advise anything."""
    holding = request.membership.holding
    for model, kind in ((Field, "field"), (WeatherSource, "weather")):
        if not model.objects.filter(holding=holding).exists():
            yield from write_action(request, kind)
