"""Would the advice have done better than plain rules, over every season on record?"""

import concurrent.futures
import dataclasses
import datetime
import os

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.daily import daily_weather
from sheafwright.answers.judging import APART, CHANCES, judge, rule_cuts
from sheafwright.answers.known_days import altitude_of, latitude_of
from sheafwright.answers.season_past import season_past, variety
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.chance.foretelling import correlation_of_skill
from sheafwright.core.chance.reliability import (
    Reliability,
    Share,
    bootstrap_share,
    reliability,
)
from sheafwright.core.chance.scores import brier_skill
from sheafwright.core.decide import rules
from sheafwright.feeds import decision
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, told

TENTHS = np.linspace(0, 1, 11)
AS_ASKED = mark("As asked")
SPOILED = 0.5
"""A crop that brought less than this share of a perfect one is called spoiled. [1]"""


@dataclasses.dataclass(frozen=True)
class Outcome:
    """What one policy did with every season, each (season,)."""

    cut: np.ndarray
    """Day of the season, or `rules.NEVER`."""
    worth: np.ndarray
    """[0–1]"""

    @property
    def spoiled(self):
        """Seasons whose crop was spoiled."""
        return int(np.count_nonzero(self.worth < SPOILED))


@dataclasses.dataclass(frozen=True)
class Chance:
    """How far the chances of one kind, said in replay, can be trusted."""

    bins: Reliability
    skill: float
    """Brier skill over how often the event came in other seasons. [1]"""


