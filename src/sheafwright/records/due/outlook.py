"""When a crop may be cut, and whether to cut or wait."""

from sheafwright.records.clock import today
from sheafwright.records.due import SEED, Due, csv, files
from sheafwright.records.models import Sowing
from sheafwright.records.selectors.crop import seen_stages

MOST_PAST = 40
"""Crops whose dates are told: a few fix the place, and all of a long book are slow."""


def outlook_due(sowing, source, common):
    holding = sowing.holding
    seen = seen_stages(sowing.observations.all())
    signs = signs_seen(sowing)
    past = list(past_dates(holding, sowing.harvest_year))
    asks = common | {
        "sown": sowing.date,
        "class": sowing.variety_class,
        "area_ha": sowing.area_ha,
        "seen": seen,
        "signs": signs,
        "past": past,
    }

    def answer(folder):
        from sheafwright.answers.outlook import outlook
        from sheafwright.answers.question import Question
        from sheafwright.charts.season import season_chart

        said = outlook(
            Question(
                **files(holding, source, common["gauge"], folder),
                sown=sowing.date,
                variety_class=sowing.variety_class or None,
                area=sowing.area_ha,
                seen=seen,
                signs=fresh(signs, today(holding)),
                own_seasons=own_seasons(folder, past),
                seed=SEED,
            )
        )
        return said, lambda: season_chart([said], titled=False)

    return Due("outlook", sowing, asks, answer)


def own_seasons(folder, past):
    """The path of a file of `past_dates` that the engine reads."""
    return csv(folder / "Your own past dates", ("sown", "flowered", "cut"), past)


def signs_seen(sowing):
    """Kind of sign to the level last seen, and the day."""
    return {
        kind: (level, o.date)
        for o in sowing.observations.all()
        for kind, level in o.signs.items()
    }


def past_dates(holding, before):
    """Sown, flowered and cut of the holding's earlier crops."""
    sown = Sowing.objects.filter(holding=holding, harvest_year__lt=before)
    latest = sown.order_by("-date").prefetch_related("cuts", "observations")
    for sowing in reversed(latest[:MOST_PAST]):
        flowered = next(
            (o.date for o in sowing.observations.all() if o.stage == "flowering"), None
        )
        cuts = [cut.date for cut in sowing.cuts.all()]
        if flowered or cuts:
            yield sowing.date, flowered, min(cuts, default=None)


def fresh(signs, as_of):
    """Signs seen on the day itself: the engine takes no older ones."""
    return {kind: level for kind, (level, seen) in signs.items() if seen == as_of}
