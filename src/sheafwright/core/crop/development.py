"""Development: when the crop comes up, shoots, flowers and ripens.

Thermal time above a base, slowed before double ridge by want of cold and up to
flowering by short days [1]_ [2]_. A stage that was seen overwrites the prediction
and restarts it. Double ridge is only a step on the way and is never reported: its
date has not been checked against any crop.

References
----------
.. [1] A. H. Weir, P. L. Bragg, J. R. Porter and J. H. Rayner, A winter wheat
   crop simulation model without water or nutrient limitations, Journal of
   Agricultural Science 102, 1984, 371-382.
.. [2] J. R. Porter, AFRCWHEAT2: a model of the growth and development of wheat
   incorporating responses to water and nitrogen, European Journal of Agronomy 2,
   1993, 69-82.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.crop.progress import first_day, per_day, put_right, sum_since
from sheafwright.core.crop.vernalisation import vernal_days, vernal_factor
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.weather.thermal_time import thermal_time


class Stages(NamedTuple):
    """Day position of each stage, (...), in Zadoks' code; NaN if not reached."""

    emergence: np.ndarray
    gs31: np.ndarray
    gs39: np.ndarray
    gs59: np.ndarray
    gs61: np.ndarray
    gs71: np.ndarray
    gs75: np.ndarray
    gs83: np.ndarray
    gs85: np.ndarray
    gs87: np.ndarray


def develop(tmin, tmax, day_length, sown, phases, grain_filling, seen=None):
    """Every stage of a crop sown on the day ``sown``, as `Stages`. [day position]

    All leading axes broadcast together; whatever depends only on the weather is
    worked out once, however many crops grow in it. No stage is put after a later one
    that was seen: at the latest it came on that day.

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature, from the day of sowing or before. [°C]
    day_length : array_like, shape (..., day)
        Day length, sunrise taken as the sun's centre on the horizon. [h]
    sown : array_like, shape (...)
        Day position of sowing; that day's warmth counts.
    phases : Phases
    grain_filling : GrainFilling
    seen : mapping of str to array_like, shape (...), optional
        Day position on which a stage of `Stages` was seen; NaN where it was not.
    """
    seen = seen or {}
    _check_sown(sown)
    _check_named(seen)
    _check_ordered(seen, sown)
    warmth = thermal_time(tmin, tmax, per_day(phases.base_temperature))
    leafing, stem = _light(day_length, phases)

    rising = warmth / per_day(phases.to_emergence)
    days = _reached(rising, np.subtract(sown, 1), {"emergence": 1.0}, seen)

    cold = _cold(tmin, tmax, days["emergence"], phases)
    turning = sum_since(warmth * leafing * cold, days["emergence"])
    double_ridge = first_day(turning >= per_day(phases.to_double_ridge))

    shooting = warmth * stem / per_day(phases.to_flowering)
    days |= _reached(shooting, double_ridge, _stem_stages(phases), seen)

    ripening = _ripening(tmin, tmax, grain_filling)
    days |= _reached(ripening, days["gs61"], _grain_stages(grain_filling), seen)
    return Stages(*np.broadcast_arrays(*_no_later_than_seen(days, seen)))


def ripeness(tmin, tmax, flowering, grain_filling, seen=None):
    """Thermal time since flowering over that from flowering to hard dough, (..., day).

    0 on the day of flowering, 1 at GS87, more after it; NaN before flowering. [1]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    flowering : array_like, shape (...)
        Day position of GS61.
    grain_filling : GrainFilling
    seen : mapping of str to array_like, shape (...), optional
        As in `develop`; the stages of grain filling restart the ripeness.
    """
    ripening = _ripening(tmin, tmax, grain_filling)
    return _progress(ripening, flowering, _grain_stages(grain_filling), seen or {})


def cutting_window(ripeness, window):
    """First and last day of the binder's window, each (...). [day position]

    Parameters
    ----------
    ripeness : array_like, shape (..., day)
        From `ripeness`. [1]
    window : CuttingWindow
    """
    opens = first_day(np.asarray(ripeness) >= window.opens_at)
    closes = first_day(np.asarray(ripeness) >= window.closes_at)
    return opens, closes + window.closes_after


def photoperiod_factor(day_length, base, full):
    """Share of full speed that the day length allows. [0–1]

    Parameters
    ----------
    day_length : array_like
        Day length. [h]
    base, full : array_like
        Day lengths at which the crop stands still, and moves at full speed. [h]
    """
    share = (np.asarray(day_length, dtype=float) - base) / np.subtract(full, base)
    return np.clip(share, 0.0, 1.0)


def _light(day_length, phases):
    """Photoperiod factors before and after double ridge, each (..., day). [0–1]"""
    full = per_day(phases.full_day_length)
    bases = per_day(phases.leafing_day_length), per_day(phases.stem_day_length)
    return tuple(photoperiod_factor(day_length, base, full) for base in bases)


def _cold(tmin, tmax, emergence, phases):
    """Vernal factor, (..., day). [0–1]"""
    gathered = vernal_days(tmin, tmax, emergence, phases.vernal_temperatures)
    base, full = phases.vernal_days_base, phases.vernal_days_full
    return vernal_factor(gathered, per_day(base), per_day(full))


def _ripening(tmin, tmax, grain_filling):
    """Ripeness gained each day, (..., day). [d⁻¹]"""
    warmth = thermal_time(tmin, tmax, per_day(grain_filling.base_temperature))
    return warmth / per_day(grain_filling.thermal_sum)


def _stem_stages(phases):
    return {"gs31": phases.gs31, "gs39": phases.gs39, "gs59": phases.gs59, "gs61": 1.0}


def _grain_stages(grain_filling):
    shares = {s: getattr(grain_filling, s) for s in ("gs71", "gs75", "gs83", "gs85")}
    return shares | {"gs87": 1.0}


def _progress(rate, start, stages, seen):
    """Progress through a phase, (..., day), put right at each of its stages seen."""
    progress = sum_since(rate, start)
    for stage in (s for s in stages if s in seen):
        progress = put_right(progress, rate, stages[stage], seen[stage])
    return progress


def _reached(rate, start, stages, seen):
    """Day position of each stage of a phase, by name."""
    progress = _progress(rate, start, stages, seen)
    return {s: first_day(progress >= per_day(level)) for s, level in stages.items()}


def _no_later_than_seen(days, seen):
    """The days in order, none after the day on which a later stage was seen."""
    latest, ordered = np.nan, []
    for stage in reversed(Stages._fields):
        ordered.append(np.fmin(days[stage], latest))
        latest = np.fmin(latest, seen.get(stage, np.nan))
    return reversed(ordered)


def _check_sown(sown):
    if np.any(np.asarray(sown) < 0):
        raise NotEnoughWeather(
            "The weather begins after the day of sowing; "
            "it should begin on that day or before."
        )


def _check_named(seen):
    for stage in seen.keys() - set(Stages._fields):
        raise OutOfRange(
            "{stage} is not a stage that can be seen; it should be one of {stages}.",
            stage=repr(stage),
            stages=", ".join(Stages._fields),
        )


def _check_ordered(seen, sown):
    before, last = "sowing", np.asarray(sown, dtype=float)
    for stage in (s for s in Stages._fields if s in seen):
        if np.any(np.asarray(seen[stage]) < last):
            raise OutOfRange(
                "{stage} is said to be seen before {before}; it should come after it.",
                stage=stage,
                before=before,
            )
        before, last = stage, np.fmax(last, seen[stage])
