"""Which field can wait its turn: what each loses by being left, and what others do.

A plan is made for the next few days with hours and hands counted exactly; what it
leaves is worth what roll-outs then bring of it. Each field is in one choice left alone
on the days of the plan, and in another cut on the first of them that it can be cut on,
by hours that the plan counts. Later days are one rule's, in the same possible summers,
so that the field's hectares take the binder and the hands from others then, in the one
and not in the other.

The more is cut in the plan already, the less another field adds to it: stooks wait for
the same carts, and the queue is shorter. So both choices are followed twice: all others
that can be cut, the ripest first, as far as the plan's hours go; and none of them. A
field loses the mean of the two, which is its fair share where any number of others may
come before it [1]_. Where what waiting costs grows with the square of the queue, fields
cut together lose together what is said of each.

References
----------
.. [1] L. S. Shapley, A value for n-person games, Contributions to the Theory of Games
   II, 1953, 307–317.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.decide.gang_day import RIPE, UNWANTED, Wish, unbegun
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
    """A rule, but on the days of the plan all that can be cut, except some fields."""

    rule: Rule
    days: int
    left: np.ndarray | bool
    """Left alone on those days: (choice, 1, field) of bool."""
    spared: np.ndarray | bool
    """As in `Wish`: (choice, 1, field) of bool."""

    def on(self, day):
        """The day's `Wish`."""
        wish = self.rule.on(day)
        if day >= self.days:
            return wish
        # What others cut, this binder does not go into.
        order = np.where(np.logical_or(self.left, self.spared), UNWANTED, wish.order)
        return wish._replace(advantage=YES, order=order, spared=self.spared)


def ripest_first(ripeness, days):
    """The plain `Rule`: on every fit day the ripest, from ripe enough on.

    On the days of the plan it goes by the ripeness expected: only later will be seen
    how ripe each crop was.

    Parameters
    ----------
    ripeness : array_like, shape (..., draw, field, day)
        [1]
    days : int
        Of the plan. [d]
    """
    seen = np.array(ripeness, dtype=float)
    seen[..., :days] = seen[..., :days].mean(axis=-3, keepdims=True)
    return Rule(np.where(seen >= RIPE, YES, NO), seen)


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
    each = np.eye(len(fields.area), dtype=bool)[:, np.newaxis]
    start, rule = unbegun(fields, at), ripest_first(ahead.ripeness, days)
    all_left = Held(rule, days, each.any(axis=0, keepdims=True), False)
    nothing = followed(start, ahead, all_left, all_left.on(0), fields, gang, losses)
    lost = []
    for some in np.array_split(each, -(-len(each) // TOGETHER)):
        ways = [Held(rule, days, others, some) for others in (some & False, ~some)]
        ways.append(Held(rule, days, some, False))
        cut, only, left = (
            _brought(start, len(some), ahead, way, fields, gang, losses) for way in ways
        )
        lost.append((cut - left + only - nothing) / 2)
    area = np.asarray(fields.area)[:, np.newaxis]
    return Turns(own[0], own[0] - own[1], np.concatenate(lost) / area)


def _brought(start, n, ahead, way, fields, gang, losses):
    """What all fields bring by each of so many choices, (choice, draw). [ha]"""
    # A choice's hectares go their own way, however many are followed together.
    start = start._replace(left=np.repeat(start.left, n, axis=0))
    return followed(start, ahead, way, way.on(0), fields, gang, losses)


def _alone(ahead, days, fields, gang, losses):
    """The same of a hectare of each field as if there were no other. (field, draw)"""
    by_field = {
        name: np.swapaxes(getattr(ahead, name), 0, 1)[:, :, np.newaxis]
        for name in ("ripeness", "worth", "can_cut")
    }
    one = dataclasses.replace(fields, area=np.ones(1), farm=np.zeros(1, dtype=int))
    area = np.asarray(fields.area, dtype=float)[:, np.newaxis, np.newaxis]
    start = unbegun(one, 0)._replace(left=area)
    alone = dataclasses.replace(ahead, **by_field)
    rule = ripest_first(alone.ripeness, days)
    ways = Held(rule, days, False, True), Held(rule, days, True, False)
    return [
        _brought(start, 1, alone, way, one, gang, losses) / area[..., 0] for way in ways
    ]


class Planned(NamedTuple):
    """A rule, but for the days of a plan, which says what is cut on each."""

    rule: Rule
    orders: np.ndarray
    """As in `Wish`, `UNWANTED` for what isn't planned: (plan day, field)."""

    def on(self, day):
        """The day's `Wish`."""
        if day >= len(self.orders):
            return self.rule.on(day)
        return Wish(YES, self.orders[day])


def as_planned(ahead, orders, at, fields, gang, losses):
    """What a plan and then the plain rule bring, and the rule alone: (2, draw). [ha]

    Parameters
    ----------
    orders : array_like, shape (plan day, field)
        As in `Planned`.
    ahead, at, fields, gang, losses : as in `turns`
    """
    rule = ripest_first(ahead.ripeness, len(orders))
    start = unbegun(fields, at)
    return np.concatenate(
        [
            followed(start, ahead, way, way.on(0), fields, gang, losses)
            for way in (Planned(rule, np.asarray(orders)), rule)
        ]
    )
