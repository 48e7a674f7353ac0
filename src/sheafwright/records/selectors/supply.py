"""What nitrogen the ground gives a crop, as far as the book can tell."""

import dataclasses

from sheafwright.answers.soil_supply import (
    SoilSupply,
    SoilSupplyQuestion,
    soil_supply,
)
from sheafwright.core.errors import SheafwrightError
from sheafwright.records.clock import today
from sheafwright.records.models import WeatherSource
from sheafwright.records.saved import saved
from sheafwright.records.selectors.ground_before import Lacks, before


@dataclasses.dataclass(frozen=True)
class Supplied:
    """What is known of it."""

    answer: SoilSupply | None
    lacks: frozenset[Lacks] = frozenset()
    refused: str = ""
    """Why the engine would not tell."""


def usual_rain(holding):
    """What was last kept of it; nothing where none of it can be told."""
    sources = WeatherSource.objects.filter(holding=holding)[:1]
    kept = saved(question="rain", about=list(sources))
    return next((answer.said for answer in kept.values()), {})


def usual_rain_mm(holding):
    """By the year; None where none can be told."""
    return usual_rain(holding).get("rain_mm_per_year")


def supplied_to(sowing, rain_mm):
    """`Supplied` to a crop, its field with all that was said of it."""
    return _supplied(sowing.field, sowing.harvest_year, sowing.date, rain_mm)


def supplied_next(field, harvest_year, rain_mm):
    """`Supplied` to what may be sown next."""
    return _supplied(field, harvest_year, None, rain_mm)


def _supplied(field, harvest_year, sown, rain_mm):
    stood = before(field, harvest_year, sown, today(field.holding))
    lacks = set(stood.lacks)
    lacks |= set() if field.soil_kind else {Lacks.SOIL}
    lacks |= {Lacks.RAIN} if rain_mm is None else set()
    if lacks:
        return Supplied(None, frozenset(lacks))
    asked = SoilSupplyQuestion(
        soil=field.soil_kind,
        rain=rain_mm,
        last_crop=stood.last_crop,
        ley=stood.ley,
        manure=stood.manure_t_per_ha,
    )
    try:
        return Supplied(soil_supply(asked))
    except SheafwrightError as error:
        return Supplied(None, refused=str(error))
