"""One field's season: the crop so far, and the possible summers ahead of it.

What every answer about the field needs is worked out here, once, from nothing later
than the day of the question.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers.crop_draws import CropDraws, crop_draws
from sheafwright.answers.issued import Issued, issued
from sheafwright.answers.known_days import KnownDays, known_days
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.question import Question
from sheafwright.answers.season_past import SeasonPast, season_past
from sheafwright.core.chance.futures import Calendar, Days, draw_futures
from sheafwright.core.crop.development import Stages, develop, ripeness
from sheafwright.core.decide.learn import days_without
from sheafwright.core.drying.stook import drying_rate
from sheafwright.core.season.summers import summers
from sheafwright.core.weather import place
from sheafwright.feeds import decision
from sheafwright.feeds.sowing import harvest_year


@dataclasses.dataclass(frozen=True)
class Ahead:
    """Possible summers from today on, and the crop in each of them."""

    paths: np.ndarray
    """Record positions, today's first: (draw, 1 + day)."""
    n_cuts: int
    """Days after today on which may be cut."""
    rain: np.ndarray
    """The field's on those days: (draw, 1 + day). [mm d⁻¹]"""
    tmin: np.ndarray
    """The field's from sowing on: (draw, day). [°C]"""
    tmax: np.ndarray
    """(draw, day). [°C]"""
    stages: Stages
    """Days after sowing, (draw,)."""
    ripeness: np.ndarray
    """From sowing on, 0 before flowering: (draw, day). [1]"""


@dataclasses.dataclass(frozen=True)
class FieldSeason:
    """A field's season."""

    question: Question
    known: KnownDays
    crops: CropDraws
    issued: Issued
    signal: np.ndarray
    """Of the forecast issued, (lead,). [1]"""
    learned: SeasonPast
    days: Days
    """The record to draw from, without this harvest year."""
    ahead: Ahead

    @property
    def harvest_year(self):
        """Calendar year of this harvest."""
        return harvest_year(self.question.sown)

    @property
    def perfect(self):
        """The `PerfectCrop` of the field; None where its area is not known."""
        area = self.question.area
        return None if area is None else perfect_crop(area)

    @property
    def rain_today(self):
        """[mm]"""
        return float(self.known.weather.rain[-1])

    @property
    def n_leads(self):
        """Days after today that a forecast covers."""
        return len(self.signal)

    @property
    def losses(self):
        """The table of losses asked with."""
        return self.learned.past.losses

    @property
    def ripeness_ahead(self):
        """From today on: (draw, 1 + cut). [1]"""
        today = self.known.since_sowing
        return self.ahead.ripeness[:, today : today + 1 + self.ahead.n_cuts]

    @property
    def over_before(self):
        """Days over full ripeness on the day before today; -1 where not passed. [d]"""
        so_far = self.ahead.ripeness[:, : self.known.since_sowing]
        return (so_far >= self.losses.ripeness.full_to).sum(axis=-1) - 1

    def summers(self, losses):
        """The possible summers as a table of losses values them, `Summers`."""
        demand = self.learned.past.weather.evapotranspiration[self.ahead.paths]
        rate = drying_rate(demand, losses.drying)
        # Each draw has its own rain, and so its own piece of one long record.
        own = np.arange(rate.size).reshape(rate.shape)
        return summers(
            own,
            self.ripeness_ahead,
            self.over_before,
            self.ahead.rain.ravel(),
            rate.ravel(),
            losses,
        )

    def date(self, days_after_sowing):
        """The date so many days after sowing, or None for never."""
        if not np.isfinite(days_after_sowing):
            return None
        return self.question.sown + datetime.timedelta(int(days_after_sowing))


def field_season(question):
    """The `FieldSeason` of a question."""
    # A stream of luck to each part, so that none disturbs another.
    for_crops, for_past, for_summers = np.random.default_rng(question.seed).spawn(3)
    known = known_days(question)
    crops = crop_draws(question, known, for_crops)
    told = issued(question.forecast, known.as_of)
    sown = question.sown
    learned = season_past(
        known.record,
        known.weather,
        known.latitude,
        (sown.month, sown.day),
        crops.likeliest,
        decision.losses(question.losses),
        told.correlation,
        for_past,
        (int(known.weather.day_of_year[-1]), known.since_sowing),
    )
    past = learned.past
    days = days_without(past, [harvest_year(sown)])
    # Months ahead, days would stray from their time of year.
    calendar = Calendar(past.weather.day_of_year, past.settings.futures.half_window)
    signal = told.signal(past.weather, days.usable)
    paths = draw_futures(
        np.full(question.summers, known.today),
        dataclasses.replace(days, calendar=calendar),
        learned.days_ahead - 1,
        past.settings.futures.near,
        for_summers,
        signal,
        told.correlation,
    )
    reach = past.losses.stook.longest_days + len(past.correlation)
    ahead = ahead_of(known, crops, paths, reach, question.seen_by(known.as_of))
    return FieldSeason(question, known, crops, told, signal, learned, days, ahead)


def ahead_of(known, crops, paths, reach, seen):
    """`Ahead` of a crop along paths.

    Parameters
    ----------
    known : KnownDays
    crops : CropDraws
    paths : ndarray of int, shape (draw, 1 + longer)
        Record positions, today's first.
    reach : int
        Days of the paths' end on which isn't cut. [d]
    seen : mapping
        From `Question.seen_by`.
    """
    weather = known.weather
    station = place.Days(
        weather.rain[paths],
        _from_sowing(known.growing.tmin, weather.tmin[paths]),
        _from_sowing(known.growing.tmax, weather.tmax[paths]),
    )
    rain, tmin, tmax = place.correct(station, crops.place)
    # Today's rain has fallen.
    rain[:, 0] = station.rain[:, 0]
    light = known.day_length_from_sowing(tmin.shape[1])
    stages = develop(tmin, tmax, light, 0, crops.phases, crops.filling, seen)
    ripe = ripeness(tmin, tmax, stages.gs61, crops.filling, seen)
    return Ahead(
        paths=paths,
        n_cuts=paths.shape[1] - 1 - reach,
        rain=rain,
        tmin=tmin,
        tmax=tmax,
        stages=stages,
        ripeness=np.nan_to_num(ripe),
    )


def _from_sowing(so_far, paths):
    """Each draw's days from sowing on: those so far, then those after today."""
    shape = len(paths), len(so_far)
    return np.concatenate([np.broadcast_to(so_far, shape), paths[:, 1:]], axis=-1)
