"""The signs of ripening seen on a walk, and what they say about the ripeness.

Each kind of sign passes through levels as the crop ripens. At a given ripeness the
level seen follows an ordered logistic: the chance of having passed from one level to
the next rises through one half at its midpoint.
"""

import math

import numpy as np

from sheafwright.core.crop.progress import per_day
from sheafwright.core.errors import OutOfRange


def level_chances(ripeness, ladder):
    """Chance of seeing each level of a sign, (..., level). [0–1]

    Parameters
    ----------
    ripeness : array_like, shape (...)
        Ripeness, 1 at hard dough; 0 for a crop not yet in flower. [1]
    ladder : SignLadder
    """
    steps = (per_day(ripeness) - np.asarray(ladder.midpoints)) / ladder.width
    # The logistic written as a tanh can't overflow.
    passed = 0.5 * (1 + np.tanh(0.5 * steps))
    edge = np.ones_like(passed[..., :1])
    at_least = np.concatenate([edge, passed, 0 * edge], axis=-1)
    true_level = -np.diff(at_least, axis=-1)
    return (1 - ladder.misread) * true_level + ladder.misread / len(ladder.levels)


def likelihood(ripeness, seen, ladders):
    """Likelihood of the signs seen together, (...). [0–1]

    Given the ripeness, one sign is taken to say nothing of another.

    Parameters
    ----------
    ripeness : array_like, shape (...)
        Ripeness of each draw on the day of the walk. [1]
    seen : mapping of str to str
        Level seen of each kind of sign.
    ladders : mapping of str to SignLadder
    """
    chances = (
        level_chances(ripeness, ladder)[..., ladder.levels.index(level)]
        for ladder, level in _matched(seen, ladders)
    )
    return math.prod(chances, start=np.ones(np.shape(ripeness)))


def _matched(seen, ladders):
    """The ladder and level of each sign seen."""
    for kind, level in seen.items():
        if kind not in ladders:
            raise OutOfRange(
                "{sign} is not a sign we know; it should be one of {signs}.",
                sign=repr(kind),
                signs=", ".join(ladders),
            )
        if level not in ladders[kind].levels:
            raise OutOfRange(
                "The sign {sign} can't be {level}; it should be one of {levels}.",
                sign=kind,
                level=repr(level),
                levels=", ".join(ladders[kind].levels),
            )
        yield ladders[kind], level
