"""Nodes: short dark rings, often a little thicker, along a stem."""

import numpy as np

RING_MM, FLANK_MM = 1.5, (5.0, 9.0)
"""Half of a ring, and where its flanks are looked at."""
APART_MM = 22.0
LEAST_DIP, FAINT_DIP = 0.16, 0.08
"""In the logarithm of brightness: a node's, and one that a bend vouches for."""
SPREADS, TO_SD = 3.0, 1.4826
"""A node's dip, in standard deviations of the stem's own scores, told by their median.
"""
BULGE_WORTH = 0.5
"""How much dip a bulge of the same share counts for."""
LEAST_DEPTH = 0.75
"""Of the stem's own depth of colour."""
EDGE_MM = 8.0
NEAR_MM = 8.0


def ring_scores(light, diameter):
    """How much darker each point is than both of its sides, bulges counted in.

    Parameters
    ----------
    light : ndarray, shape (point, colour)
        One point a millimetre.
    diameter : ndarray, shape (point,)
        NaN where another stem hides it.
    """
    brightness = light @ [0.2126, 0.7152, 0.0722]
    dark = -np.log(np.maximum(brightness, 1e-3))
    thick = np.log(np.maximum(_known(diameter), 0.1))
    dip = np.minimum(*_over_flanks(dark))
    bulge = np.clip(np.minimum(*_over_flanks(thick)), 0, 0.3)
    score = dip + BULGE_WORTH * np.where(dip > FAINT_DIP / 2, bulge, 0)
    return np.where(_may_be_node(light, diameter), score, 0)


def _may_be_node(light, diameter):
    """Seen, and not grey as mould is."""
    depth = 1 - light[:, 2] / np.maximum(light[:, 0], 1e-3)
    return np.isfinite(diameter) & (depth > LEAST_DEPTH * np.median(depth))


def find_nodes(light, diameter):
    """Where nodes are along a stem, by point, and the score of each point."""
    from scipy.signal import find_peaks

    scores = ring_scores(light, diameter)
    peaks, _ = find_peaks(scores, height=_least(scores), distance=APART_MM)
    last = len(scores) - 1 - EDGE_MM
    return [float(peak) for peak in peaks if EDGE_MM <= peak <= last], scores


def _least(scores):
    """How dark a ring must be: darker than this stem's own streaks by far."""
    spread = np.median(np.abs(scores - np.median(scores)))
    return max(LEAST_DIP, SPREADS * TO_SD * float(spread))


def node_near(at_mm, nodes, scores):
    """The node at a bend: one that was found, or a faint one there, or None."""
    near = [node for node in nodes if abs(node - at_mm) <= NEAR_MM]
    if near:
        return min(near, key=lambda node: abs(node - at_mm))
    low = max(int(at_mm - NEAR_MM), 0)
    window = scores[low : int(at_mm + NEAR_MM) + 1]
    if len(window) and window.max() > FAINT_DIP:
        return float(low + window.argmax())
    return None


def _over_flanks(values):
    """How far a ring's mean lies over the mean of each flank."""
    half = int(RING_MM)
    sums = np.cumsum(np.pad(values, (20, 20), mode="edge"))
    at = np.arange(len(values)) + 20

    def mean(low, high):
        return (sums[at + high] - sums[at + low - 1]) / (high - low + 1)

    near, far = (int(each) for each in FLANK_MM)
    ring = mean(-half, half)
    return ring - mean(-far, -near), ring - mean(near, far)


def _known(values):
    """With what is hidden drawn on from its sides."""
    seen = np.isfinite(values)
    if not seen.any():
        return np.ones_like(values)
    at = np.arange(len(values))
    return np.interp(at, at[seen], values[seen])
