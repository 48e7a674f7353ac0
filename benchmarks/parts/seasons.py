"""The replay as a piece of work: whole, and one season's phases."""

import numpy as np

from parts.case import SEED, record
from parts.timing import median_time
from sheafwright.answers.judging import APART, judge
from sheafwright.answers.replay import Sowing, prepared, replay
from sheafwright.core.decide.learn import days_without, learn
from sheafwright.feeds import decision

SOWN = (10, 10)


def asked(small):
    """The record, and the sowing replayed on it."""
    station, latitude, altitude = record(small)
    return station, Sowing(*SOWN, latitude=latitude, altitude=altitude)


def whole(station, sowing, forecasts):
    """How many seasons were replayed, and the `Time` it took."""
    answers = []
    took = median_time(lambda: answers.append(replay(station, sowing, forecasts)), 1)
    return len(answers[0].years), took


def phases(station, sowing, forecasts, n_seasons):
    """CPU time of preparing the record, and of a season's phases: {phase: s}."""
    found = []

    def prepare():
        rng = np.random.default_rng(SEED)
        found.append(prepared(station, sowing, forecasts, decision.losses(), rng)[0])

    preparing = median_time(prepare, 1).cpu
    made = found[0]
    every = [_season(made, each) for each in range(n_seasons)]
    leaving, learning, judging = np.median(every, axis=0)
    return {
        "prepare the record, once": preparing,
        "leave a season and its neighbours out": leaving,
        "learn the policy": learning,
        "ask the chances, and judge": judging - leaving - learning,
    }


def _season(made, season):
    """CPU time of leaving a season out, of learning, and of all."""
    past, harvests = made.past, made.harvests
    year = int(harvests.harvest_year[season])
    left_out = range(year - APART + 1, year + APART)
    rng, found = np.random.default_rng(SEED), []

    def leave():
        found.append(days_without(past, left_out))

    def learn_without():
        starts, ripe = harvests.start, harvests.start_ripeness
        learn(past, found[0], left_out, starts, ripe, rng)

    work = (leave, learn_without, lambda: judge(made, season, SEED))
    return [median_time(each, 1).cpu for each in work]
