"""What stems of a lot are like on the whole, and how surely that is known."""

from typing import NamedTuple

import numpy as np

from sheafwright.core.grading.lengths import bundle_means
from sheafwright.core.stand.drill import student_interval
from sheafwright.feeds.stems import Stems

CONFIDENCE = 0.95
MEASURES = ("length_mm", "butt_mm", "taper_mm_per_m", "bends", "damage", "brightness")


class StemMean(NamedTuple):
    """Of one measure, in its own unit."""

    mean: float
    low: float | None
    """Of the interval that holds the lot's mean; None for fewer than two bundles."""
    high: float | None
    stems: int
    bundles: int


def stem_means(stems: Stems):
    """Each measure to its `StemMean`; those of which none was taken are left out."""
    found = {name: _mean(getattr(stems, name), stems.bundle) for name in MEASURES}
    return {name: mean for name, mean in found.items() if mean is not None}


def _mean(values, bundle):
    known = int(np.isfinite(values).sum())
    if not known:
        return None
    means = bundle_means(values, bundle)
    low = high = None
    if len(means) > 1:
        low, high = map(float, student_interval(means, CONFIDENCE))
    return StemMean(float(means.mean()), low, high, known, len(means))
