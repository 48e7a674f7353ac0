"""Which sowing does best on a holding: autumn's dates and February's side by side.

All that it rests on is the record of past seasons and how the holding sows: nothing of
the day on which it is asked, nor of the forecast, so that it is seldom worked out.
"""

import statistics
from collections import Counter

from django.db.models import Max

from sheafwright.records.due import SEED, Due, of_all_seasons
from sheafwright.records.models import Sowing
from sheafwright.records.selectors.stand import plants_of

KEPT = "sowings"
AUTUMN = ((9, 20), (10, 1), (10, 10), (10, 20), (11, 1), (11, 15))
FEBRUARY = ((2, 10), (2, 26))
NEAREST = 10
"""Plants are told apart by so many: no one count changes them. [m⁻²]"""


def sowings_due(source, common):
    """`Due` of the holding's weather record."""
    variety_class, plants = _usual(source.holding)
    asks = of_all_seasons(source, common) | {
        "class": variety_class,
        "plants_per_m2": plants,
        "sown": AUTUMN + FEBRUARY,
    }

    def answer(_folder):
        from sheafwright.answers.sowing_dates import sowings
        from sheafwright.answers.sowing_dates_question import SowingsQuestion
        from sheafwright.charts.sowings import sowings_chart

        said = sowings(
            SowingsQuestion(
                weather=source.record.path,
                columns=source.columns.path if source.columns else None,
                latitude=common["latitude_deg"],
                altitude=common["altitude_m"],
                variety_class=variety_class or None,
                sown=AUTUMN + FEBRUARY,
                plants=(plants,),
                seed=SEED,
            )
        )
        return said, lambda: sowings_chart(said, titled=False)

    return Due(KEPT, source, asks, answer)


def _usual(holding):
    """Class and plants [m⁻²] of what was last sown; where nothing was, of the table."""
    sown = Sowing.objects.filter(holding=holding)
    last = sown.aggregate(year=Max("harvest_year"))["year"]
    crops = sown.filter(harvest_year=last).select_related("field", "seed_lot")
    crops = list(crops.prefetch_related("plant_counts", "seed_lot__germination_tests"))
    if not crops:
        return "", _usual_plants()
    ((variety_class, _times),) = Counter(c.variety_class for c in crops).most_common(1)
    plants = statistics.median(plants_of(crop).value for crop in crops)
    return variety_class, float(NEAREST * round(plants / NEAREST))


def _usual_plants():
    from sheafwright.feeds.sowing_dates import usual_sowings

    return float(statistics.median(usual_sowings().plants_per_m2))
