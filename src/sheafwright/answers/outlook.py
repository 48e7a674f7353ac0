"""When will each stage come, may a fit week be hoped for, and cut or wait today?"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import cutting, wording
from sheafwright.answers.advice import (
    NOT_FIT,
    Advice,
    FitWeek,
    advise,
    fit_week,
    worth_by_aim,
)
from sheafwright.answers.bands import BAND, dates_to_json
from sheafwright.answers.cold import Cold, cold
from sheafwright.answers.field_season import FieldSeason, field_season
from sheafwright.answers.question import STAGES
from sheafwright.answers.season_working import season_steps
from sheafwright.answers.second_opinion import (
    SecondOpinion,
    second_opinion,
    second_opinion_step,
)
from sheafwright.answers.working import steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.season.worth import days_over, ripeness_worth
from sheafwright.feeds.telling import joined

NEXT_STAGES = ("ear_out", "flowering", "soft_dough")
"""Stages spoken of before the crop is near."""
NEAR_DAYS = 14
"""The sentence speaks of today from so long before soft dough. [d]"""
FEW = 0.1
"""Days on which fewer crops than this have anything to win are not shown. [1]"""


@dataclasses.dataclass(frozen=True)
class CuttingDays:
    """The days on which may be cut, each (day,), from the first shown."""

    first: int
    """Days after today."""
    worth: np.ndarray
    """10, 50 and 90 % of the worth of aiming for the day: (3, day). [0–1]"""
    mean_worth: np.ndarray
    """[0–1]"""
    chance_of_rain: np.ndarray
    """That it rains too much to cut. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Outlook:
    """The answer."""

    season: FieldSeason
    stages: dict[str, tuple]
    """Stage to its 10, 50 and 90 % dates; None for never."""
    cold: Cold
    week: FitWeek
    advice: Advice
    cutting_days: CuttingDays
    second: SecondOpinion | None

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(*self._sentences())

    def _sentences(self):
        if self._is_near():
            yield self.advice.with_doubt
        else:
            yield wording.season(self._next())
        if self.week.chance:
            yield wording.fit_week(self.week.chance)
        if self.cold.status != "safe":
            yield wording.cold(self.cold.status, self.cold.chance, self.cold.uneven)

    def _is_near(self):
        """Whether there is something to decide, or soon will be."""
        likely = self.stages["soft_dough"][1]
        near = datetime.timedelta(NEAR_DAYS)
        soon = likely is not None and likely - self.season.known.as_of <= near
        return soon or self.advice.action != NOT_FIT

    def _next(self):
        """The stages to speak of, with their dates: those still to come."""
        today = self.season.known.as_of
        spoken = {name: self.stages[name] for name in NEXT_STAGES}
        return {
            name: dates
            for name, dates in spoken.items()
            if dates[1] is None or dates[1] > today
        }

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        if self.second is None:
            return season_steps(self.season)
        return *season_steps(self.season), second_opinion_step(self.season, self.second)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        days = self.cutting_days
        return {
            "sentence": self.sentence,
            **cutting.about(self.season),
            "stages": {
                name: dates_to_json(dates) for name, dates in self.stages.items()
            },
            "vernalisation": self.cold.to_json(),
            "fit_week": cutting.week_to_json(
                self.season, self.week, days.first, len(days.mean_worth)
            ),
            "advice": self.advice.to_json(),
            "by_cutting_day": [
                self._cutting_day(day) for day in range(len(days.mean_worth))
            ],
            "working": steps_to_json(self.working),
        }

    def _cutting_day(self, day):
        days = self.cutting_days
        low, middle, high = days.worth[:, day]
        numbers = {
            "worth_p10": low,
            "worth_p50": middle,
            "worth_p90": high,
            "worth_mean": days.mean_worth[day],
            "chance_of_rain": days.chance_of_rain[day],
        }
        date = cutting.ahead(self.season, days.first + day).isoformat()
        return {"date": date} | {n: round(float(x), 4) for n, x in numbers.items()}


def outlook(question):
    """The answer to a `sheafwright.answers.question.Question`, `Outlook`."""
    season = field_season(question)
    made = season.summers(season.losses)
    week = fit_week(season, made)
    return Outlook(
        season=season,
        stages=_stages(season),
        cold=cold(season),
        week=week,
        advice=advise(season, made, week),
        cutting_days=_cutting_days(season, made),
        second=second_opinion(season),
    )


def _stages(season):
    reached = season.ahead.stages._asdict()
    return {
        name: tuple(season.date(day) for day in weighted_quantiles(reached[core], BAND))
        for name, core in STAGES.items()
    }


def _cutting_days(season, made):
    """The days on which some crop that may be can be cut with something to win."""
    losses = season.losses
    over = days_over(made.ripeness, losses.ripeness.full_to, season.over_before)
    value = ripeness_worth(made.ripeness, over, losses.ripeness)
    fit = made.ripeness >= losses.ripeness.fit_from
    some = (fit & (value > losses.stook.never_cut)).mean(axis=0) >= FEW
    first = int(some.argmax())
    last = int(np.flatnonzero(some).max(initial=0))
    shown = slice(first, last + 1)
    worth = worth_by_aim(season, made)[:, shown]
    rain = season.ahead.rain[:, shown]
    return CuttingDays(
        first=first,
        worth=weighted_quantiles(worth.T, BAND).T,
        mean_worth=worth.mean(axis=0),
        chance_of_rain=(rain >= losses.ripeness.cutting_rain).mean(axis=0),
    )
