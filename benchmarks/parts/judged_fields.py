"""One past harvest of many fields, lived by roll-outs, by plain rules and by hindsight.

The judged harvest year and the one on each side take no part in anything that is
learned, drawn or chosen; each day knows the days up to it and its forecast alone.
"""

import itertools

import numpy as np

from sheafwright.answers.judging import APART
from sheafwright.core.chance.futures import NO_FORECAST
from sheafwright.core.chance.wetness import wetness_of
from sheafwright.core.decide import gang_day, many, stopping
from sheafwright.core.decide.harvests import running
from sheafwright.core.decide.learn import (
    days_without,
    draw_paths,
    known_ahead,
    learn,
)
from sheafwright.core.decide.rules import run_ahead, setting_without_season

SUMMERS = 200
"""Possible summers behind each day's choice, and behind the rule followed after it."""
SURER = 2.0
"""Standard errors by which a choice must beat the rule."""
CUTTING_DAYS = 70
"""Looked ahead. [d]"""
EARNED = 0.0, 0.02, 0.04
"""Advantage that waiting must have to be waited for. [1]"""
HURRY = 0.0, 0.02, 0.04
"""Advantage that each ripe day of the binder's work adds. [d⁻¹]"""
STAY = 0.02
"""Ripeness by which another farm must be ahead, to move. [1]"""
RIPE_FROM, DRY_DAYS, STAYS = (0.85, 0.90, 0.95), (0, 2, 3), (0.0, many.FIRST)
YES, NO = 1.0, -1.0


def plain_rules(made):
    """Every plain rule at every setting, by kind: {kind: [`Rule`]}."""
    ripeness, dry = made.ripeness, _dry_days(made)[:, np.newaxis]
    area = np.broadcast_to(made.fields.area[:, np.newaxis], ripeness.shape)
    settings = list(itertools.product(RIPE_FROM, DRY_DAYS, STAYS))
    return {
        kind: [
            many.Rule(
                np.where((ripeness >= ripe) & (dry >= days), YES, NO), order, stay=stay
            )
            for ripe, days, stay in settings
        ]
        for kind, order in {"ripest first": ripeness, "largest first": area}.items()
    }


def _dry_days(made):
    """Dry days in sight, or running where nothing is foretold: (season, day). [d]"""
    past, position = made.past, made.position[:, 1 : made.ripeness.shape[-1] + 1]
    if not len(past.correlation):
        return running(past.weather.rain < 1)[position]
    weather = past.weather
    dry = wetness_of(1.0, weather.rain, weather.day_of_year, past.whole)
    return run_ahead(past.signals * past.correlation < dry[:, np.newaxis])[position]


def as_set(made):
    """Worth by each kind of plain rule set without the season: {kind: (season,)}."""
    start, ahead = gang_day.unbegun(made.fields, 0), made.seasons
    found = {}
    for kind, rules in plain_rules(made).items():
        worth = np.stack(
            [
                many.follow(
                    start, ahead, r, r.on(0), made.fields, made.gang, made.past.losses
                )[0]
                for r in rules
            ]
        )
        chosen = setting_without_season(worth, made.years, APART)
        found[kind] = worth[chosen, np.arange(len(made.years))]
    return found


def judge(made, season, seed, summers=SUMMERS):
    """Worth of a season by roll-outs, and by the rule that they roll out. [0–1]"""
    lived = Lived(made, season, seed, summers)
    return lived.by_roll_outs(), lived.by_rule()


