"""The moisture that grain or straw settles at in air of one humidity.

Four forms of ASABE Standard D245, each with its inverse. `constants` are the
form's own (a, b, c), fitted with moisture in per cent of dry matter; moisture in
and out is wet basis. The fits hold up to a relative humidity of about 0.95: damper
air wets from outside, and these curves run away.

References
----------
.. [1] ASABE Standard D245, Moisture relationships of plant-based agricultural
   products.
"""

import numpy as np

from sheafwright.core.moisture.basis import dry_basis, wet_basis


def _percent(moisture):
    return 100 * dry_basis(moisture)


def _from_percent(percent):
    return wet_basis(percent / 100)


def henderson(humidity, temperature, constants):
    """Equilibrium moisture by the modified Henderson form, wet basis. [0–1]

    Parameters
    ----------
    humidity : array_like
        Relative humidity. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        (a, b, c) of RH = 1 - exp(-a (T + c) M^b).
    """
    a, b, c = constants
    dry_air = np.log1p(-np.asarray(humidity))
    return _from_percent((-dry_air / (a * np.add(temperature, c))) ** (1 / b))


def henderson_humidity(moisture, temperature, constants):
    """Humidity of air in balance with a moisture, modified Henderson form. [0–1]

    Parameters
    ----------
    moisture : array_like
        Moisture, wet basis. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        As for `henderson`.
    """
    a, b, c = constants
    return -np.expm1(-a * np.add(temperature, c) * _percent(moisture) ** b)


def chung_pfost(humidity, temperature, constants):
    """Equilibrium moisture by the modified Chung–Pfost form, wet basis. [0–1]

    Parameters
    ----------
    humidity : array_like
        Relative humidity, not below that of bone-dry matter, exp(-a / (T + c)). [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        (a, b, c) of RH = exp(-a / (T + c) exp(-b M)).
    """
    a, b, c = constants
    return _from_percent(-np.log(-np.add(temperature, c) * np.log(humidity) / a) / b)


def chung_pfost_humidity(moisture, temperature, constants):
    """Humidity of air in balance with a moisture, modified Chung–Pfost form. [0–1]

    Parameters
    ----------
    moisture : array_like
        Moisture, wet basis. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        As for `chung_pfost`.
    """
    a, b, c = constants
    return np.exp(-a / np.add(temperature, c) * np.exp(-b * _percent(moisture)))


def oswin(humidity, temperature, constants):
    """Equilibrium moisture by the modified Oswin form, wet basis. [0–1]

    Parameters
    ----------
    humidity : array_like
        Relative humidity. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        (a, b, c) of RH = 1 / (((a + b T) / M)^c + 1).
    """
    a, b, c = constants
    odds = np.divide(humidity, np.subtract(1, humidity))
    return _from_percent((a + b * np.asarray(temperature)) * odds ** (1 / c))


def oswin_humidity(moisture, temperature, constants):
    """Humidity of air in balance with a moisture, modified Oswin form. [0–1]

    Parameters
    ----------
    moisture : array_like
        Moisture, wet basis. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        As for `oswin`.
    """
    a, b, c = constants
    half_damp = a + b * np.asarray(temperature)
    return 1 / ((half_damp / _percent(moisture)) ** c + 1)


def halsey(humidity, temperature, constants):
    """Equilibrium moisture by the modified Halsey form, wet basis. [0–1]

    Parameters
    ----------
    humidity : array_like
        Relative humidity. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        (a, b, c) of RH = exp(-exp(a + b T) M^-c).
    """
    a, b, c = constants
    pull = np.exp(a + b * np.asarray(temperature))
    return _from_percent((-pull / np.log(humidity)) ** (1 / c))


def halsey_humidity(moisture, temperature, constants):
    """Humidity of air in balance with a moisture, modified Halsey form. [0–1]

    Parameters
    ----------
    moisture : array_like
        Moisture, wet basis. [0–1]
    temperature : array_like
        Temperature of air and crop. [°C]
    constants : tuple of float
        As for `halsey`.
    """
    a, b, c = constants
    pull = np.exp(a + b * np.asarray(temperature))
    return np.exp(-pull * _percent(moisture) ** -c)
