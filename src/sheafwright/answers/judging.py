"""How would the advice, plain rules and foresight have done in one past season?

A season is judged as it would have been lived: its harvest year and one on each side
are left out of all that is learned, and each day knows only the days up to it and the
forecast issued on it.
"""

import dataclasses

import numpy as np

from sheafwright.core.decide import rules
from sheafwright.core.decide.harvests import taken
from sheafwright.core.decide.learn import (
    days_without,
    draw_summers,
    known_ahead,
    learn,
)
from sheafwright.core.decide.stopping import says_cut, takings
from sheafwright.core.season.summers import came_through, fit_week
from sheafwright.feeds import decision

APART = 2
"""Seasons nearer than this to the judged one are not looked at. [y]"""
ASKED_EVERY = 2
"""Chances are asked of every second day of the harvest. [d]"""
ASKED_UP_TO = 1.15
"""And not of a crop riper than this. [1]"""
ASKED_DAYS_AHEAD = 30
"""Days ahead on which the policy may still cut. [d]"""
ASKED_SUMMERS = 200
"""Possible summers behind each chance."""
CHANCES = ("fit_week", "waiting_wins")


@dataclasses.dataclass(frozen=True)
class Judged:
    """One season under the advice."""

    cut: int
    """Day of the season, or `rules.NEVER`."""
    said: np.ndarray
    """Chances said, one a kind of `CHANCES`: (asked day, kind). [0–1]"""
    came: np.ndarray
    """Whether each came, of bool: (asked day, kind)."""


def judge(made, season, seed):
    """One season as `Judged`.

    Parameters
    ----------
    made : SeasonPast
    season : int
        Which of its harvests.
    seed : int
    """
    past, harvests = made.past, made.harvests
    year = int(harvests.harvest_year[season])
    rng = np.random.default_rng([seed, year])
    left_out = range(year - APART + 1, year + APART)
    others = taken(harvests, ~np.isin(harvests.harvest_year, left_out))
    days = days_without(past, left_out)
    policy = learn(past, days, left_out, others.start, others.start_ripeness, rng)
    here = taken(harvests, [season])
    cut = says_cut(policy, here.seasons.ripeness, past.known[here.position])
    asked = _asked(here.seasons)
    said = [_chances(past, days, policy, here, day, rng) for day in asked]
    return Judged(
        cut=int(rules.first_cut(here.seasons, cut)[0]),
        said=np.reshape(said, (-1, len(CHANCES))),
        came=_came(past, here, cut, asked),
    )


def rule_cuts(seasons):
    """Every plain rule at every setting: {rule: {setting: day cut (season,)}}.

    Parameters
    ----------
    seasons : core.decide.rules.Seasons
    """
    among = decision.rule_settings()
    says = {
        "fixed_date": {
            f"day_{day}": rules.fixed_date(seasons, day) for day in among.fixed_date
        },
        "first_fit_day": {
            f"ripe_{ripe:.2f}": rules.first_fit_day(seasons, ripe)
            for ripe in among.first_fit_day
        },
        "wait_for_dry_days": {
            f"ripe_{ripe:.2f}_days_{days}": rules.wait_for_dry_days(seasons, ripe, days)
            for ripe in among.ripe
            for days in among.dry_days
        },
        "ripeness_sign": {
            f"ripe_{sign:.2f}": rules.ripeness_sign(seasons, sign)
            for sign in among.ripeness_sign
        },
    }
    return {
        rule: {name: rules.first_cut(seasons, days) for name, days in settings.items()}
        for rule, settings in says.items()
    }


def _asked(seasons):
    """Days on which chances are asked: it can be cut, and is not long over."""
    fair = seasons.can_cut[0] & (seasons.ripeness[0] <= ASKED_UP_TO)
    return np.flatnonzero(fair)[::ASKED_EVERY]


def _chances(past, days, policy, here, day, rng):
    """Chances said on a day, in the order of `CHANCES`."""
    position = int(here.position[0, day])
    over = _days_over_before(here.seasons.ripeness[0, :day], past.losses)
    start = np.full(ASKED_SUMMERS, position)
    ripe = np.full(ASKED_SUMMERS, here.seasons.ripeness[0, day])
    signal = past.signals[position]
    paths, made = draw_summers(
        past, days, start, ripe, over, ASKED_DAYS_AHEAD, rng, signal
    )
    known = known_ahead(past, days, paths, ASKED_DAYS_AHEAD, rng)
    later = says_cut(policy, made.ripeness[:, 1:], known)
    left = past.losses.stook.never_cut
    waiting = takings(made.worth[:, 1:], made.can_cut[:, 1:], later, left)[:, 0]
    fit = decision.fit_week()
    through = fit_week(made, fit.longest_days, fit.least_share)[0]
    return through, np.mean(waiting > made.worth[:, 0])


def _days_over_before(ripeness, losses):
    """Days over full ripeness on the last of the days, -1 where not passed. [d]"""
    return int(np.count_nonzero(ripeness >= losses.ripeness.full_to)) - 1


def _came(past, here, cut, asked):
    """Whether each chance said came, (asked day, kind) of bool."""
    position, fit = here.position[0, asked], decision.fit_week()
    through = came_through(
        past.days_out[position],
        past.stook_share[position],
        fit.longest_days,
        fit.least_share,
    )
    left, seasons = past.losses.stook.never_cut, here.seasons
    waiting = takings(seasons.worth, seasons.can_cut, cut, left)[0, 1:]
    return np.stack([through, waiting[asked] > seasons.worth[0, asked]], axis=-1)
