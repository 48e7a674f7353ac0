"""The season's answers as the pages show them: each standing crop, the ripest first."""

import dataclasses
import datetime

from sheafwright.answers.perfect_crop import PerfectCrop, perfect_crop
from sheafwright.records.models import SavedAnswer, Sowing, WeatherSource
from sheafwright.records.saved import saved, standing


@dataclasses.dataclass(frozen=True)
class CuttingDay:
    """What cutting on one day may bring."""

    date: datetime.date
    low_gbp: float
    likely_gbp: float
    high_gbp: float
    chance_dry: float
    chance_through: float | None
    """That the stooks come through."""


@dataclasses.dataclass(frozen=True)
class Crop:
    """A standing crop and what was last worked out for it."""

    sowing: Sowing
    answer: SavedAnswer | None

    @property
    def said(self):
        return self.answer.said if self.answer else {}

    @property
    def refused(self):
        return self.said.get("refused", "")

    @property
    def is_answered(self):
        return bool(self.said) and not self.refused

    @property
    def sentence(self):
        return self.refused or self.said.get("sentence", "")

    @property
    def action(self):
        return self.said["advice"]["action"] if self.is_answered else ""

    @property
    def worth(self) -> PerfectCrop:
        return perfect_crop(self.sowing.area_ha)

    @property
    def worth_now_gbp(self):
        worth = self.said["advice"]["worth_now"] if self.is_answered else None
        return None if worth is None else worth * self.worth.gbp

    @property
    def waiting_wins(self):
        return self.said["advice"]["chance_waiting_wins"] if self.is_answered else None

    @property
    def soft_dough(self):
        if not self.is_answered:
            return None
        return _date(self.said["stages"]["soft_dough"]["p50"])

    @property
    def best(self):
        """The best `CuttingDay` to aim for."""
        return max(self.days, key=lambda day: day.likely_gbp, default=None)

    @property
    def days(self):
        if not self.is_answered:
            return []
        through = {s["date"]: s["chance"] for s in self.said["fit_week"]["by_start"]}
        full = self.worth.gbp
        return [
            CuttingDay(
                date=_date(day["date"]),
                low_gbp=day["worth_p10"] * full,
                likely_gbp=day["worth_mean"] * full,
                high_gbp=day["worth_p90"] * full,
                chance_dry=1 - day["chance_of_rain"],
                chance_through=through.get(day["date"]),
            )
            for day in self.said["by_cutting_day"]
        ]

    @property
    def working(self):
        return self.said.get("working", [])


def replayed(*, holding):
    """The advice's past seasons here, as last worked out; None before that."""
    sources = WeatherSource.objects.filter(holding=holding)[:1]
    kept = saved(question="replay", about=list(sources))
    answer = next(iter(kept.values()), None)
    return answer if answer and "refused" not in answer.said else None


ORDER = {"cut": 0, "wait": 1, "too_late": 2, "not_fit": 3, "": 4}


def crops_standing(*, holding, field=None):
    """Those of the holding, or of one field."""
    sowings = [s for s in standing(holding) if field in (None, s.field)]
    kept = saved(question="outlook", about=sowings)
    crops = [Crop(sowing, kept.get(sowing.pk)) for sowing in sowings]
    return sorted(crops, key=lambda crop: (ORDER[crop.action], str(crop.soft_dough)))


def _date(text):
    return datetime.date.fromisoformat(text) if text else None
