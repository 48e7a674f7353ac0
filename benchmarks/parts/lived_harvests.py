"""The harvests of many fields, each lived in every way, and timed."""

import time
from typing import NamedTuple

import numpy as np

from parts import foresight
from parts.case import SEED
from parts.judged_fields import SUMMERS, as_set, judge
from sheafwright.core.chance.reliability import bootstrap_share


class Foreseen(NamedTuple):
    """What one who knew the weather would bring."""

    bound: np.ndarray
    """At the most: (season,). [0–1]"""
    found: np.ndarray
    """By the plan found: (season,). [0–1]"""
    took: float
    """Of one season. [s]"""


def foreseen(made, seasons, seconds=None):
    """`Foreseen` of some of the seasons."""
    ahead, begun = made.seasons, time.process_time()
    asked = made.fields, made.gang, made.past.losses, seconds or foresight.SECONDS
    each = [foresight.most(ahead, season, *asked) for season in seasons]
    return Foreseen(*np.transpose(each), (time.process_time() - begun) / len(seasons))


def lived(made, seasons, summers=None):
    """What each way brought, {way: (season,)}, and CPU time of a season, {way: s}.

    The better of the plain rules comes first.
    """
    times = [time.process_time()]
    rules = as_set(made)
    times.append(time.process_time())
    each = [judge(made, n, SEED, summers or SUMMERS) for n in seasons]
    times.append(time.process_time())
    by_rules, by_roll_outs = np.diff(times)
    rolled, rule = np.transpose(each)
    best_first = sorted(rules, key=lambda kind: -rules[kind][seasons].mean())
    brought = {kind: rules[kind][seasons] for kind in best_first}
    return brought | {"rule learned": rule, "roll-outs": rolled}, {
        "plain rules, all settings": by_rules / len(made.years),
        "learning, and roll-outs": by_roll_outs / len(seasons),
    }


def share(brought, way):
    """`Share` of the way from the first of them to the last that one goes."""
    rule, *_, best = brought
    rng = np.random.default_rng(SEED)
    return bootstrap_share(brought[way], brought[rule], brought[best], rng)
