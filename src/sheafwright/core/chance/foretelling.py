"""Forecasts of wetness whose skill fades with lead time.

A forecast of skill ``r`` for one day is a signal: the day's own wetness, blurred, so
that signal and truth correlate by ``r``. What remains likely is then normal with mean
``r × signal`` and variance ``1 − r²``, so the forecast is reliable by construction.
The blur of a day grows lead by lead from the same roots: tomorrow's forecast of a day
refines today's, as real ones do.
"""

import numpy as np


def correlation_of_skill(brier_skill):
    """Correlation of signal and truth that gives a Brier skill. [0–1]

    Closed form for an event that happens on half the days: the Brier skill of the
    reliable chance is ``(2/π) asin(r²)``.

    Parameters
    ----------
    brier_skill : array_like
        Brier skill over climate. [0–1]
    """
    return np.sqrt(np.sin(0.5 * np.pi * np.asarray(brier_skill, dtype=float)))


def blur_steps(correlation):
    """Standard deviation that each further lead adds to the blur, (lead,). [1]

    Parameters
    ----------
    correlation : array_like, shape (lead,)
        Falls with lead. [0–1]
    """
    blur = 1 / np.square(correlation) - 1
    return np.sqrt(np.diff(blur, prepend=0.0))


def issue(wetness, correlation, rng):
    """The signals issued on each day about the days after it, (..., day, lead). [1]

    Parameters
    ----------
    wetness : array_like, shape (..., day)
        What then came. [1]
    correlation : array_like, shape (lead,)
        Skill by lead, 1 day first. [0–1]
    rng : numpy.random.Generator
    """
    wetness, correlation = np.asarray(wetness), np.asarray(correlation)
    # In place: there is a number here for every lead of every day of every draw.
    about = rng.standard_normal((*wetness.shape, correlation.size))
    about *= blur_steps(correlation)
    np.cumsum(about, axis=-1, out=about)
    about += wetness[..., np.newaxis]
    about *= correlation
    signals = np.full_like(about, np.nan)
    for lead in range(1, min(correlation.size, wetness.shape[-1] - 1) + 1):
        signals[..., :-lead, lead - 1] = about[..., lead:, lead - 1]
    return signals


def signal_of_members(scores, correlation):
    """One signal a lead from the wetness of an ensemble's members, (lead,). [1]

    The members' mean is scaled to the spread that a signal of that skill should have;
    a single member is taken as it is.

    Parameters
    ----------
    scores : array_like, shape (member, lead)
        Wetness foretold. [1]
    correlation : array_like, shape (lead,)
        Skill by lead. [0–1]
    """
    shared = np.square(correlation)
    spread = np.sqrt(shared + (1 - shared) / len(scores))
    return np.mean(scores, axis=0) / spread


def chance_drier(threshold, signal, correlation):
    """Chance that a day foretold is drier than a wetness. [0–1]

    Parameters
    ----------
    threshold : array_like
        Wetness. [1]
    signal, correlation : array_like
        Of the forecast for that day.
    """
    from scipy.special import ndtr

    r = np.asarray(correlation)
    return ndtr((threshold - r * signal) / np.sqrt(1 - r**2))
