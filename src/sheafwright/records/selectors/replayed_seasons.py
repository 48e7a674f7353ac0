"""What the advice, replayed in the holding's own weather, came to."""

from sheafwright.answers.should_grow import Seasons
from sheafwright.records.models import WeatherSource
from sheafwright.records.selectors.cutting import replayed

ADVICE = "advice"


def seasons_replayed(*, holding):
    """The `Seasons` as last worked out; None before that."""
    kept = replayed(holding=holding)
    if kept is None or not kept.said["seasons"]:
        return None
    source = WeatherSource.objects.get(holding=holding, pk=kept.subject)
    spoiled = kept.said["policies"][ADVICE]["spoiled"]
    return Seasons(source.name, kept.said["seasons"], spoiled)
