"""Answers kept for the pages.

Pages never work anything out from weather: they show the last answer kept, with its
time. `sheafwright.records.fill` keeps them.
"""

from django.db.models import Max

from sheafwright.records.clock import today
from sheafwright.records.models import SavedAnswer, Sowing


def saved(*, question, about, with_charts=False):
    """Id of each of these sowings or stook sets to the last answer kept for it."""
    kept = SavedAnswer.objects.filter(
        holding__in={each.holding_id for each in about},
        question=question,
        subject__in=[each.pk for each in about],
    )
    # A season leaves hundreds, each long: only their days are read to find the last.
    last = dict(kept.values_list("subject").annotate(Max("made_at")))
    answers = kept.filter(made_at__in=last.values())
    answers = answers if with_charts else answers.defer("chart", "charts")
    return {a.subject: a for a in answers if a.made_at == last[a.subject]}


def standing(holding):
    """Sowings of the season that now runs that aren't all cut."""
    day = today(holding)
    sown = Sowing.objects.filter(
        holding=holding, date__lte=day, harvest_year__gte=day.year
    )
    for sowing in sown.select_related("field").prefetch_related("cuts", "observations"):
        # A corner left uncut isn't a crop to decide on.
        if sum(cut.area_ha for cut in sowing.cuts.all()) < 0.95 * sowing.area_ha:
            yield sowing
