"""Plain rules that a grower would use, and perfect foresight.

Each rule says on which days of each season it would cut; it is carried out on the first
of them that the crop can be cut on. A rule sees what the advice sees: the season so far
and, where there is one, the forecast issued that day.
"""

import dataclasses

import numpy as np

NEVER = -1
"""Position of a cut never made."""


@dataclasses.dataclass(frozen=True)
class Seasons:
    """Days of past harvests on which could be cut; every array (season, day).

    A season's days run from the first on which the crop is fit to cut; days after its
    end are there only to make the rows even, and can't be cut on.
    """

    day_of_year: np.ndarray
    ripeness: np.ndarray
    """[1]"""
    can_cut: np.ndarray
    """Of bool."""
    worth: np.ndarray
    """Worth if cut that day. [0–1]"""
    dry_before: np.ndarray
    """Days running under 1 mm up to and with this one. [d]"""
    dry_ahead: np.ndarray
    """Days running that the forecast calls likelier dry than not; with no forecast,
    the dry days just past stand for them. [d]"""


def first_cut(seasons, says):
    """Day on which a rule is carried out, (season,); `NEVER` if it never is.

    Parameters
    ----------
    seasons : Seasons
    says : array_like of bool, shape (season, day)
        Days on which the rule would cut.
    """
    cuts = seasons.can_cut & says
    return np.where(cuts.any(axis=-1), cuts.argmax(axis=-1), NEVER)


def fixed_date(seasons, day_of_year):
    """From a day of the calendar on, (season, day) of bool.

    Parameters
    ----------
    seasons : Seasons
    day_of_year : int
    """
    return seasons.day_of_year >= day_of_year


def first_fit_day(seasons, ripe):
    """Ripe, and the crop dry since yesterday, (season, day) of bool.

    Parameters
    ----------
    seasons : Seasons
    ripe : float
        Ripeness called ripe. [1]
    """
    return (seasons.ripeness >= ripe) & (seasons.dry_before >= 2)


def wait_for_dry_days(seasons, ripe, n_days):
    """Ripe, and so many dry days in sight, (season, day) of bool.

    Parameters
    ----------
    seasons : Seasons
    ripe : float
        Ripeness from which dry days are waited for. [1]
    n_days : int
        Dry days asked for. [d]
    """
    return (seasons.ripeness >= ripe) & (seasons.dry_ahead >= n_days)


def ripeness_sign(seasons, sign):
    """As soon as the sign of ripeness shows, (season, day) of bool.

    Parameters
    ----------
    seasons : Seasons
    sign : float
        Ripeness at which it shows. [1]
    """
    return seasons.ripeness >= sign


def foresight(seasons):
    """The day that turns out best, (season,); `NEVER` if none can be cut on.

    Parameters
    ----------
    seasons : Seasons
    """
    worth = np.where(seasons.can_cut, seasons.worth, -np.inf)
    best = worth.argmax(axis=-1)
    return np.where(seasons.can_cut.any(axis=-1), best, NEVER)


def worth_of(seasons, cut, left):
    """Worth of cutting each season on its day, (season,). [0–1]

    Parameters
    ----------
    seasons : Seasons
    cut : array_like of int, shape (season,)
        Day of the season, or `NEVER`.
    left : float
        Worth of a crop never cut. [0–1]
    """
    cut = np.asarray(cut)
    worth = np.take_along_axis(seasons.worth, np.maximum(cut, 0)[:, None], axis=-1)
    return np.where(cut == NEVER, left, worth[:, 0])


def setting_without_season(worth, harvest_year, apart):
    """For each season the setting that did best in the others, (season,) of int.

    Parameters
    ----------
    worth : array_like, shape (setting, season)
        [0–1]
    harvest_year : array_like of int, shape (season,)
    apart : int
        Seasons nearer than this many years to the judged one are not looked at. [y]
    """
    worth, harvest_year = np.asarray(worth), np.asarray(harvest_year)
    others = np.abs(harvest_year[:, np.newaxis] - harvest_year) >= apart
    total = worth @ others.T.astype(float)
    return total.argmax(axis=0)


def running(days):
    """Length of the run of true days up to and with each day, (..., day) of int.

    Parameters
    ----------
    days : array_like of bool, shape (..., day)
    """
    days = np.asarray(days)
    count = np.cumsum(days, axis=-1)
    before = np.maximum.accumulate(np.where(days, 0, count), axis=-1)
    return count - before


def run_ahead(leads):
    """Length of the run of true leads from the first on, (...) of int.

    Parameters
    ----------
    leads : array_like of bool, shape (..., lead)
    """
    return np.cumprod(leads, axis=-1).sum(axis=-1)
