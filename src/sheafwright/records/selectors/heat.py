"""How warm each rick is, the hottest first.

Worked out when it is asked, unlike the season's answers: it is a few sums, and a danger
must never wait for a worker.
"""

import dataclasses
import datetime
import uuid

from sheafwright.answers.rick_heat import RickHeat, rick_heat
from sheafwright.feeds.ricks import STEPS, heat_steps
from sheafwright.records.clock import now
from sheafwright.records.models import Rick, RickReading
from sheafwright.records.selectors.in_hand import ricks_standing
from sheafwright.records.selectors.ricked import last_carted


@dataclasses.dataclass(frozen=True)
class HeatOfRick:
    rick: Rick
    heat: RickHeat


def heat_of_ricks(*, holding):
    ricks = list(ricks_standing(holding=holding).prefetch_related("readings"))
    carted, moment = last_carted(ricks) if ricks else {}, now(holding)
    found = [HeatOfRick(rick, _heat(rick, carted, moment)) for rick in ricks]
    return sorted(found, key=lambda each: -each.heat.danger)


def ricks_in_danger(*, holding):
    return [
        each for each in heat_of_ricks(holding=holding) if each.heat.fire_service_first
    ]


def hot_of(*, holding, id):
    """The rick of this id, if the fire service is rung before it is opened; else None.

    Parameters
    ----------
    id : str or uuid.UUID or None
        As somebody typed it.
    """
    danger = ricks_in_danger(holding=holding) if id else ()
    return next((each for each in danger if str(each.rick.pk) == str(id)), None)


def ever_hot(*, holding, id):
    """Whether the rick of this id, as somebody typed it, was once so hot as that."""
    try:
        rick = uuid.UUID(str(id))
    except ValueError:
        return False
    hot = dict(zip(STEPS, heat_steps(), strict=True))["hot"].from_temperature
    read = RickReading.objects.filter(holding=holding, rick=rick)
    return read.filter(temperature_c__gte=hot).exists()


def heat_by(*, rick, day):
    """How warm one rick was at the end of a day, or is now if that day is today."""
    moment = now(rick.holding)
    ended = datetime.datetime.combine(day, datetime.time.max, moment.tzinfo)
    return _heat(rick, last_carted([rick]), min(moment, ended))


def _heat(rick, carted, moment):
    readings = [
        (reading.at.astimezone(moment.tzinfo), reading.temperature_c)
        for reading in rick.readings.all()
        if reading.at <= moment
    ]
    # It settles from the day that the last sheaves went on.
    settles_from = max(rick.built, carted.get(rick.pk, rick.built))
    return rick_heat(rick.name, settles_from, readings, moment)
