"""Colour as numbers: light, sRGB's code of it, and CIELAB.

References
----------
.. [1] IEC 61966-2-1, sRGB, 1999.
.. [2] CIE 15, Colorimetry: CIELAB for the light D65 and the observer of 2°.
"""

import numpy as np

TO_XYZ = np.array(
    [
        [0.4124, 0.3576, 0.1805],
        [0.2126, 0.7152, 0.0722],
        [0.0193, 0.1192, 0.9505],
    ]
)
WHITE = TO_XYZ.sum(axis=1)
BEND = (6 / 29) ** 3


def decoded(code):
    """Light of sRGB's code; both 0 to 1."""
    code = np.asarray(code, dtype=float)
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


def lab(light):
    """CIELAB of linear sRGB: (..., colour) to (..., L* a* b*)."""
    share = np.asarray(light, dtype=float) @ TO_XYZ.T / WHITE
    bent = np.where(
        share > BEND,
        np.cbrt(np.maximum(share, BEND)),
        share / (3 * (6 / 29) ** 2) + 4 / 29,
    )
    x, y, z = np.moveaxis(bent, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)
