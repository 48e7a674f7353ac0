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
    # Past the age at which nothing is left the square would rise again.
    return np.maximum(root, 0) ** 2


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


def salvage_value(machine, hours):
    """What it will be sold for, by how its kind loses value. [£]

    Parameters
    ----------
    machine : CostedMachine
    hours : array_like
        Worked in each year. [h yr⁻¹]
    """
    kind = machine.c1, machine.c2, machine.c3
    now = remaining_value(machine.age, hours, *kind)
    then = remaining_value(machine.age + machine.years, hours, *kind)
    return machine.price * then / np.where(now == 0, 1, now)


def ownership_a_year(machine, hours, rate, other):
    """Depreciation, interest, and the rest that an owner pays. [£ yr⁻¹]

    Parameters
    ----------
    machine : CostedMachine
    hours : array_like
        Worked in each year. [h yr⁻¹]
    rate : float
        Yearly interest. [0–1]
    other : float
        Housing, insurance and taxes, of its price. [yr⁻¹]
    """
    salvage = salvage_value(machine, hours)
    recovery = capital_recovery(machine.price, salvage, rate, machine.years)
    return recovery + other * machine.price


def repairs_a_year(machine, hours):
    """Repairs in a year, evenly over those of ownership. [£ yr⁻¹]

    Parameters
    ----------
    machine : CostedMachine
    hours : array_like
        Worked in each year. [h yr⁻¹]
    """
    kind = machine.rf1, machine.rf2
    at_end = machine.hours_before + np.multiply(machine.years, hours)
    whole = accumulated_repair(machine.new_price, at_end, *kind)
    before = accumulated_repair(machine.new_price, machine.hours_before, *kind)
    return (whole - before) / machine.years


def crop_part(machine, hours):
    """Share of a machine's year that is this crop's. [0–1]

    Parameters
    ----------
    machine : CostedMachine
    hours : array_like
        On this crop. [h yr⁻¹]
    """
    all_hours = np.add(hours, machine.hours_elsewhere)
    return np.divide(hours, np.where(all_hours == 0, 1, all_hours))
