"""How the decision is set, and what losses it is judged by, from the tables."""

import dataclasses

from sheafwright.core.decide.known import Memory
from sheafwright.core.decide.learn import FutureSettings, Settings
from sheafwright.core.decide.stopping import Stopping
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.losses import Drying, Losses, Ripeness, StookLosses
from sheafwright.feeds.tables import (
    build,
    build_shipped,
    read_file,
    shipped,
    within,
)
from sheafwright.feeds.telling import say

SECTIONS = {"ripeness": Ripeness, "stook": StookLosses, "drying": Drying}


@dataclasses.dataclass(frozen=True)
class FitWeek:
    """What is called a fit spell for the stooks."""

    longest_days: int
    """Days in the stook. [d]"""
    least_share: float
    """Share of the worth kept. [1]"""


@dataclasses.dataclass(frozen=True)
class RuleSettings:
    """Settings among which each plain rule may choose."""

    fixed_date: tuple[int, ...]
    first_fit_day: tuple[float, ...]
    ripe: tuple[float, ...]
    dry_days: tuple[int, ...]
    ripeness_sign: tuple[float, ...]


def losses(path=None):
    """`Losses` of the package, or of a user's own file."""
    table = read_file(path) if path else shipped("losses")
    where = str(path) if path else "losses.toml"
    parts = {
        name: build(kind, table.get(name, {}), within(where, name))
        for name, kind in SECTIONS.items()
    }
    table = Losses(**parts)
    for wrong, says in _impossible(table):
        if wrong:
            raise OutOfRange("{where}: {says}.", where=where, says=says)
    return table


def _impossible(table):
    """What no table of losses could say, with what would be right."""
    ripe, stook, drying = table.ripeness, table.stook, table.drying
    shares = (*stook.rain_loss_share, stook.late_loss_share, stook.floor)
    shares += (stook.never_carted, stook.never_cut)
    moistures = (drying.equilibrium, drying.fit_to_carry, drying.at_cutting)
    steps = stook.rain_loss_mm
    yield (
        not 0 < ripe.fit_from <= ripe.full_from <= ripe.full_to,
        say("fit_from, full_from and full_to should rise from above 0"),
    )
    yield (
        not all(0 <= share <= 1 for share in shares),
        say("shares of a perfect crop should be from 0 to 1"),
    )
    yield (
        len(steps) != len(stook.rain_loss_share) or list(steps) != sorted(set(steps)),
        say("rain_loss_mm should rise, with a rain_loss_share for each"),
    )
    yield (
        not 0 < moistures[0] < moistures[1] < moistures[2] < 1,
        say("equilibrium, fit_to_carry and at_cutting should rise between 0 and 1"),
    )
    yield (
        not (drying.rate_per_dry_day > 0 and stook.longest_days >= 1),
        say("rate_per_dry_day should be above 0, and longest_days at least 1"),
    )


def settings():
    """`Settings` of learning when to cut."""
    return Settings(
        futures=_section(FutureSettings, "futures"),
        memory=_section(Memory, "memory"),
        stopping=_section(Stopping, "stopping"),
        expectation_ridge=shipped("decision")["expectation"]["ridge"].value,
    )


def forecast_skill():
    """Brier skill of forecasts by lead, 1 day first."""
    return shipped("decision")["forecast"]["brier_skill"].value


def fit_week():
    """`FitWeek`."""
    return _section(FitWeek, "fit_week")


def rule_settings():
    """`RuleSettings`."""
    return _section(RuleSettings, "rules")


def _section(kind, section):
    return build_shipped(kind, "decision", section)
