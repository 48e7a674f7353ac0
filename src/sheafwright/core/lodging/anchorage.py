"""How firmly a plant's roots hold it, and how thick sowing makes them hold less.

References
----------
.. [1] M. J. Crook and A. R. Ennos, The mechanics of root lodging in winter wheat,
   Journal of Experimental Botany 44, 1993, 1219-1224.
.. [2] C. J. Baker et al., A method for the assessment of the risk of wheat lodging,
   Journal of Theoretical Biology 194, 1998, 587-603.
"""

import numpy as np


def anchorage_strength(soil_strength, root_spread, cone_factor):
    """Moment at which the cone of crown roots turns in the soil. [N m] [1]_ [2]_

    Parameters
    ----------
    soil_strength : array_like
        Shear strength of the topsoil. [Pa]
    root_spread : array_like
        Diameter of the cone of stiff roots. [m]
    cone_factor : array_like
        [1]
    """
    return np.multiply(cone_factor, soil_strength) * np.power(root_spread, 3)


def by_density(at_usual, plants, usual_plants, exponent):
    """What a plant or a field has at another density, by a power of it. [as at usual]

    Parameters
    ----------
    at_usual : array_like
        Its value at the usual density.
    plants, usual_plants : array_like
        [m⁻²]
    exponent : array_like
        [1]
    """
    return at_usual * np.divide(plants, usual_plants) ** exponent
