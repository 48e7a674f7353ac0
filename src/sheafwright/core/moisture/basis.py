"""Moisture as a share of the wet weight (the trade's way) or of the dry matter.

Everywhere else `moisture` without more is wet basis.
"""

import numpy as np


def dry_basis(moisture):
    """Water over dry matter, from wet basis. [1]

    Parameters
    ----------
    moisture : array_like
        Water over the weight as it lies, wet basis. [0–1]
    """
    wet = np.asarray(moisture, dtype=float)
    return wet / (1 - wet)


def wet_basis(moisture_dry_basis):
    """Water over the weight as it lies, from dry basis. [0–1]

    Parameters
    ----------
    moisture_dry_basis : array_like
        Water over dry matter. [1]
    """
    dry = np.asarray(moisture_dry_basis, dtype=float)
    return dry / (1 + dry)
