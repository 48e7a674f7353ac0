"""Cut or wait today?

The policy is the one that the replay judges: learned from every harvest but this one,
and waiting valued by what it would itself make of the days to come.
"""

import dataclasses
import datetime
from typing import NamedTuple

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.crop.development import cutting_window
from sheafwright.core.decide.harvests import taken
from sheafwright.core.decide.known import foretold, known_on_record
from sheafwright.core.decide.learn import known_ahead, learn_from, lessons
from sheafwright.core.decide.otherwise import drying_times, losses_times, revalued
from sheafwright.core.decide.stopping import Policy, advantage, says_cut, takings
from sheafwright.core.season.summers import came_through
from sheafwright.core.season.worth import days_over, ripeness_worth
from sheafwright.feeds import crop, decision
from sheafwright.feeds.telling import again, joined

CUT, WAIT, NOT_FIT, TOO_LATE = "cut", "wait", "not_fit", "too_late"
CHANGES = {
    "losses_halve": (losses_times, 0.5),
    "losses_double": (losses_times, 2.0),
    "drying_halves": (drying_times, 0.5),
    "drying_doubles": (drying_times, 2.0),
}


@dataclasses.dataclass(frozen=True)
class FitWeek:
    """The stooks' chances."""

    chance: float
    """That some day, while the crop is fit to bind, opens a fit spell. [0–1]"""
    by_start: np.ndarray
    """That stooks cut on each day from today, ripe or not, come through one:
    (1 + cut,). [0–1]"""


class Choice(NamedTuple):
    """What a policy says today."""

    policy: Policy
    gain: float
    """Worth of cutting today less that of waiting. [1]"""
    action: str


@dataclasses.dataclass(frozen=True)
class Advice:
    """What to do today."""

    action: str
    sentence: str
    holds: dict[str, bool]
    """Whether it stays the same under each of ``CHANGES``."""
    worth_now: float
    """Of cutting today, whether or not it can be. [0–1]"""
    worth_waiting: float
    """[0–1]"""
    chance_waiting_wins: float
    """[0–1]"""

    @property
    def with_doubt(self):
        """The sentence, and whether other losses or drying would change the choice."""
        doubts = self.action in (CUT, WAIT) and wording.doubts(self.holds)
        return joined(again(self.sentence), doubts)

    def to_json(self):
        """The advice as it leaves Python."""
        return {
            "action": self.action,
            "sentence": again(self.sentence),
            **{f"holds_if_{name}": same for name, same in self.holds.items()},
            "worth_now": round(self.worth_now, 4),
            "worth_waiting": round(self.worth_waiting, 4),
            "chance_waiting_wins": round(self.chance_waiting_wins, 4),
        }


def window_opens(season):
    """10, 50 and 90 % dates on which the binder's window opens; None for never."""
    opens, _ = cutting_window(season.ahead.ripeness, crop.cutting_window())
    return [season.date(day) for day in weighted_quantiles(opens, BAND)]


def fit_week(season, made):
    """`FitWeek` of a field's possible summers, `Summers`."""
    settings = decision.fit_week()
    through = came_through(
        made.days_out, made.stook_share, settings.longest_days, settings.least_share
    )
    opens, closes = cutting_window(season.ahead.ripeness, crop.cutting_window())
    day = season.known.since_sowing + np.arange(through.shape[1])
    # A window not closed within the days looked at is open to their end.
    closed = day > np.nan_to_num(closes, nan=np.inf)[:, np.newaxis]
    in_window = (day >= opens[:, np.newaxis]) & ~closed
    opening = through & made.can_cut & in_window
    return FitWeek(
        chance=float(opening.any(axis=-1).mean()),
        by_start=through.mean(axis=0),
    )


def advise(season, made, week):
    """`Advice` for today.

    Parameters
    ----------
    season : sheafwright.answers.field_season.FieldSeason
    made : sheafwright.core.season.summers.Summers
        Its possible summers.
    week : FitWeek
    """
    taught, known = _lessons(season), _known_today(season)
    choice = _choice(season, season.learned.past, taught, known)
    following = _following(season, made, choice.policy)
    now, waiting = made.worth[:, 0].mean(), following.mean()
    if choice.action in (CUT, WAIT):
        waiting = np.clip(now - choice.gain, 0, 1)
    wins = float((following > made.worth[:, 0]).mean())
    return Advice(
        action=choice.action,
        sentence=_sentence(season, made, choice.action, week, (now, waiting), wins),
        holds=_holds(season, taught, known, choice.action),
        worth_now=float(now),
        worth_waiting=float(waiting),
        chance_waiting_wins=wins,
    )


