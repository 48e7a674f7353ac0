"""Which field can wait its turn: what each loses by being left, and what others do.

A plan is made for the next few days with hours and hands counted exactly; what it
leaves is worth what roll-outs then bring of it. Each field is in one choice left alone
on the days of the plan, and in another cut on the first of them that it can be cut on,
by hours that the plan counts. All else is done by one rule, in the same possible
summers, so that the field's hectares take the binder and the hands from others, later,
in the one and not in the other.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.decide.gang_day import RIPE, UNWANTED, unbegun
from sheafwright.core.decide.many import Rule, followed

TOGETHER = 6
"""Fields followed at a time: more no longer fit the processor's own memory."""
YES, NO = 1.0, -1.0


@dataclasses.dataclass(frozen=True)
class Turns:
    """What a hectare of each field brings, all (field, draw). [1]"""

    if_cut: np.ndarray
    """Cut on the first of the plan's days that it can be cut on, binder and hands to
    itself."""
    own_loss: np.ndarray
    """By being left, binder and hands still to itself."""
    lost: np.ndarray
    """By being left, with all the others there and their losses counted in."""

    @property
    def if_left(self):
        """What it brings if left, net of what it then costs the others."""
        return self.if_cut - self.lost

    @property
    def holds_up(self):
        """What it costs by waiting with the others, and letting them wait."""
        return self.lost - self.own_loss


class Held(NamedTuple):
    """A rule, but for some fields on the days of the plan."""

    rule: Rule
    days: int
    left: np.ndarray
    """Left alone on those days: (choice, 1, field) of bool."""
    spared: np.ndarray
    """As in `Wish`: (choice, 1, field) of bool."""

    def on(self, day):
        """The day's `Wish`."""
        wish = self.rule.on(day)
        if day >= self.days:
            return wish
        # What others cut, this binder does not go into.
        order = np.where(self.left | self.spared, UNWANTED, wish.order)
        return wish._replace(order=order, spared=self.spared)


def ripest_first(ripeness):
    """The plain `Rule`: on every fit day the ripest, from ripe enough on.

    Parameters
    ----------
    ripeness : array_like, shape (..., field, day)
        [1]
    """
    ripeness = np.asarray(ripeness)
    return Rule(np.where(ripeness >= RIPE, YES, NO), ripeness)


def turns(ahead, days, at, fields, gang, losses):
    """`Turns` of all fields.

    Parameters
    ----------
    ahead : Ahead
        From the first day of the plan on.
    days : int
        Of the plan. [d]
    at : int
        Farm where the binder stands.
    fields : Fields
    gang : Gang
    losses : Losses
    """
    own = _alone(ahead, days, fields, gang, losses)
    parts = np.array_split(
        np.eye(len(fields.area), dtype=bool)[:, np.newaxis],
        -(-len(fields.area) // TOGETHER),
    )
    start = unbegun(fields, at)
    pairs = [
        _cut_and_left(start, each, ahead, days, fields, gang, losses) for each in parts
    ]
    cut, left = (np.concatenate(each) for each in zip(*pairs, strict=True))
    area = np.asarray(fields.area)[:, np.newaxis]
    return Turns(own[0], own[0] - own[1], (cut - left) / area)


def _cut_and_left(start, each, ahead, days, fields, gang, losses):
    """What all fields bring, by whether each is cut or left, (choice, draw). [ha]"""
    rule = ripest_first(ahead.ripeness)
    none = np.zeros_like(each)
    ways = Held(rule, days, none, each), Held(rule, days, each, none)
    # A choice's hectares go their own way, however many are followed together.
    left = np.repeat(start.left, len(each), axis=0)
    start = start._replace(left=left)
    return [
        followed(start, ahead, way, way.on(0), fields, gang, losses) for way in ways
    ]


def _alone(ahead, days, fields, gang, losses):
    """The same of a hectare of each field as if there were no other. (field, draw)"""
    by_field = {
        name: np.swapaxes(getattr(ahead, name), 0, 1)[:, :, np.newaxis]
        for name in ("ripeness", "worth", "can_cut")
    }
    one = dataclasses.replace(fields, area=np.ones(1), farm=np.zeros(1, dtype=int))
    area = np.asarray(fields.area, dtype=float)[:, np.newaxis, np.newaxis]
    start = unbegun(one, 0)._replace(left=area)
    each, alone = np.ones((1, 1, 1), dtype=bool), dataclasses.replace(ahead, **by_field)
    pair = _cut_and_left(start, each, alone, days, one, gang, losses)
    return [worth / area[..., 0] for worth in pair]
