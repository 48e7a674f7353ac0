"""Which fields to cut today: choices followed through the same possible summers.

One binder serves many fields, so that a field's waiting has a price to all the others.
Each choice for today is followed by one rule for all later days, and so is that rule's
own choice: what a choice brings more is what it is worth today [1]_.

References
----------
.. [1] D. P. Bertsekas, J. N. Tsitsiklis and C. Wu, Rollout algorithms for combinatorial
   optimization, Journal of Heuristics 3, 1997, 245–262.
"""

import dataclasses

import numpy as np

from sheafwright.core.decide.gang_day import NOTHING, UNWANTED, Wish, a_day, brought

BEGIN_FROM = (0.75, 0.80, 0.84, 0.87, 0.90, 0.95)
"""Ripeness from which today's choices begin. [1]"""
FIRST = 10.0
"""More than any ripeness: a farm that comes first comes before all others."""


@dataclasses.dataclass(frozen=True)
class Rule:
    """What is wished for on each day."""

    advantage: np.ndarray
    """As in `Wish`: (draw, field, day)."""
    order: np.ndarray
    """As in `Wish`: (draw, field, day)."""
    hurry: float = 0.0
    stay: float = 0.0

    def on(self, day):
        """The day's `Wish`."""
        gain, order = self.advantage[..., day], self.order[..., day]
        return Wish(gain, order, self.hurry, self.stay)


def choices(ripeness, may, fields):
    """Orders in which fields may be cut today, none of them first: (choice, field).

    The ripest first, from one ripeness or another on, and the fields of one farm before
    all others; `UNWANTED` fields are left alone.

    Parameters
    ----------
    ripeness : array_like, shape (field,)
        [1]
    may : array_like of bool, shape (field,)
        Fields that can be cut today, and are not done.
    fields : Fields
    """
    begin = np.array(BEGIN_FROM)[:, np.newaxis, np.newaxis]
    farms = np.unique(fields.farm)
    first = np.vstack([farms[:, np.newaxis] == fields.farm, np.zeros_like(may)])
    order = np.where(may & (ripeness >= begin), ripeness + FIRST * first, UNWANTED)
    order = np.vstack([np.full(may.shape, UNWANTED), *order])
    # Two ways to the same order are one choice.
    place = np.where(order > UNWANTED, np.argsort(np.argsort(-order)), -1)
    _, kept = np.unique(place, axis=0, return_index=True)
    return order[np.sort(kept)]


def follow(standing, ahead, rule, first, fields, gang, losses):
    """What the harvest brings, (choice, draw), as a share of a perfect one. [0–1]

    Parameters
    ----------
    standing : Standing
        This morning, before the day's weather.
    ahead : Ahead
    rule : Rule
        Followed from the second day on.
    first : Wish
        The first day's; choices for it on the first axis.
    fields : Fields
    gang : Gang
    losses : Losses
    """
    worth = followed(standing, ahead, rule, first, fields, gang, losses)
    return worth / np.sum(fields.area)


def followed(standing, ahead, rule, first, fields, gang, losses):
    """What the harvest brings, weighed by its worth: (choice, draw). [ha]

    Parameters
    ----------
    standing, ahead, rule, first, fields, gang, losses : as in `follow`
    """
    for day in range(ahead.keeps.shape[1]):
        wish = first
        if 0 < day < ahead.hours.shape[1]:
            wish = rule.on(day)
        standing = a_day(standing, day, wish, ahead, fields, gang, losses)
        if not standing.area.any() and (standing.left <= NOTHING).all():
            break
    return brought(standing, losses)


def best_choice(brought, surer):
    """Choice that brings most, or the last if none is surely better.

    Parameters
    ----------
    brought : array_like, shape (choice, draw)
        The last choice is to follow the rule today too.
    surer : float
        Standard errors by which another must be better, summer by summer. [1]
    """
    gain = brought - brought[-1]
    mean, error = gain.mean(axis=-1), gain.std(axis=-1) / np.sqrt(gain.shape[-1])
    best = int(mean.argmax())
    return best if mean[best] > surer * error[best] else len(gain) - 1
