"""Bends of a stem: a sharp one turns at one place, a curve turns little by little."""

import dataclasses

import numpy as np

from sheafwright.measure.terms import terms

WIDE_MM, NARROW_MM = (5, 27), (4, 15)
"""From and to which distance a line is laid on either side of a bend."""
PEAK_MM = 8
SHARP_SHARE = 0.6
"""Of the wide angle that a sharp bend has within narrow sides."""


@dataclasses.dataclass(frozen=True)
class Bend:
    """The sharpest bend of a stem."""

    angle_deg: float
    at_mm: float
    sharp: bool


def turns(line, sides):
    """How far a line turns at each point: (point,), NaN near its ends. [°]

    Parameters
    ----------
    line : ndarray, shape (point, xy)
        One point a millimetre.
    """
    near, far = sides
    mid = (near + far) // 2
    sums = np.concatenate([np.zeros((1, 2)), np.cumsum(line, axis=0)])
    at = np.arange(far, len(line) - far)
    turned = np.full(len(line), np.nan)
    if not len(at):
        return turned

    def mean(low, high):
        return (sums[at + high + 1] - sums[at + low]) / (high - low + 1)

    before = mean(-mid, -near) - mean(-far, -mid - 1)
    after = mean(mid + 1, far) - mean(near, mid)
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turned[at] = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    return turned


def sharpest_bend(line):
    """The `Bend` of a line, one point a millimetre."""
    wide, narrow = turns(line, WIDE_MM), turns(line, NARROW_MM)
    if not np.isfinite(wide).any():
        return Bend(0.0, 0.0, False)
    at = _middle_of_peak(np.nan_to_num(np.abs(wide)))
    angle = float(abs(wide[at]))
    close = np.abs(narrow[max(at - 6, 0) : at + 7])
    sharp = angle >= terms().sharp_deg and np.nanmax(close) >= SHARP_SHARE * angle
    return Bend(angle, float(at), bool(sharp))


def _middle_of_peak(sizes):
    """Where the largest is; amid those about it that are all but as large."""
    at = int(np.argmax(sizes))
    low = max(at - PEAK_MM, 0)
    about = np.nonzero(sizes[low : at + PEAK_MM + 1] >= 0.97 * sizes[at])[0]
    return low + round(float(about.mean()))