@dataclasses.dataclass(frozen=True)
class Replay:
    """The answer."""

    station: str
    forecasts: str
    years: np.ndarray
    ripe: tuple[datetime.date, ...]
    dates: np.ndarray
    """Date of each day of each season: (season, day) of datetime64."""
    days_out: np.ndarray
    """Days in the stook of what is cut on each day: (season, day)."""
    policies: dict[str, Outcome]
    """The advice, the plain rules as each would be set, and foresight."""
    settings: dict[str, Outcome]
    """Every plain rule at every setting."""
    best_rule: str
    share: Share
    chances: dict[str, Chance]
    refused: tuple
    working: tuple[Step, ...]

    @property
    def sentence(self):
        """The answer in a sentence."""
        return wording.replayed(
            self.station,
            len(self.years),
            self.policies["advice"],
            self.best_rule,
            self.policies[self.best_rule],
            self.policies["foresight"],
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        everything = self.policies | self.settings
        return {
            "sentence": self.sentence,
            "station": self.station,
            "forecast_skill": self.forecasts,
            "seasons": [
                self._season(number, everything) for number in range(len(self.years))
            ],
            "seasons_refused": [
                {"year": each.harvest_year, "why": told(each.why)}
                for each in self.refused
            ],
            "policies": {
                name: {
                    "mean": float(each.worth.mean()),
                    "p10": float(np.quantile(each.worth, 0.1)),
                    "spoiled": each.spoiled,
                }
                for name, each in everything.items()
            },
            "best_plain_rule": self.best_rule,
            "share_of_foresight": _finite(self.share.share),
            "interval_90": [_finite(self.share.low), _finite(self.share.high)],
            "reliability": [
                {"of": kind, "said": said, "came": came, "n": int(n)}
                | {"low": low, "high": high}
                for kind, chance in self.chances.items()
                for said, came, n, low, high in _rows(chance.bins)
            ],
            "brier_skill": {kind: _finite(c.skill) for kind, c in self.chances.items()},
            "working": steps_to_json(self.working),
        }

    def _season(self, number, everything):
        return {
            "year": int(self.years[number]),
            "ripe_date": self.ripe[number].isoformat(),
            "policies": {
                name: self._carried_out(number, each)
                for name, each in everything.items()
            },
        }

    def _carried_out(self, number, outcome):
        """What a policy did in a season; no carting date where stooks never dried."""
        cut, worth = int(outcome.cut[number]), float(outcome.worth[number])
        if cut == rules.NEVER:
            return {"cut_date": None, "carried_date": None, "worth": worth}
        date, out = self.dates[number, cut], int(self.days_out[number, cut])
        carried = str(date + out) if out > 0 else None
        return {"cut_date": str(date), "carried_date": carried, "worth": worth}


@dataclasses.dataclass(frozen=True)
class Sowing:
    """What is replayed: the same sowing in every year."""

    month: int
    day: int
    variety_class: str | None = None
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""


def replay(record, sowing, forecasts="none", losses=None, seed=1):
    """The advice for a sowing replayed over every season on record: `Replay`.

    Parameters
    ----------
    record : sheafwright.feeds.weather.record.WeatherRecord
    sowing : Sowing
    forecasts : str
        ``none``, or ``modelled``: made as good as real ones.
    losses : core.inputs.losses.Losses, optional
        The package's own if not given.
    seed : int
    """
    rng = np.random.default_rng(seed)
    made, steps = prepared(record, sowing, forecasts, losses or decision.losses(), rng)
    numbers = range(len(made.harvests.harvest_year))
    # The sums release the interpreter, so that threads share the cores.
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        judged = list(pool.map(lambda number: judge(made, number, seed), numbers))
    policies, settings = _outcomes(made, [each.cut for each in judged])
    best = max(set(policies) - {"advice", "foresight"}, key=_mean_of(policies))
    worths = [policies[name].worth for name in ("advice", best, "foresight")]
    harvests = made.harvests
    return Replay(
        station=record.station,
        forecasts=forecasts,
        years=harvests.harvest_year,
        ripe=tuple(record.dates[harvests.ripe].astype(object)),
        dates=record.dates[harvests.position],
        days_out=made.past.days_out[harvests.position],
        policies=policies,
        settings=settings,
        best_rule=best,
        share=bootstrap_share(*worths, rng),
        chances=_trusted(judged, harvests.harvest_year, rng),
        refused=made.refused,
        working=(*steps, *_working(sowing, forecasts, best)),
    )


def prepared(record, sowing, forecasts, losses, rng, signals=None):
    """The `SeasonPast` that is replayed, and the steps that it rests on.

    Forecasts already issued, ``signals`` (day, lead), are taken as they were.
    """
    latitude = latitude_of(record, sowing.latitude)
    altitude, assumed = altitude_of(record, sowing.altitude)
    weather = daily_weather(record, latitude, altitude)
    sown_on = sowing.month, sowing.day
    sort, skill = variety(sowing.variety_class, *sown_on), _correlation(forecasts)
    made = season_past(
        record,
        weather,
        latitude,
        sown_on,
        sort,
        losses,
        skill,
        rng,
        signals=signals,
    )
    return made, (*assumed, *weather.steps, sort.step)


def _correlation(forecasts):
    if forecasts == "none":
        return np.empty(0)
    return correlation_of_skill(decision.forecast_skill())


def _outcomes(made, advised):
    """Outcomes of the policies, and of every plain rule at every setting."""
    seasons, left = made.harvests.seasons, made.past.losses.stook.never_cut

    def outcome(cut):
        return Outcome(np.asarray(cut), rules.worth_of(seasons, cut, left))

    policies, settings = {"advice": outcome(advised)}, {}
    for rule, cuts in rule_cuts(seasons).items():
        each = {f"{rule}_{name}": outcome(cut) for name, cut in cuts.items()}
        policies[rule] = _as_set(list(each.values()), made.harvests.harvest_year)
        settings |= each
    policies["foresight"] = outcome(rules.foresight(seasons))
    return policies, settings


def _as_set(outcomes, years):
    """A rule as a grower would have set it who knew all seasons but those about."""
    worth = np.stack([each.worth for each in outcomes])
    cut = np.stack([each.cut for each in outcomes])
    chosen = rules.setting_without_season(worth, years, APART)
    season = np.arange(len(years))
    return Outcome(cut[chosen, season], worth[chosen, season])


def _mean_of(policies):
    return lambda name: policies[name].worth.mean()


def _trusted(judged, years, rng):
    """How far each kind of chance can be trusted: {kind: `Chance`}."""
    year = np.repeat(years, [len(each.said) for each in judged])
    said = np.concatenate([each.said for each in judged])
    came = np.concatenate([each.came for each in judged]).astype(float)
    usual = _usual(came, year)
    return {
        kind: Chance(
            bins=reliability(said[:, k], came[:, k], year, TENTHS, rng),
            skill=float(brier_skill(said[:, k], came[:, k], usual[:, k])),
        )
        for k, kind in enumerate(CHANCES)
    }


def _usual(came, year):
    """How often each kind came in the seasons not left out: (asked day, kind)."""
    years = np.unique(year)
    others = {each: came[np.abs(year - each) >= APART].mean(axis=0) for each in years}
    return np.stack([others[each] for each in year])


def _working(sowing, forecasts, best):
    skill = shipped("decision")["forecast"]["brier_skill"]
    yield Step(wording.sown_every_year(sowing.month, sowing.day), AS_ASKED, GIVEN)
    yield Step(
        wording.spoiled_below(SPOILED, best), mark("Our own word for it"), "assumed"
    )
    yield Step(wording.LEFT_OUT, mark("Leave one season out"), "closed form")
    if forecasts == "none":
        yield Step(wording.REPLAYED_WITHOUT_FORECASTS, AS_ASKED, GIVEN)
        return
    yield step_from_rows(wording.modelled_forecasts(skill.value), skill)


def _rows(bins):
    columns = (bins.said, bins.came, bins.n, bins.low, bins.high)
    return zip(*(column.tolist() for column in columns), strict=True)


def _finite(number):
    return float(number) if np.isfinite(number) else None
