"""What a crop will yield: straw, reed and grain."""

import collections
import dataclasses

from sheafwright.records.clock import today
from sheafwright.records.due import SEED, Due
from sheafwright.records.models import Threshing
from sheafwright.records.selectors.grown import crops_grown
from sheafwright.records.selectors.outturns import outturns
from sheafwright.records.selectors.stand import HEIGHT_CLASS, By

KEPT = "yield"
KG_PER_T = 1000


@dataclasses.dataclass(frozen=True)
class Weighed:
    """What the holding weighed of one harvest, by the hectare."""

    year: int
    combed: bool
    """Whether it is of crops that gave reed, or of those that gave long straw."""
    made_t_per_ha: float
    grain_t_per_ha: float | None
    nitrogen_kg_per_ha: tuple[float, float] | None
    """Lowest and highest supply, where it is known of every crop."""


def yield_due(crop, weighed, common):
    """`Due` for one crop, once its ground is known.

    Parameters
    ----------
    crop : Grown
    weighed : list of Weighed
    common : dict
    """
    if crop.supplied.answer is None:
        return
    sowing, combed = crop.sowing, combs(crop.sowing.holding)
    own = [each for each in weighed if each.combed == combed]
    asks = {name: common[name] for name in ("tables", "engine", "seed")} | {
        "nitrogen_kg_per_ha": tuple(crop.supplied.answer.supply),
        "plants_per_m2": round(crop.plants.value),
        "height_cm": None if crop.height.by is By.USUAL else crop.height.value,
        "sown": sowing.date,
        "combed": combed,
        "weighed": [dataclasses.astuple(each) for each in own],
    }

    def answer(_folder):
        from sheafwright.answers.expected_yield import (
            OwnHarvest,
            YieldQuestion,
            expected_yield,
        )

        said = expected_yield(
            YieldQuestion(
                nitrogen=asks["nitrogen_kg_per_ha"],
                plants=asks["plants_per_m2"],
                sown=sowing.date,
                height_class=HEIGHT_CLASS,
                height=asks["height_cm"],
                combed=combed,
                own=tuple(
                    OwnHarvest(
                        each.year,
                        each.made_t_per_ha,
                        each.grain_t_per_ha,
                        each.nitrogen_kg_per_ha,
                    )
                    for each in own
                ),
                seed=SEED,
            )
        )
        return said, None

    yield Due(KEPT, sowing, asks, answer)


def combs(holding):
    """Whether the holding combs its straw, by its last run of the drum."""
    last = Threshing.objects.filter(holding=holding).order_by("-date").first()
    return last is None or last.combed


def weighed_by_year(holding):
    """`Weighed` of every harvest, of combed crops and of others."""
    by_year = collections.defaultdict(list)
    for each in outturns(holding=holding, before=today(holding).year):
        for combed, kg in ((True, each.reed_kg), (False, each.long_straw_kg)):
            if kg:
                by_year[each.sowing.harvest_year, combed].append(each)
    sowings = {each.sowing.pk: each.sowing for c in by_year.values() for each in c}
    grown = crops_grown(holding=holding, sowings=list(sowings.values()))
    supplies = {crop.sowing.pk: crop.supplied.answer for crop in grown}
    return [
        _weighed(year, combed, crops, supplies)
        for (year, combed), crops in sorted(by_year.items())
    ]


def _weighed(year, combed, crops, supplies):
    area = sum(crop.area_ha for crop in crops)
    made = sum(crop.reed_kg if combed else crop.long_straw_kg for crop in crops)
    grain = sum(crop.grain_kg for crop in crops)
    return Weighed(
        year=year,
        combed=combed,
        made_t_per_ha=made / area / KG_PER_T,
        grain_t_per_ha=grain / area / KG_PER_T if grain else None,
        nitrogen_kg_per_ha=_mean_supply(crops, supplies, area),
    )


def _mean_supply(crops, supplies, area):
    told = [(crop.area_ha, supplies[crop.sowing.pk]) for crop in crops]
    if any(supply is None for _area, supply in told):
        return None
    return tuple(
        sum(share * supply.supply[end] for share, supply in told) / area
        for end in (0, 1)
    )
