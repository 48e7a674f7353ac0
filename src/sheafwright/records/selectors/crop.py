"""The crop, from sowing to stook."""

from sheafwright.records.models import Sowing


def seen_stages(observations):
    """Each stage to the day it was seen; what was written last of it stands."""
    seen = sorted(observations, key=lambda observation: observation.made_at)
    return {each.stage: each.date for each in seen if each.stage}


def sowings_of(*, holding, harvest_year=None):
    """The holding's sowings with their field and seed, the last sown first."""
    found = Sowing.objects.filter(holding=holding)
    if harvest_year is not None:
        found = found.filter(harvest_year=harvest_year)
    return found.select_related("field", "seed_lot")