def worth_by_aim(season, made):
    """Worth of cutting on the first day that can be cut on from each on, (draw, day).

    Parameters
    ----------
    season, made : as in `advise`
    """
    whenever = np.ones_like(made.can_cut)
    left = season.losses.stook.never_cut
    return takings(made.worth, made.can_cut, whenever, left)[:, :-1]


def _known_today(season):
    """What is known today, with the forecast issued, (feature,)."""
    past = season.learned.past
    known = known_on_record(past.sky, past.memories)[-1]
    if not len(past.correlation):
        return known
    return np.concatenate([known, foretold(season.signal, past.correlation)])


def _lessons(season):
    """What a policy is learned from: every harvest but this one."""
    harvests = season.learned.harvests
    others = taken(harvests, harvests.harvest_year != season.harvest_year)
    rng = np.random.default_rng([season.question.seed, 1])
    return lessons(
        season.learned.past, season.days, others.start, others.start_ripeness, rng
    )


def _choice(season, past, taught, known):
    """The policy under a past's losses, and what it says today: `Choice`."""
    policy = learn_from(past, taught, [season.harvest_year])
    ripe = season.ripeness_ahead[:, 0]
    each = np.broadcast_to(known, (len(ripe), len(known)))
    # The crop may be any of those that may be.
    gain = float(advantage(policy, ripe, each).mean())
    return Choice(policy, gain, _action(season, past.losses, policy, gain))


def _holds(season, taught, known, action):
    """Whether the action stays the same under each of ``CHANGES``."""
    holds = {}
    for name, (times, factor) in CHANGES.items():
        losses = times(season.losses, factor)
        past = revalued(season.learned.past, losses, season.learned.counted)
        holds[name] = _choice(season, past, taught, known).action == action
    return holds


def _action(season, losses, policy, gain):
    ripe, table = season.ripeness_ahead, losses.ripeness
    over = days_over(ripe, table.full_to, season.over_before)
    left = ripeness_worth(ripe, over, table)[:, 0] <= losses.stook.never_cut
    today = ripe[:, 0]
    if _mostly(left & (today > table.full_to)):
        return TOO_LATE
    if not _mostly(today >= table.fit_from) or season.rain_today >= table.cutting_rain:
        return NOT_FIT
    if gain >= 0 or _mostly(today >= policy.settings.cut_anyway_from):
        return CUT
    return WAIT


def _mostly(draws):
    return np.mean(draws) >= 0.5


def _following(season, made, policy):
    """Worth of following the policy from tomorrow on, (draw,). [0–1]"""
    past, n_cuts = season.learned.past, season.ahead.n_cuts
    rng = np.random.default_rng([season.question.seed, 2])
    known = known_ahead(past, season.days, season.ahead.paths, n_cuts, rng)
    cut = says_cut(policy, made.ripeness[:, 1:], known)
    left = season.losses.stook.never_cut
    return takings(made.worth[:, 1:], made.can_cut[:, 1:], cut, left)[:, 0]


def _sentence(season, made, action, week, worths, wins):
    today, perfect = season.known.as_of, season.perfect
    if action == CUT:
        through = float(week.by_start[0])
        return wording.cut(today, through, worths, wins, perfect)
    if action == WAIT:
        return wording.wait(today, worths, wins, best_day(season, made), perfect)
    if action == TOO_LATE:
        return wording.too_late(today)
    if _mostly(season.ripeness_ahead[:, 0] >= season.losses.ripeness.fit_from):
        return wording.too_wet(today, season.rain_today, *_next_dry_day(season))
    return wording.too_green(today, window_opens(season))


def best_day(season, made):
    """The day to aim for that is worth most, or None where that is hardly any wait."""
    best = int(worth_by_aim(season, made).mean(axis=0).argmax())
    return season.known.as_of + datetime.timedelta(best) if best > 1 else None


def _next_dry_day(season):
    """The first day ahead likelier dry enough than not, and its chance."""
    dry = (season.ahead.rain[:, 1:] < season.losses.ripeness.cutting_rain).mean(axis=0)
    likely = np.flatnonzero(dry > 0.5)
    if not likely.size:
        return None, 0.0
    first = int(likely[0])
    return season.known.as_of + datetime.timedelta(1 + first), float(dry[first])
