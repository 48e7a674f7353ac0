"""In what wind and rain has each crop stood in ear, in every season on record?"""

import dataclasses

import numpy as np

from sheafwright.answers.sowing_seasons import Crops
from sheafwright.answers.wording import month_day
from sheafwright.answers.working import MEASURED, THE_RECORD, Step, step_from_rows
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.core.lodging.season import draw_mechanics
from sheafwright.core.lodging.wind import gust_from_wind, gust_line
from sheafwright.core.soil.strength import topsoil_capacity, topsoil_wetness
from sheafwright.feeds import lodging
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import listed, mark, measured, say
from sheafwright.feeds.weather.checks import shipped_checks

WETTED_BEFORE = 30
"""Rain counts from so long before the first ear: no topsoil remembers longer. [d]"""
LEAST_BOTH = 1000
"""Days with gust and mean wind from which a station's own gusts are learned. [d]"""
PATCHES = 40
"""Of each possible stand."""


@dataclasses.dataclass(frozen=True)
class Gales:
    """Days of whole seasons, wind and rain as they came together."""

    crops: Crops
    """Of the seasons kept."""
    first: int
    """Position in its season of the first day here."""
    gust: np.ndarray
    """At the mast, as measured or else the middle of what it may be, (season, day).
    [m s⁻¹]"""
    gust_sd: np.ndarray
    """Standard deviation of its logarithm, 0 where measured, (season, day). [1]"""
    rain: np.ndarray
    """(season, day). [mm d⁻¹]"""
    evapotranspiration: np.ndarray
    """(season, day). [mm d⁻¹]"""
    standing: np.ndarray
    """Days from ear emergence to cutting, (sowing, season, day) of bool."""
    left_out: int
    """Seasons in which a day's wind or rain is missing."""
    step: Step
    """Where the gusts come from."""

    @property
    def years(self):
        """Harvest years, (season,)."""
        return self.crops.days.years

    @property
    def share_measured(self):
        """Share of the days whose gust was measured, not made from the wind. [0–1]"""
        return float((self.gust_sd == 0).mean())

    def gusts(self, season, rng):
        """Possible gusts at the mast in some seasons, (draw, day). [m s⁻¹]

        Parameters
        ----------
        season : array_like of int, shape (draw,)
            Positions among the seasons.
        rng : numpy.random.Generator
        """
        return self.gust[season] * rng.lognormal(0.0, self.gust_sd[season])

    def wetness(self, season, mechanics):
        """Of the topsoil of a stand in each of some seasons, (draw, day). [0–1]

        Parameters
        ----------
        season : array_like of int, shape (draw,)
            Positions among the seasons.
        mechanics : Mechanics
            (draw, patch), on soil that all patches of a stand share.
        """
        capacity = topsoil_capacity(mechanics.rooting_depth, mechanics.available_water)
        rain, dried = self.rain[season], self.evapotranspiration[season]
        return topsoil_wetness(rain, dried, capacity[:, 0])


def gales(crops):
    """`Gales` of some crops.

    Parameters
    ----------
    crops : Crops
    """
    days, weather = crops.days, crops.days.known.weather
    ear_out, end = _stands(crops)
    headed = np.isfinite(ear_out).any(axis=0)
    refuse_few(days, headed, mark("in which a crop comes into ear"))
    first = max(int(np.nanmin(ear_out)) - WETTED_BEFORE, 0)
    day = np.arange(first, int(np.nanmax(end)) + 1)
    standing = (day >= ear_out[..., np.newaxis]) & (day <= end[..., np.newaxis])
    in_ear = (days.start[:, np.newaxis] + day)[standing.any(axis=0)]
    gust, gust_sd, step = _gusts(days.known.record, in_ear)
    columns = [
        days.of(each)[:, day]
        for each in (gust, gust_sd, weather.rain, weather.evapotranspiration)
    ]
    whole = _whole(*columns, standing)
    refuse_few(days, whole, mark("with the wind and rain of every day in ear"))
    return Gales(
        crops.only(whole),
        first,
        *(column[whole] for column in columns),
        standing[:, whole],
        int(np.count_nonzero(~whole)),
        step,
    )


def possible_mechanics(soil, n_stands, rng):
    """Stems and roots of possible stands, `Mechanics` (stand, patch).

    Parameters
    ----------
    soil : str
        One of ``feeds.lodging.SOILS``.
    n_stands : int
    rng : numpy.random.Generator
    """
    tables = lodging.mechanics(soil), lodging.doubt(), lodging.patches()
    return draw_mechanics(*tables, (n_stands, PATCHES), rng)


def _stands(crops):
    """First and last day in ear, each (sowing, season); a crop never cut stands on."""
    last = crops.days.n_days - 1
    return crops.growth.ear_out, np.nan_to_num(crops.harvest.cut, nan=last)


def _whole(gust, _, rain, evapotranspiration, standing):
    """Seasons with every day's wind and rain as long as a crop stands, (season,)."""
    in_ear = standing.any(axis=0)
    after = np.cumsum(in_ear[:, ::-1], axis=-1)[:, ::-1] == 0
    missing = np.isnan(rain + evapotranspiration) & ~after
    return ~(missing | np.isnan(gust) & in_ear).any(axis=-1)


def refuse_few(days, kept, which):
    """Refuse fewer seasons than odds can be counted in.

    Parameters
    ----------
    days : SeasonDays
    kept : array_like of bool, shape (season,)
    which : str
        What is so of those kept, marked.
    """
    least = shipped_checks().enough.seasons_for_odds
    if np.count_nonzero(kept) < least:
        raise NotEnoughWeather(
            "{station} has {seasons} seasons {which}, sown on {sown}; it should have "
            "at least {least}.",
            station=days.known.record.station,
            seasons=np.count_nonzero(kept),
            which=say(which),
            sown=listed([month_day(each) for each in days.sowings]),
            least=least,
        )


def _gusts(record, in_ear):
    """Every day's strongest gust [m s⁻¹], its doubt [1], and the step that says how.

    Learned from days on which crops stood in ear: winter's gusts are others.
    """
    nothing = np.full(record.days, np.nan)
    gust, wind = (record.values.get(name, nothing) for name in ("gust", "wind"))
    in_ear = in_ear[in_ear < record.days]
    own = np.count_nonzero(np.isfinite(gust[in_ear]) & (wind[in_ear] > 0)) >= LEAST_BOTH
    usual = lodging.usual_gust_line()
    line = gust_line(wind[in_ear], gust[in_ear]) if own else usual
    missing, made = np.isnan(gust), gust_from_wind(wind, line)
    step = _gusts_step(gust, made, own, line)
    return np.where(missing, made, gust), np.where(missing, line.sd, 0.0), step


def _gusts_step(gust, made, own, line):
    n_made = np.count_nonzero(np.isnan(gust) & np.isfinite(made))
    says = say(
        "Strongest gust of the day measured on {measured:,} of {days:,} days",
        measured=np.count_nonzero(np.isfinite(gust)),
        days=gust.size,
    )
    if not n_made:
        return Step(say("{says}.", says=says), THE_RECORD, MEASURED)
    says = say(
        "{says}; on {made:,} made from the day's mean wind: at a mean of {wind}, "
        "{gust}, or so",
        says=says,
        made=n_made,
        wind=measured(5, "m/s"),
        gust=measured(gust_from_wind(5, line), "m/s", ".0f"),
    )
    if own:
        own_line = say("{says}, as this station has it.", says=says)
        return Step(own_line, THE_RECORD, MEASURED)
    rows = shipped("lodging")["gust_from_wind"].values()
    return step_from_rows(say("{says}.", says=says), *rows)