class Lived:
    """A season about to be lived, and what may be learned from the others."""

    def __init__(self, made, season, seed, summers):
        year, self.made, self.season = int(made.years[season]), made, season
        self.summers, self.rng = summers, np.random.default_rng([seed, year])
        left_out = range(year - APART + 1, year + APART)
        self.days = days_without(made.past, left_out)
        self.others = np.flatnonzero(np.abs(made.years - year) >= APART)
        self.policy = self._learned(left_out)
        self.earned, self.hurry = self._best_rule()
        here = slice(season, season + 1)
        self.truth = gang_day.ahead(
            made.position[here], made.ripeness[here], made.over_before[here, :, 0],
            made.past.weather.rain, made.past.rate, made.past.losses, made.gang,
        )  # fmt: skip

    def by_rule(self):
        rule = self._rule(
            self.made.ripeness[[self.season]],
            self.made.past.known[self._position()][np.newaxis],
            self.earned,
            self.hurry,
        )
        return float(self._follow(self._start(), self.truth, rule, rule.on(0))[0, 0])

    def by_roll_outs(self):
        standing = self._start()
        for day in range(self.truth.keeps.shape[1]):
            wish = self.today(standing, day)
            standing = gang_day.a_day(
                standing, day, wish, self.truth, self.made.fields, self.made.gang,
                self.made.past.losses,
            )  # fmt: skip
        return float(
            gang_day.brought(standing, self.made.past.losses)[0, 0]
            / self.made.fields.area.sum()
        )

    def today(self, standing, day):
        """The `Wish` that roll-outs come to."""
        fields = self.made.fields
        may = np.zeros(len(fields.area), dtype=bool)
        if day < self.truth.hours.shape[1]:
            left = standing.left[0, 0] > gang_day.NOTHING
            may = self.truth.can_cut[0, :, day] & left
        if not may.any():
            return gang_day.Wish(0.0, np.full(may.shape, gang_day.UNWANTED))
        ripeness = self.made.ripeness[self.season, :, day]
        orders = many.choices(ripeness, may, fields)
        ahead, rule = self._ahead(day)
        as_ruled = rule.on(0)
        brought = np.vstack(
            [
                self._follow(standing, ahead, rule, wish)
                for wish in (gang_day.Wish(0.0, orders[:, np.newaxis]), as_ruled)
            ]
        )
        best = many.best_choice(brought, SURER)
        if best < len(orders):
            return gang_day.Wish(0.0, orders[best])
        today = slice(0, 1)
        return as_ruled._replace(
            advantage=as_ruled.advantage[today], order=as_ruled.order[today]
        )

    def _ahead(self, day):
        """Possible summers from a day on, as `Ahead`, and the `Rule` in them."""
        made, position = self.made, int(self._position()[day])
        n_days = min(made.ripeness.shape[-1] - day, CUTTING_DAYS)
        signal = made.past.signals[position]
        ripe = made.ripeness[self.season, :, day]
        start = np.full(self.summers, position)
        paths, known = self._drawn(start, n_days, signal)
        before = made.position[self.season, day]
        over = made.over_before[self.season, :, day]
        return self._valued(paths, known, start * 0 + before, ripe, over[np.newaxis])

    def _drawn(self, start, n_days, signal=NO_FORECAST):
        """Paths, and what is known on each day of them from the start on."""
        past = self.made.past
        nowhere = np.zeros(len(start))
        paths, _ = draw_paths(
            past, self.days, start, nowhere, n_days - 1, self.rng, signal
        )
        later = known_ahead(past, self.days, paths, n_days - 1, self.rng)
        return paths, np.concatenate([past.known[start][:, np.newaxis], later], axis=1)

    def _valued(self, paths, known, before, ripe, over):
        made, n_days = self.made, known.shape[1]
        gain = made.past.weather.gain[paths[:, 1:n_days]]
        grown = np.cumsum(np.column_stack([np.zeros(len(paths)), gain]), axis=-1)
        ripeness = np.asarray(ripe)[..., np.newaxis] + grown[:, np.newaxis]
        ahead = gang_day.ahead(
            np.column_stack([before, paths]), ripeness, over, made.past.weather.rain,
            made.past.rate, made.past.losses, made.gang,
        )  # fmt: skip
        return ahead, self._rule(ripeness, known, self.earned, self.hurry)

    def _rule(self, ripeness, known, earned, hurry):
        gain = stopping.advantage(self.policy, ripeness, known[:, np.newaxis])
        late = ripeness >= self.policy.settings.cut_anyway_from
        gain = np.where(late, YES, np.nan_to_num(gain, nan=NO) + earned)
        return many.Rule(gain, ripeness, hurry, STAY)

    def _learned(self, left_out):
        """When to cut one field that has a binder to itself."""
        made, fit_from = self.made, self.made.past.losses.ripeness.fit_from
        ripe = made.ripeness[self.others]
        before = np.maximum((ripe >= fit_from).argmax(axis=-1) - 1, 0)
        start = made.position[self.others, 1][:, np.newaxis] + before
        at = np.take_along_axis(ripe, before[..., np.newaxis], axis=-1)[..., 0]
        return learn(
            made.past, self.days, left_out, start.ravel(), at.ravel(), self.rng
        )

    def _best_rule(self):
        """Settings that bring most in possible summers of the other seasons."""
        self.earned = self.hurry = 0.0
        chosen = self.rng.choice(self.others, size=self.summers)
        made = self.made
        start = made.position[chosen, 1]
        paths, known = self._drawn(start, CUTTING_DAYS)
        ahead, _ = self._valued(
            paths, known, start - 1, made.ripeness[chosen, :, 0],
            made.over_before[chosen, :, 0],
        )  # fmt: skip

        def brings(setting):
            rule = self._rule(ahead.ripeness, known, *setting)
            return self._follow(self._start(), ahead, rule, rule.on(0)).mean()

        return max(itertools.product(EARNED, HURRY), key=brings)

    def _start(self):
        return gang_day.unbegun(self.made.fields, 0)

    def _position(self):
        return self.made.position[self.season, 1 : self.made.ripeness.shape[-1] + 1]

    def _follow(self, standing, ahead, rule, first):
        made = self.made
        return many.follow(
            standing, ahead, rule, first, made.fields, made.gang, made.past.losses
        )
