"""All that can be told of a rick that stands: heat, room, keeping, value, whom to ring.

A few sums, worked out when asked: no weather is in it.
"""

import dataclasses

from sheafwright.answers.rick_apart import RickApart, rick_apart
from sheafwright.answers.rick_heat import RickHeat
from sheafwright.answers.rick_keeping import RickKeeping, rick_keeping
from sheafwright.answers.rick_worth import RickWorth, rick_worth
from sheafwright.core.errors import OutOfRange
from sheafwright.records.clock import day_of, now
from sheafwright.records.models import Rick
from sheafwright.records.selectors.calls import Call, call_lists, calls_of
from sheafwright.records.selectors.heat import heat_of_ricks
from sheafwright.records.selectors.ricked import ricked
from sheafwright.records.selectors.room import Room, room_of
from sheafwright.records.selectors.store import RickNow, ricks_now


@dataclasses.dataclass(frozen=True)
class RickTold:
    rick: Rick
    heat: RickHeat
    now: RickNow
    room: Room | None
    keeping: RickKeeping | None
    """None where too little was measured."""
    worth: RickWorth | None
    """None where its owner said a value, or nothing tells one."""
    apart: RickApart
    calls: tuple[Call, ...]


def ricks_told(*, holding):
    """Of every rick that stands, the hottest first."""
    now = {each.rick.pk: each for each in ricks_now(holding=holding)}
    lists = call_lists(holding=holding)
    return [
        _told(each.heat, now[each.rick.pk], lists)
        for each in heat_of_ricks(holding=holding)
    ]


def _told(heat, now, lists):
    rick = now.rick
    return RickTold(
        rick=rick,
        heat=heat,
        now=now,
        room=room_of(rick, now.kg),
        keeping=_keeping(now),
        worth=worth_of(now),
        apart=apart_of(rick),
        calls=calls_of(lists, rick),
    )


def worth_of(now):
    """`RickWorth`, where nobody said a value; no price is kept of uncombed straw."""
    rick = now.rick
    unsaid = rick.value is None and rick.fit_to_comb and now.kg > 0
    return rick_worth(now.kg) if unsaid else None


def apart_of(rick):
    """`RickApart` of the distances that were written down."""
    return rick_apart(
        buildings=rick.to_buildings_m, road=rick.to_road_m, rick=rick.to_rick_m
    )


def _keeping(held):
    rick, came = held.rick, ricked(held)
    moment = now(rick.holding)
    read = [each for each in rick.readings.all() if each.at <= moment]
    readings = [(day_of(rick.holding, r.at), r.temperature_c) for r in read]
    if came is None or came.grain is None or not readings:
        return None
    try:
        # From the first load: that is what lies longest.
        return rick_keeping(
            rick.name, came.first, readings, moment.date(), came.grain, came.straw
        )
    except OutOfRange:
        # Older or damper than anyone asks about: the heat is told all the same.
        return None
