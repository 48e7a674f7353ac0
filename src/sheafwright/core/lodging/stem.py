"""What a gust asks of one shoot's base, and what its stem can bear.

References
----------
.. [1] C. J. Baker, P. M. Berry, J. H. Spink, R. Sylvester-Bradley, J. M. Griffin,
   R. K. Scott and R. W. Clare, A method for the assessment of the risk of wheat
   lodging, Journal of Theoretical Biology 194, 1998, 587-603.
.. [2] C. J. Baker, M. Sterling and P. M. Berry, A generalised model of crop lodging,
   Journal of Theoretical Biology 363, 2014, 1-12.
"""

import numpy as np

from sheafwright.core.constants import GRAVITY

AIR_DENSITY = 1.2
"""Of summer air near the sea. [kg m⁻³]"""


def overshoot(damping):
    """How far a gust that comes at once swings a shoot past its rest. [1] [1]_

    Parameters
    ----------
    damping : array_like
        Damping ratio of the shoot. [1]
    """
    rise = np.pi / 4
    return 1 + np.exp(-np.pi * np.asarray(damping)) * np.sin(rise) / rise


def self_weight(frequency, centre):
    """Moment with the leaning shoot's own weight, over that of the wind alone. [1] [1]_

    Parameters
    ----------
    frequency : array_like
        Natural frequency of the shoot. [Hz]
    centre : array_like
        Height of its centre of gravity. [m]
    """
    return 1 + GRAVITY / ((2 * np.pi * np.asarray(frequency)) ** 2 * centre)


def base_moment(gust, ear_area, drag, centre, frequency, overshoot):
    """Bending moment at the base of one shoot in a gust. [N m] [1]_

    Parameters
    ----------
    gust : array_like
        At the top of the crop. [m s⁻¹]
    ear_area : array_like
        That the ear and what stands beside it show the wind. [m²]
    drag : array_like
        Drag coefficient. [1]
    centre : array_like
        Height of the centre of gravity. [m]
    frequency : array_like
        Natural frequency. [Hz]
    overshoot : array_like
        From `overshoot`; 1 leaves it out, as the later form does. [1] [2]_
    """
    force = 0.5 * AIR_DENSITY * np.multiply(ear_area, drag) * np.square(gust)
    return force * centre * self_weight(frequency, centre) * overshoot


def stem_strength(yield_stress, diameter, wall):
    """Moment at which a round hollow stem buckles. [N m] [1]_

    Parameters
    ----------
    yield_stress : array_like
        Of the stem's wall. [Pa]
    diameter, wall : array_like
        Outer diameter, and thickness of the wall. [m]
    """
    radius = np.divide(diameter, 2)
    hollow = ((radius - wall) / radius) ** 4
    return np.multiply(yield_stress, np.pi / 4 * radius**3) * (1 - hollow)


def failing_gust(strength, moment_of_unit_gust):
    """Gust at which the moment comes up to the strength. [m s⁻¹]

    Parameters
    ----------
    strength : array_like
        Of the stem, or of the roots. [N m]
    moment_of_unit_gust : array_like
        Moment in a gust of 1 m s⁻¹, of all that the strength must hold. [N m]
    """
    return np.sqrt(np.divide(strength, moment_of_unit_gust))
