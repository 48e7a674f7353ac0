"""Cut today? The answer for one field and one day."""

import dataclasses
import datetime

from sheafwright.answers.advice import (
    Advice,
    FitWeek,
    advise,
    fit_week,
    window_opens,
)
from sheafwright.answers.bands import banded, dates_to_json
from sheafwright.answers.field_season import FieldSeason, field_season
from sheafwright.answers.season_working import season_steps, telling_steps
from sheafwright.answers.working import steps_to_json

DAYS_SHOWN = 11
"""Today, and ten days more."""


@dataclasses.dataclass(frozen=True)
class Cutting:
    """The answer."""

    season: FieldSeason
    week: FitWeek
    advice: Advice

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        return self.advice.with_doubt

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return season_steps(self.season)

    @property
    def telling(self):
        """The few of those steps on which the choice turns."""
        return telling_steps(self.season)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            **about(self.season),
            "advice": self.advice.to_json(),
            "fit_week": week_to_json(self.season, self.week, 0, DAYS_SHOWN),
            "ripeness": banded(self.season.ripeness_ahead[:, 0]),
            "soft_dough": dates_to_json(window_opens(self.season)),
            "working": steps_to_json(self.working),
        }


def cut(question):
    """The answer to a `sheafwright.answers.question.Question`, `Cutting`."""
    season = field_season(question)
    made = season.summers(season.losses)
    week = fit_week(season, made)
    return Cutting(season, week, advise(season, made, week))


def about(season):
    """Which field, place and day an answer is about."""
    question, known = season.question, season.known
    return {
        "station": known.record.station,
        "latitude_deg": known.latitude,
        "altitude_m": known.altitude,
        "sown": question.sown.isoformat(),
        "variety_class": season.crops.likeliest.name,
        "area_ha": question.area,
        "perfect_crop_gbp": season.perfect and round(season.perfect.gbp, 2),
        "as_of": known.as_of.isoformat(),
        "forecast_days": season.n_leads,
        "possible_summers": question.summers,
        "seed": question.seed,
    }


def week_to_json(season, week, first, n_days):
    """A `FitWeek`, with so many days from so many days ahead."""
    days = range(first, min(first + n_days, len(week.by_start)))
    return {
        "chance": round(week.chance, 4),
        "by_start": [
            {
                "date": ahead(season, day).isoformat(),
                "chance": round(float(week.by_start[day]), 4),
            }
            for day in days
        ],
    }


def ahead(season, days):
    """The date so many days after today."""
    return season.known.as_of + datetime.timedelta(int(days))
