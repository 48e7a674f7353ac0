"""Weight at another moisture: what drying takes, while dry matter stays."""

import numpy as np


def dry_matter(weight, moisture):
    """Dry matter in a weight. [kg]

    Parameters
    ----------
    weight : array_like
        As it lies. [kg]
    moisture : array_like
        Wet basis. [0–1]
    """
    return np.asarray(weight) * (1 - np.asarray(moisture))


def weight_at(weight, moisture, wanted):
    """Weight of the same dry matter at another moisture. [kg]

    Parameters
    ----------
    weight : array_like
        As it lies. [kg]
    moisture : array_like
        As it lies, wet basis. [0–1]
    wanted : array_like
        To which it is reckoned, wet basis. [0–1]
    """
    return dry_matter(weight, moisture) / (1 - np.asarray(wanted))
