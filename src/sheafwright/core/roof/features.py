"""What stands on a slope: dormers, eyebrows, and conical ends.

Each is given by what it covers of the slope's plan, and by its own surface; the slope
below is left out by `net_area`. Plans run level, square to the eaves.
"""

import numpy as np

from sheafwright.core.roof.slope import area_factor, hip_factor, rise

STEPS = 256
"""Into which an eyebrow's width is cut to be summed; even."""


def net_area(own, plan, pitch):
    """What a feature adds to the slope that it stands on: it hides a part. [m²]

    Parameters
    ----------
    own : array_like
        Its own surface. [m²]
    plan : array_like
        That it covers. [m²]
    pitch : array_like
        Of the slope below. [°]
    """
    return own - plan * area_factor(pitch)


def dormer_plan(width, face, own, main):
    """Plan of a dormer's roof, from its front back to the slope. [m²]

    A rectangle as far as its eaves run back, and the two triangles that its valleys cut
    off, however its front is finished.

    Parameters
    ----------
    width : array_like
        From drip to drip. [m]
    face : array_like
        Height of its eaves above the slope, at its front. [m]
    own, main : array_like
        Pitch of the dormer, and of the slope. [°]
    """
    width = np.asarray(width, dtype=float)
    return width * (face + width / 4 * rise(own)) / rise(main)


def dormer_area(width, face, own, main):
    """Surface of a dormer's roof, gabled or hipped at its front. [m²]

    Parameters
    ----------
    width, face, own, main : array_like
        As `dormer_plan` has them.
    """
    return dormer_plan(width, face, own, main) * area_factor(own)


def dormer_depth(width, face, own, main):
    """How far back a dormer's ridge runs from its front, level. [m]

    Parameters
    ----------
    width, face, own, main : array_like
        As `dormer_plan` has them.
    """
    return (face + np.multiply(width, rise(own)) / 2) / rise(main)


def dormer_eaves(face, main):
    """Length of the eaves on each side of a dormer. [m]

    Parameters
    ----------
    face, main : array_like
        As `dormer_plan` has them.
    """
    return np.divide(face, rise(main))


def dormer_valley(width, own, main):
    """Length of each of a dormer's two valleys. [m]

    Parameters
    ----------
    width, own, main : array_like
        As `dormer_plan` has them.
    """
    half = np.asarray(width, dtype=float) / 2
    up = half * rise(own)
    return np.sqrt(half**2 + up**2 + (up / rise(main)) ** 2)


def dormer_verge(width, own):
    """Length of each verge of a gabled front. [m]

    Parameters
    ----------
    width, own : array_like
        As `dormer_plan` has them.
    """
    return np.multiply(width, area_factor(own)) / 2


def dormer_hip(width, own):
    """Length of each hip of a hipped front of the same pitch. [m]

    Parameters
    ----------
    width, own : array_like
        As `dormer_plan` has them.
    """
    return np.multiply(width, hip_factor(own)) / 2


def eyebrow_plan(width, height, own, main):
    """Plan of an eyebrow, whose front is one wave of a cosine. [m²]

    Parameters
    ----------
    width : array_like
        From where it leaves the slope to where it meets it again. [m]
    height : array_like
        Of its crown above the slope, at its front. [m]
    own, main : array_like
        Pitch on which it runs back, and that of the slope, which is steeper. [°]
    """
    return np.multiply(width, height) / 2 / (rise(main) - rise(own))


def eyebrow_depth(height, own, main):
    """How far back an eyebrow's crown runs from its front, level. [m]

    Parameters
    ----------
    height, own, main : array_like
        As `eyebrow_plan` has them.
    """
    return np.divide(height, rise(main) - rise(own))


def eyebrow_area(width, height, own, main):
    """Surface of an eyebrow, straight lines running back from each point. [m²]

    Parameters
    ----------
    width, height, own, main : float
        As `eyebrow_plan` has them.
    """
    across = np.linspace(0, 2 * np.pi, STEPS + 1)
    front = height / 2 * (1 - np.cos(across))
    steepness = height * np.pi / width * np.sin(across)
    back = eyebrow_depth(front, own, main)
    slanted = back * np.sqrt(1 + steepness**2 + rise(own) ** 2)
    return np.mean(slanted[:-1]) * width


def cone_area(radius, pitch, share=0.5):
    """Surface of a part of a cone. [m²]

    Parameters
    ----------
    radius : array_like
        At the eaves. [m]
    pitch : array_like
        [°]
    share : array_like
        Of the whole round; a conical end is half of it. [0–1]
    """
    return np.multiply(share, np.pi) * np.square(radius) * area_factor(pitch)


def cone_eaves(radius, share=0.5):
    """Length of the eaves round a part of a cone. [m]

    Parameters
    ----------
    radius, share : array_like
        As `cone_area` has them.
    """
    return 2 * np.pi * np.multiply(radius, share)
