"""How the advice would have done in every season on record, beside plain rules.

It rests on the record of past seasons and on one sowing, and on nothing of the day on
which it is asked, so that it is seldom worked out: it is the slowest of all.
"""

import dataclasses

from sheafwright.records.due import SEED, Due, of_all_seasons
from sheafwright.records.selectors.in_hand import sowings_in_hand

KEPT = "replay"
SHOWN = ("advice", "foresight")


@dataclasses.dataclass(frozen=True)
class Told:
    """A replay without its seasons, day by day, which no page shows."""

    replay: object

    def to_json(self):
        said = self.replay.to_json()
        shown = (*SHOWN, said["best_plain_rule"])
        return {
            "seasons": len(said["seasons"]),
            "best_plain_rule": said["best_plain_rule"],
            "policies": {name: said["policies"][name] for name in shown},
            "working": said["working"],
        }


def replay_due(source, common):
    """`Due` of the holding's weather record; None while nothing is sown."""
    sowing = _middle(source.holding)
    if sowing is None:
        return None
    sown = sowing.date.month, sowing.date.day
    # Advice given with a forecast is judged with forecasts as good as real ones.
    forecasts = "modelled" if source.forecast else "none"
    asks = of_all_seasons(source, common) | {
        "class": sowing.variety_class,
        "sown": sown,
        "forecasts": forecasts,
    }

    def answer(_folder):
        from sheafwright.answers import replay
        from sheafwright.feeds import weather

        columns = source.columns.path if source.columns else None
        place = common["latitude_deg"], common["altitude_m"]
        asked = replay.Sowing(*sown, sowing.variety_class or None, *place)
        record = weather.read(source.record.path, columns)
        return Told(replay.replay(record, asked, forecasts, seed=SEED)), None

    return Due(KEPT, source, asks, answer)


def _middle(holding):
    """The sowing in the middle of those for this harvest, by day."""
    sown = list(sowings_in_hand(holding=holding).order_by("date", "pk"))
    return sown[len(sown) // 2] if sown else None
