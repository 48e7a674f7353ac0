"""Which field can wait its turn until after the days that are planned."""

from sheafwright.records.clock import today
from sheafwright.records.due import SEED, Due, files
from sheafwright.records.due.outlook import fresh, own_seasons, past_dates, signs_seen
from sheafwright.records.selectors.crew import TURNS
from sheafwright.records.selectors.crop import seen_stages


def turns_due(asked, source, common):
    """`Due` of what is `sheafwright.records.selectors.crew.TurnsAsked` of a holding."""
    holding = source.holding
    crops = [(*each, _seen(each[0])) for each in asked.standing]
    year = max(sowing.harvest_year for sowing, *_ in asked.standing)
    past = list(past_dates(holding, year))
    asks = common | {
        "fields": [
            (s.pk, name, s.date, s.variety_class, left, *seen)
            for s, name, left, seen in crops
        ],
        "past": past,
        "days": (asked.first, asked.until),
        "hands": asked.hands,
        "binders": asked.binders,
        "carts": asked.carts,
        "distance": asked.distance,
    }

    def answer(folder):
        from sheafwright.answers.turns import TurnsQuestion, turns

        question = TurnsQuestion(
            **files(holding, source, common["gauge"], folder),
            harvest=_harvest(asked, crops, today(holding)),
            own_seasons=own_seasons(folder, past),
            seed=SEED,
        )
        return turns(question), None

    return Due(TURNS, holding, asks, answer)


def _seen(sowing):
    return seen_stages(sowing.observations.all()), signs_seen(sowing)


def _harvest(asked, crops, day):
    from sheafwright.feeds.crew_day import BinderAsked
    from sheafwright.feeds.turns import Harvest, Waiting

    return Harvest(
        fields=tuple(
            Waiting(
                name=name,
                area_ha=left,
                sown=sowing.date,
                variety_class=sowing.variety_class or None,
                seen=seen,
                signs=fresh(signs, day),
            )
            for sowing, name, left, (seen, signs) in crops
        ),
        hands=asked.hands,
        binders=tuple(BinderAsked(name) for name in asked.binders),
        first=asked.first,
        until=asked.until,
        carts=asked.carts,
        **asked.distance,
    )
