"""What a machine costs: ownership, repairs and fuel, after ASABE EP496 and D497.

Its formulas as they stand here are from memory, and so are the constants that go with
them. A vintage machine has no curve of value: let its price when it is sold be given.

References
----------
.. [1] ASABE Engineering Practice EP496, Agricultural machinery management.
.. [2] ASABE Data D497, Agricultural machinery management data.
"""

import numpy as np


def accumulated_repair(price, hours, rf1, rf2):
    """Repairs and upkeep up to so many hours of its life. [£]

    Parameters
    ----------
    price : array_like
        When new, in the same year's money. [£]
    hours : array_like
        Worked since it was new. [h]
    rf1, rf2 : array_like
        Repair factors of its kind. [1]
    """
    return rf1 * np.asarray(price, dtype=float) * np.divide(hours, 1000.0) ** rf2


def recovery_factor(rate, years):
    """Yearly payment that pays one pound back with interest. [yr⁻¹]

    Parameters
    ----------
    rate : array_like
        Yearly interest; 0 for none. [0–1]
    years : array_like
        Of ownership. [yr]
    """
    rate, years = np.asarray(rate, dtype=float), np.asarray(years, dtype=float)
    # Exact for small rates too, where (1 + i)ⁿ loses what it should tell.
    repaid = -np.expm1(-years * np.log1p(rate))
    free = rate == 0
    return np.where(free, 1 / years, rate / np.where(free, 1, repaid))


def capital_recovery(price, salvage, rate, years):
    """What depreciation and interest come to each year. [£ yr⁻¹]

    Parameters
    ----------
    price, salvage : array_like
        When bought, and when sold after ``years``. [£]
    rate : array_like
        Yearly interest. [0–1]
    years : array_like
        [yr]
    """
    lost = np.subtract(price, salvage)
    return lost * recovery_factor(rate, years) + np.multiply(salvage, rate)


def ownership_share(salvage_share, years, rate, other):
    """Depreciation, interest and the rest as a share of the price. [yr⁻¹]

    Parameters
    ----------
    salvage_share : array_like
        Of the price. [0–1]
    years : array_like
        [yr]
    rate : array_like
        Yearly interest. [0–1]
    other : array_like
        Taxes, housing and insurance. [yr⁻¹]
    """
    lost = (1 - np.asarray(salvage_share, dtype=float)) / years
    return lost + (1 + np.asarray(salvage_share)) / 2 * rate + other


def remaining_value(years, hours_a_year, c1, c2, c3):
    """What a machine is still worth, of its price as new. [0–1]

    Parameters
    ----------
    years : array_like
        [yr]
    hours_a_year : array_like
        [h yr⁻¹]
    c1, c2, c3 : array_like
        Of its kind; ``c3`` is 0 where hours don't count. [1]
    """
    root = c1 - np.multiply(c2, np.sqrt(years)) - c3 * np.power(hours_a_year, 0.2)
    return root**2


def declining_value(years, first, each_year):
    """The older rule for the same: a first loss, and an equal share each year. [0–1]

    Parameters
    ----------
    years : array_like
        [yr]
    first : array_like
        Of the price, before the first year. [0–1]
    each_year : array_like
        Left of it a year later. [0–1]
    """
    return first * np.power(each_year, np.asarray(years, dtype=float))


def fuel_per_kwh(load):
    """Diesel for each unit of work at the tractor's shaft. [L kWh⁻¹]

    Parameters
    ----------
    load : array_like
        Share of its full power that is asked of it. [0–1]
    """
    load = np.asarray(load, dtype=float)
    return 2.64 * load + 3.91 - 0.203 * np.sqrt(738 * load + 173)


def fuel_per_hour(power, load):
    """Diesel burnt in an hour. [L h⁻¹]

    Parameters
    ----------
    power : array_like
        Full power at the shaft. [kW]
    load : array_like
        Share of it that is asked. [0–1]
    """
    return np.multiply(power, load) * fuel_per_kwh(load)
