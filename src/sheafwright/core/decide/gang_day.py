"""One binder and few hands at work for a day in many fields, in possible summers.

The binder cuts, hands set up behind it, and the same hands cart what is fit. What is
wished for is carried out as far as fit hours and hands go, with part-fields and moves
between farms. What is cut on one day stands in stooks together: they share their
weather, so that they dry and spoil alike whatever field they came from.

Leading axes are (choice, draw): choices for today, followed through the same summers.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.drying.stook import standing_days
from sheafwright.core.moisture.basis import dry_basis
from sheafwright.core.season.worth import can_cut, days_over, ripeness_worth

MOST_FIELDS = 5
"""Fields that the binder goes into in a day."""
NOTHING = 1e-9
"""Less than this is no field and no load. [ha]"""
RIPE = 0.90
"""Ripeness from which a field waits for the binder. [1]"""
UNWANTED = -np.inf


@dataclasses.dataclass(frozen=True)
class Gang:
    """A binder, and the hands that go with it."""

    binder: float
    """Area that it cuts in an hour. [ha h⁻¹]"""
    move: float
    """Fit time lost by going to another farm. [h]"""
    fit_hours: float
    """Of a day that follows a dry one. [h]"""
    fit_hours_after_rain: float
    """Of a day that follows a wet one. [h]"""
    wet_from: float
    """Rain of the day before that calls it wet. [mm d⁻¹]"""
    hands: float
    """Hours of all hands in a day. [h d⁻¹]"""
    cutting: float
    """Hours of hands that cut and set up a hectare. [h ha⁻¹]"""
    carting: float
    """Hours of hands that cart a hectare. [h ha⁻¹]"""
    most_fields: int = MOST_FIELDS


@dataclasses.dataclass(frozen=True)
class Fields:
    """What there is to cut, each (field,)."""

    area: np.ndarray
    """[ha]"""
    farm: np.ndarray
    """Which farm it lies on, of int."""


@dataclasses.dataclass(frozen=True)
class Ahead:
    """Days that come; the first is the day decided on."""

    ripeness: np.ndarray
    """(draw, field, day). [1]"""
    worth: np.ndarray
    """Of what is cut that day, its stooks apart: (draw, field, day). [1]"""
    can_cut: np.ndarray
    """(draw, field, day) of bool."""
    hours: np.ndarray
    """Fit for the binder: (draw, day). [h]"""
    keeps: np.ndarray
    """Share of their moisture above equilibrium that stooks keep that day, longer than
    may be cut: (draw, longer). [1]"""
    gains: np.ndarray
    """Moisture that they gain, dry basis: (draw, longer). [1]"""
    takes: np.ndarray
    """Share of their worth that rain takes: (draw, longer). [1]"""
    carries: np.ndarray
    """Whether may be carted, (draw, longer) of bool."""


class Standing(NamedTuple):
    """How the harvest stands on a morning; leading axes as they come."""

    left: np.ndarray
    """Not cut: (..., field). [ha]"""
    at: np.ndarray
    """Farm where the binder stands: (...)."""
    area: np.ndarray
    """In stooks, by day of cutting, oldest first: (..., cut). [ha]"""
    worth: np.ndarray
    """The same, weighed by its worth at cutting: (..., cut). [ha]"""
    excess: np.ndarray
    """Their moisture above equilibrium, dry basis: (..., cut). [1]"""
    lost: np.ndarray
    """Share of their worth lost so far: (..., cut). [1]"""
    days_out: np.ndarray
    """(..., cut). [d]"""
    home: np.ndarray
    """Carted, weighed by its worth: (...). [ha]"""


class Wish(NamedTuple):
    """Which fields are wanted on one day, and which first."""

    advantage: np.ndarray
    """Of cutting now over waiting; wanted where it is not negative: (..., field)."""
    order: np.ndarray
    """The higher the sooner; `UNWANTED` is never cut: (..., field)."""
    hurry: float = 0.0
    """Advantage added for each day of the binder's work that is ripe. [d⁻¹]"""
    stay: float = 0.0
    """Order added where the binder stands already. [1]"""
    spared: np.ndarray | bool = False
    """What is cut that day, if it can be, by hours counted elsewhere: (..., field)."""


