"""What day and time it is on a holding."""

import datetime
import zoneinfo

from django.utils import timezone

MORNING = datetime.time(8)


def today(holding):
    """The day in the holding's zone; an invented holding stands still on its own."""
    return holding.looked_at_as_of or day_of(holding, timezone.now())


def now(holding):
    """The moment in the holding's zone, on the day that it stands on."""
    moment = timezone.now().astimezone(zone_of(holding))
    if holding.looked_at_as_of is None:
        return moment
    # Its morning's readings are in the book, at whatever hour somebody looks at it.
    at = max(moment.timetz(), MORNING.replace(tzinfo=moment.tzinfo))
    return datetime.datetime.combine(holding.looked_at_as_of, at)


def day_of(holding, at):
    """The day on which a moment falls in the holding's zone."""
    return at.astimezone(zone_of(holding)).date()


def zone_of(holding):
    return zoneinfo.ZoneInfo(holding.time_zone)
