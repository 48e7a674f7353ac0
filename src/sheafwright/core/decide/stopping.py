"""When to cut: optimal stopping by least squares over possible summers.

On each day that the crop can be cut, cutting is set against waiting, and waiting is
worth what the policy itself then makes of the summer, not what hindsight would. The
advantage of cutting is fitted as a function of ripeness and of what is known that day;
the policy cuts where it is not negative; and the fit is repeated with the new policy's
own takings until it settles [1]_ [2]_.

References
----------
.. [1] F. A. Longstaff and E. S. Schwartz, Valuing American options by simulation: a
   simple least-squares approach, Review of Financial Studies 14, 2001, 113–147.
.. [2] J. N. Tsitsiklis and B. Van Roy, Regression methods for pricing complex
   American-style options, IEEE Transactions on Neural Networks 12, 2001, 694–703.
"""

import dataclasses

import numpy as np


@dataclasses.dataclass(frozen=True)
class Stopping:
    """Settings of the fit."""

    knots: tuple[float, ...]
    """Ripeness between which the advantage runs straight. [1]"""
    cut_anyway_from: float
    """From this ripeness the first day that can be cut is taken. [1]"""
    begin_at: float
    """Ripeness at which the first policy cuts. [1]"""
    rounds: int
    """Times the policy is improved."""
    ridge: float
    """Pull of every coefficient towards nothing, in days of summer. [d]"""


@dataclasses.dataclass(frozen=True)
class Policy:
    """When to cut, as a function of ripeness and of what is known."""

    expected: np.ndarray
    """Coefficients of the stooks' expected share: (feature,)."""
    advantage: np.ndarray
    """Coefficients of the advantage of cutting: (term,)."""
    settings: Stopping


def takings(worth, can_cut, cut, left):
    """What following a policy brings from each day on, (draw, day + 1).

    The last column, and a crop never cut, is worth ``left``.

    Parameters
    ----------
    worth : array_like, shape (draw, day)
        Worth if cut that day. [0–1]
    can_cut, cut : array_like of bool, shape (draw, day)
        Whether it can be cut, and whether the policy says so.
    left : float
        Worth of a crop left standing. [0–1]
    """
    worth = np.asarray(worth)
    value = np.full((len(worth), worth.shape[1] + 1), left)
    cuts = np.logical_and(can_cut, cut)
    for day in range(worth.shape[1] - 1, -1, -1):
        value[:, day] = np.where(cuts[:, day], worth[:, day], value[:, day + 1])
    return value


def terms(ripeness, known, expected, knots):
    """Terms of the advantage: what is known, at each knot of ripeness, (..., term).

    Parameters
    ----------
    ripeness : array_like, shape (...)
        [1]
    known : array_like, shape (..., feature)
        The first feature is 1.
    expected : array_like, shape (feature,)
        Coefficients of the stooks' expected share.
    knots : sequence of float
        [1]
    """
    each = _at_a_knot(known, expected)
    hats = _hats(ripeness, knots)
    return (hats[..., :, np.newaxis] * each[..., np.newaxis, :]).reshape(
        *np.shape(ripeness), -1
    )


def _at_a_knot(known, expected):
    """Terms at one knot of ripeness, (..., term)."""
    share = np.clip(known @ expected, 0, 1)[..., np.newaxis]
    return np.concatenate([known, share, share**2], axis=-1)


def _hats(ripeness, knots):
    """How much each knot counts, (..., knot). [0–1]"""
    place = np.interp(ripeness, knots, np.arange(len(knots)))[..., np.newaxis]
    return np.maximum(1 - np.abs(place - np.arange(len(knots))), 0)


def learn_policy(ripeness, can_cut, worth, known, expected, left, settings):
    """The `Policy` that possible summers teach.

    Parameters
    ----------
    ripeness, worth : array_like, shape (draw, day)
        Ripeness, and worth if cut that day. [1]
    can_cut : array_like of bool, shape (draw, day)
    known : array_like, shape (draw, day, feature)
        What is known that day.
    expected : array_like, shape (feature,)
        Coefficients of the stooks' expected share.
    left : float
        Worth of a crop left standing. [0–1]
    settings : Stopping
    """
    anyway = ripeness >= settings.cut_anyway_from
    # What is not known late in a summer teaches nothing.
    asked = can_cut & ~anyway & np.isfinite(known).all(axis=-1)
    rows = terms(ripeness[asked], known[asked], expected, settings.knots)
    products = rows.T @ rows + settings.ridge * np.eye(rows.shape[1])
    cut = ripeness >= settings.begin_at
    for _ in range(settings.rounds):
        waiting = takings(worth, can_cut, cut, left)[:, 1:]
        gain = (worth - waiting)[asked]
        advantage = np.linalg.solve(products, rows.T @ gain)
        cut = anyway.copy()
        cut[asked] = rows @ advantage >= 0
    return Policy(expected, advantage, settings)


def advantage(policy, ripeness, known):
    """Worth of cutting now less worth of waiting, same shape as ripeness. [1]

    Parameters
    ----------
    policy : Policy
    ripeness : array_like, shape (...)
        [1]
    known : array_like, shape (..., feature)
        Crops of one place may share it, on an axis of 1.
    """
    knots = policy.settings.knots
    at_knots = policy.advantage.reshape(len(knots), -1).T
    each = _at_a_knot(known, policy.expected) @ at_knots
    return (_hats(ripeness, knots) * each).sum(axis=-1)


def says_cut(policy, ripeness, known):
    """Whether the policy cuts, where it can be cut, same shape as ripeness.

    Parameters
    ----------
    policy : Policy
    ripeness : array_like, shape (...)
        [1]
    known : array_like, shape (..., feature)
    """
    late = np.asarray(ripeness) >= policy.settings.cut_anyway_from
    return late | (advantage(policy, ripeness, known) >= 0)


def cut_or_wait_in_spells(dry_after_dry, dry_after_wet, run_length, reward, cost, days):
    """Worth on a dry and on a wet first day where only a whole dry run pays.

    The smallest cut-or-wait that can be worked out exactly: the next ``run_length``
    days all dry pay ``reward``, each day of waiting costs ``cost``, and there are so
    many days to decide in.

    Parameters
    ----------
    dry_after_dry, dry_after_wet : float
        Chances that the next day is dry. [0–1]
    run_length, days : int
        [d]
    reward, cost : float
        In one money.
    """
    next_dry = np.array([dry_after_dry, dry_after_wet])
    cutting = reward * next_dry * dry_after_dry ** (run_length - 1)
    value = cutting
    for _ in range(days - 1):
        waiting = next_dry * value[0] + (1 - next_dry) * value[1] - cost
        value = np.maximum(cutting, waiting)
    return value
