"""What nitrogen the ground gives a crop, as far as the book can tell."""

import dataclasses

from sheafwright.answers.soil_supply import (
    SoilSupply,
    SoilSupplyQuestion,
    soil_supply,
)
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.telling import refusal
from sheafwright.records.clock import today
from sheafwright.records.models import WeatherSource
from sheafwright.records.saved import saved
from sheafwright.records.selectors.ground_before import Lacks, before

LAST_SOWN = 4
"""Month after which wheat is sown for the next year's harvest."""


@dataclasses.dataclass(frozen=True)
class Supplied:
    """What is known of it; nothing at all while its rain is being worked out."""

    answer: SoilSupply | None
    lacks: frozenset[Lacks] = frozenset()
    refused: str = ""
    """Why the engine would not tell."""


def usual_rain(holding):
    """What was last kept of it; None without a weather record."""
    sources = list(WeatherSource.objects.filter(holding=holding)[:1])
    kept = saved(question="rain", about=sources)
    return next((answer.said for answer in kept.values()), {} if sources else None)


def supplied_to(sowing, rain):
    """`Supplied` to a crop, its field with all that was said of it.

    Parameters
    ----------
    sowing : Sowing
    rain : mapping or None
        As `usual_rain` has it.
    """
    stood = before(sowing.field, sowing.harvest_year, sowing.date)
    return _supplied(sowing.field, stood, rain)


def supplied_next(field, harvest_year, rain):
    """`Supplied` to what may be sown next."""
    stood = before(field, harvest_year, today(field.holding), is_sown=False)
    return _supplied(field, stood, rain)


def first_year(holding):
    """The first harvest for which something may still be sown."""
    day = today(holding)
    return day.year + (day.month > LAST_SOWN)


def next_harvest(field):
    """Harvest of what may be sown next in a field."""
    after = (sowing.harvest_year + 1 for sowing in field.sowings.all())
    return max([first_year(field.holding), *after])


def _supplied(field, stood, rain):
    lacks = set(stood.lacks)
    lacks |= set() if field.soil_kind else {Lacks.SOIL}
    lacks |= {Lacks.RAIN} if rain is None else set()
    if lacks or not rain or "refused" in rain:
        return Supplied(None, frozenset(lacks), (rain or {}).get("refused", ""))
    asked = SoilSupplyQuestion(
        soil=field.soil_kind,
        rain=rain["rain_mm_per_year"],
        last_crop=stood.last_crop,
        ley=stood.ley,
        manure=stood.manure_t_per_ha,
    )
    try:
        return Supplied(soil_supply(asked))
    except SheafwrightError as error:
        return Supplied(None, refused=refusal(error))