def fit_hours(rain, gang):
    """Hours fit for the binder by the rain of the day before, (..., day - 1). [h]

    Parameters
    ----------
    rain : array_like, shape (..., day)
        [mm d⁻¹]
    gang : Gang
    """
    wet = np.asarray(rain)[..., :-1] >= gang.wet_from
    return np.where(wet, gang.fit_hours_after_rain, gang.fit_hours)


def ahead(paths, ripeness, over_before, rain, rate, losses, gang):
    """`Ahead` along paths of whole days.

    Parameters
    ----------
    paths : array_like of int, shape (draw, 1 + longer)
        Positions in the record; the first is the day before the one decided on.
    ripeness : array_like, shape (draw, field, day)
        On the days that may be cut on. [1]
    over_before : array_like of int, shape (draw or 1, field)
        Days over full ripeness on the first position; -1 where not passed. [d]
    rain, rate : array_like, shape (record day,)
        Rain [mm d⁻¹]; drying rate [d⁻¹].
    losses : Losses
    gang : Gang
    """
    n_days, table = ripeness.shape[-1], losses.ripeness
    over = days_over(
        ripeness,
        table.full_to,
        np.broadcast_to(over_before, ripeness.shape[:2]),
    )
    value = ripeness_worth(ripeness, over, table)
    fell = rain[paths[:, : n_days + 1]]
    standing = ~((value <= losses.stook.never_cut) & (ripeness > table.full_to))
    days = standing_days(paths, rain, rate, n_days, losses)
    return Ahead(
        ripeness,
        value,
        can_cut(ripeness, fell[:, np.newaxis, 1:], table) & standing,
        fit_hours(fell, gang),
        *(each.reshape(-1, len(paths)).T for each in days),
    )


def unbegun(fields, at):
    """`Standing` of a harvest not begun, the binder at a farm.

    Parameters
    ----------
    fields : Fields
    at : int
    """
    area, none = np.asarray(fields.area, dtype=float), np.zeros((1, 1, 0))
    return Standing(
        area[np.newaxis, np.newaxis], np.full((1, 1), at), none, none,
        none[0], none[0], none[0], np.zeros((1, 1)),
    )  # fmt: skip


def a_day(standing, day, wish, ahead, fields, gang, losses):
    """`Standing` on the evening of a day: what is fit is carted, then is cut.

    Parameters
    ----------
    standing : Standing
        In the morning, before the day's weather.
    day : int
    wish : Wish
    ahead : Ahead
    fields : Fields
    gang : Gang
    losses : Losses
    """
    standing = given_up(dried(standing, day, ahead, losses), losses)
    standing, hands = carted(standing, day, ahead, gang, losses)
    if day >= ahead.hours.shape[1] or not ahead.can_cut[..., day].any():
        return standing
    left, at = cut(standing, day, wish, hands, ahead, fields, gang)
    left = np.where(wish.spared & ahead.can_cut[..., day], 0.0, left)
    done = standing.left - left
    return stooked(standing._replace(left=left, at=at), done, day, ahead, losses)


def dried(standing, day, ahead, losses):
    """`Standing` after a day's weather on the stooks."""
    keeps, gains, takes = (
        each[:, day, np.newaxis] for each in (ahead.keeps, ahead.gains, ahead.takes)
    )
    out = standing.days_out + 1
    late = losses.stook.late_loss_share * (out > losses.stook.free_days)
    return standing._replace(
        excess=standing.excess * keeps + gains,
        lost=standing.lost + takes + late,
        days_out=out,
    )


def given_up(standing, losses):
    """`Standing` without the stooks that have been out too long."""
    over = standing.days_out > losses.stook.longest_days
    if not over.any():
        return standing
    worth = np.maximum(
        losses.stook.never_carted * standing.worth, losses.stook.floor * standing.area
    )
    return standing._replace(
        area=np.where(over, 0, standing.area),
        worth=np.where(over, 0, standing.worth),
        home=standing.home + (worth * over).sum(axis=-1),
    )


