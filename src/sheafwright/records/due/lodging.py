"""Whether a crop will stand until it is cut."""

import dataclasses

from sheafwright.core.errors import OutOfRange
from sheafwright.records.clock import today
from sheafwright.records.due import SEED, Due, csv, files
from sheafwright.records.models import Field, Sowing
from sheafwright.records.selectors.grown import crops_grown
from sheafwright.records.selectors.supply import usual_rain

KEPT = "lodging"
HELD_AS = {
    Field.SoilKind.LIGHT: "light",
    Field.SoilKind.MEDIUM: "medium",
    Field.SoilKind.DEEP_SILT: "medium",
    Field.SoilKind.DEEP_CLAY: "heavy",
    "": "medium",
}
"""Kind of soil to how it holds roots."""
HEADING = ("sown", "lodged_pct", "plants_per_m2", "height_cm", "nitrogen_index")


def lodging_due(crop, lay, source, common):
    """`Due` for one crop.

    Parameters
    ----------
    crop : Grown
    lay : list
        What lay of earlier crops, as `lodged` has it.
    source : WeatherSource
    common : dict
    """
    sowing = crop.sowing
    plants, height_cm, index = husbandry(crop)
    asks = {n: said for n, said in common.items() if n != "gauge"} | {
        "sown": sowing.date,
        "class": sowing.variety_class,
        "soil": HELD_AS[sowing.field.soil_kind],
        "plants_per_m2": plants,
        "height_cm": height_cm,
        "nitrogen_index": index,
        "lay": lay,
    }

    def answer(folder):
        from sheafwright.answers.lodging import Crop, LodgingQuestion
        from sheafwright.charts.lodging import lodging_chart

        weather = files(sowing.holding, source, (), folder)
        del weather["forecast"]
        said = _learned(
            LodgingQuestion(
                **weather,
                crop=Crop(sowing.date, plants, height_cm / 100, index),
                variety_class=sowing.variety_class or None,
                soil=asks["soil"],
                own_lodging=csv(folder / "What lay in past years", HEADING, lay),
                seed=SEED,
            )
        )
        return said, lambda: lodging_chart(said, titled=False)

    return Due(KEPT, sowing, asks, answer)


def husbandry(crop):
    """Plants [m⁻²], height [cm] and nitrogen index of a `Grown`, as they are asked."""
    plants, height = round(crop.plants.value), round(crop.height.value)
    return plants, height, crop.nitrogen_index.value


def lodged(holding):
    """Rows under ``HEADING`` of earlier crops of which somebody saw what lay."""
    # Nothing is learned from a summer whose weather isn't on record.
    rain = usual_rain(holding) or {}
    on_record = [each["year"] for each in rain.get("by_year", ())]
    seen = Sowing.objects.filter(
        holding=holding,
        harvest_year__in=on_record,
        harvest_year__lt=today(holding).year,
        observations__lodged_pct__isnull=False,
    )
    sowings = seen.select_related("field__holding", "seed_lot").distinct()
    crops = crops_grown(holding=holding, sowings=list(sowings.order_by("date")))
    return [(c.sowing.date, _most_lay(c.sowing), *husbandry(c)) for c in crops]


def _most_lay(sowing):
    """What lies does not get up again. [%]"""
    return max(o.lodged_pct or 0 for o in sowing.observations.all())


def _learned(question):
    from sheafwright.answers.lodging import will_it_stand

    try:
        return will_it_stand(question)
    except OutOfRange:
        if question.own_lodging is None:
            raise
        # A past summer with days of wind missing tells nothing, and can't be unsaid.
        return will_it_stand(dataclasses.replace(question, own_lodging=None))
