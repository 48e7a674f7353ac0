"""How warm each rick is, the hottest first.

Worked out when it is asked, unlike the season's answers: it is a few sums, and a danger
must never wait for a worker.
"""

import dataclasses

from sheafwright.answers.rick_heat import RickHeat, rick_heat
from sheafwright.records.clock import now
from sheafwright.records.models import Rick
from sheafwright.records.selectors.in_hand import ricks_standing


@dataclasses.dataclass(frozen=True)
class HeatOfRick:
    rick: Rick
    heat: RickHeat


def heat_of_ricks(*, holding):
    ricks = ricks_standing(holding=holding).prefetch_related("readings")
    found = [HeatOfRick(rick, _heat(rick, holding)) for rick in ricks]
    return sorted(found, key=lambda each: -each.heat.danger)


def ricks_in_danger(*, holding):
    return [
        each for each in heat_of_ricks(holding=holding) if each.heat.fire_service_first
    ]


def _heat(rick, holding):
    moment = now(holding)
    readings = [
        (reading.at.astimezone(moment.tzinfo), reading.temperature_c)
        for reading in rick.readings.all()
        if reading.at <= moment
    ]
    return rick_heat(rick.name, rick.built, readings, moment)
