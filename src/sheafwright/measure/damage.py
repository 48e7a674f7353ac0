"""What harms straw: stems crushed flat, split along, or gone mouldy."""

import dataclasses

import numpy as np

from sheafwright.measure.terms import terms

CRUSHED_MM, SPLIT_MM, MOULD_MM = 10, 18, 7
"""The shortest stretch that counts."""
SPLIT_DIP, SPLIT_EVEN = 0.10, 15
"""Of brightness, in a line along the stem, over so many points."""
PATCHES_MM = 15
"""Patches of mould no farther apart count as one."""
OVER_MM, MOTTLED_MM = 12, 5
"""How far another stem's shadow, and mould's edges, may mislead."""
NODE_MM = 5.0
SPLIT_APART = 3
"""Places across, of seventeen, between a split and its sound sides."""


@dataclasses.dataclass(frozen=True)
class Damage:
    """Lengths of a stem that are harmed. [mm]"""

    crushed_mm: float
    split_mm: float
    mouldy_mm: float


def find_damage(profile, trend, nodes):
    """The `Damage` of a stem from its `Profile`, one point a millimetre."""
    away = np.ones(len(trend), bool)
    for node in nodes:
        away &= np.abs(np.arange(len(trend)) - node) > NODE_MM
    # What lies over a stem, and its shadow, look like mould and have edges like splits.
    mouldy = _mouldy(profile.light, away) & ~_about(~profile.alone, OVER_MM)
    mouldy = _stretches(mouldy, MOULD_MM, gap=PATCHES_MM)
    wide = np.nan_to_num(profile.diameter / trend) > terms().crushed_share
    # Amid mould it can't be told where straw ends. Nodes are thick by nature: one
    # counts only if what is around it does.
    wide &= away & ~_about(mouldy, MOTTLED_MM)
    crushed = _stretches(wide, CRUSHED_MM, gap=2 * int(NODE_MM) + 3)
    may_split = away & profile.alone & ~_about(mouldy, OVER_MM)
    split = _stretches(_split(profile.across) & may_split, SPLIT_MM)
    return Damage(
        crushed_mm=float(crushed.sum()),
        split_mm=float(split.sum()),
        mouldy_mm=float(mouldy.sum()),
    )


def _about(flags, reach):
    from scipy.ndimage import binary_dilation

    return binary_dilation(flags, iterations=reach)


def _stretches(flags, least, gap=7):
    """Flags closed over small gaps, and only where they last."""
    from scipy.ndimage import binary_closing, binary_opening

    closed = binary_closing(flags, np.ones(gap, bool))
    return binary_opening(closed, np.ones(least, bool))


def _split(across):
    """Whether a dark line runs along: darker than what lies to both sides of it."""
    from scipy.ndimage import uniform_filter1d

    even = uniform_filter1d(across, SPLIT_EVEN, axis=0, mode="nearest")
    far = SPLIT_APART
    middle = even[:, far:-far]
    sides = np.minimum(even[:, : -2 * far], even[:, 2 * far :])
    dips = (sides - middle) / np.maximum(sides, 1e-3)
    return dips.max(axis=1) > SPLIT_DIP


def _mouldy(light, away):
    """Darker and greyer than the rest of the stem."""
    from scipy.ndimage import uniform_filter1d

    even = uniform_filter1d(light, 3, axis=0, mode="nearest")
    bright = even.mean(axis=1)
    depth = 1 - even[:, 2] / np.maximum(even[:, 0], 1e-3)
    usual = np.median(bright[away]), np.median(depth[away])
    share = terms().mould_dark_share
    dark = bright < share * usual[0]
    return dark & (depth < share * usual[1]) & away