def carted(standing, day, ahead, gang, losses):
    """`Standing`, and the hours of hands left, once what is fit is home. (...), [h]

    The oldest stooks come first, as far as the hands go.
    """
    stook, area = losses.stook, standing.area
    drying = losses.drying
    fit = dry_basis(drying.fit_to_carry) - dry_basis(drying.equilibrium)
    ready = area * (ahead.carries[:, day, np.newaxis] & (standing.excess <= fit))
    if not ready.any():
        return standing, gang.hands
    before = np.cumsum(ready, axis=-1) - ready
    taken = np.clip(gang.hands / gang.carting - before, 0, ready)
    share = np.maximum(1 - standing.lost, stook.floor)
    part = np.divide(taken, area, np.zeros_like(taken), where=area > 0)
    worth = standing.worth * part
    home = np.maximum(worth * share, taken * stook.floor).sum(axis=-1)
    hands = gang.hands - gang.carting * taken.sum(axis=-1)
    return standing._replace(
        area=area - taken, worth=standing.worth - worth, home=standing.home + home
    ), hands


def cut(standing, day, wish, hands, ahead, fields, gang):
    """What is left of the fields after a day's cutting, and where the binder then is.

    Parameters
    ----------
    hands : array_like, shape (...)
        Hours of hands that may be spent. [h]
    standing, day, wish, ahead, fields, gang : as in `a_day`

    Returns
    -------
    left : ndarray, shape (..., field)
        [ha]
    at : ndarray, shape (...)
    """
    may = ahead.can_cut[..., day] & wanted(standing, day, wish, ahead, gang)
    order = np.where(may, wish.order, UNWANTED)
    left = np.broadcast_to(standing.left, order.shape).copy()
    at = np.broadcast_to(standing.at, order.shape[:-1])
    hours, hands = (
        np.broadcast_to(each, at.shape) for each in (ahead.hours[:, day], hands)
    )
    for _ in range(gang.most_fields):
        here = fields.farm == at[..., np.newaxis]
        now = np.where(left > NOTHING, order + wish.stay * here, UNWANTED)
        field = now.argmax(axis=-1)[..., np.newaxis]
        farm, found = fields.farm[field[..., 0]], now.max(axis=-1) > UNWANTED
        after = hours - gang.move * (farm != at)
        goes = found & (after > NOTHING) & (hands > NOTHING)
        if not goes.any():
            break
        # A binder that stops, for want of time to move, stops for the day.
        at, hours = np.where(goes, farm, at), np.where(goes, after, 0)
        there = np.take_along_axis(left, field, axis=-1)[..., 0]
        most = np.minimum(hours * gang.binder, hands / gang.cutting)
        done = np.where(goes, np.minimum(there, most), 0)
        np.put_along_axis(left, field, (there - done)[..., np.newaxis], axis=-1)
        hours, hands = hours - done / gang.binder, hands - done * gang.cutting
    return left, at


def wanted(standing, day, wish, ahead, gang):
    """Fields wished for, the work that waits counted in: (..., field) of bool."""
    ripe = ahead.ripeness[..., day] >= RIPE
    work = (standing.left * ripe).sum(axis=-1, keepdims=True) / gang.binder
    hurry = wish.hurry * work / gang.fit_hours
    return wish.advantage + hurry >= 0


def stooked(standing, done, day, ahead, losses):
    """`Standing` with what was cut as that day's stooks.

    Parameters
    ----------
    done : array_like, shape (..., field)
        Cut. [ha]
    standing, day, ahead, losses : as in `a_day`
    """
    drying, n_draws = losses.drying, len(ahead.hours)
    moist = dry_basis(drying.at_cutting) - dry_basis(drying.equilibrium)
    new = {
        "area": done.sum(axis=-1, keepdims=True),
        "worth": (done * ahead.worth[..., day]).sum(axis=-1, keepdims=True),
        "excess": np.full((n_draws, 1), moist),
        "lost": np.zeros((n_draws, 1)),
        "days_out": np.zeros((n_draws, 1)),
    }
    # Days whose stooks are home in every summer need not be carried along.
    out = np.flatnonzero(standing.area.any(axis=(0, 1)))
    return standing._replace(
        **{name: _joined(getattr(standing, name)[..., out], new[name]) for name in new}
    )


def _joined(old, new):
    old = np.broadcast_to(old, (*new.shape[:-1], old.shape[-1]))
    return np.concatenate([old, new], axis=-1)


def brought(standing, losses):
    """What is home and what is left out together, (...). [ha]"""
    stook = losses.stook
    out = np.maximum(stook.never_carted * standing.worth, stook.floor * standing.area)
    uncut = stook.never_cut * standing.left.sum(axis=-1)
    return standing.home + out.sum(axis=-1) + uncut
