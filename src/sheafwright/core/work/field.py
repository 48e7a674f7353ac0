"""Area against time: what a machine covers, and what hands do."""

import numpy as np


def field_capacity(width, speed, efficiency):
    """Area that a machine covers in an hour. [ha h⁻¹]

    Parameters
    ----------
    width : array_like
        Of its work. [m]
    speed : array_like
        [km h⁻¹]
    efficiency : array_like
        Field efficiency: what turns, stops and overlap leave. [0–1]

    References
    ----------
    .. [1] ASABE Engineering Practice EP496, Agricultural machinery management,
       effective field capacity.
    """
    return np.multiply(width, speed) * efficiency / 10


def hand_hours(area, area_a_day, hours_a_day):
    """Hours of hands that an area takes. [h]

    Parameters
    ----------
    area : array_like
        [ha]
    area_a_day : array_like
        That one hand does in a day. [ha d⁻¹]
    hours_a_day : array_like
        Of that day. [h d⁻¹]
    """
    return np.divide(area, area_a_day) * hours_a_day


def hands_to_keep_up(capacity, fit_hours, area_a_day):
    """Hands that do in their day what a machine does in its fit hours. [1]

    Parameters
    ----------
    capacity : array_like
        Of the machine. [ha h⁻¹]
    fit_hours : array_like
        Of a day. [h d⁻¹]
    area_a_day : array_like
        That one hand does in a day. [ha d⁻¹]
    """
    return np.ceil(np.multiply(capacity, fit_hours) / area_a_day)


def crew_days(hours, hands, hours_a_day):
    """Days in which so many hands do so many hours. [d]

    Parameters
    ----------
    hours : array_like
        Of hands. [h]
    hands : array_like
        [1]
    hours_a_day : array_like
        Of each. [h d⁻¹]
    """
    return np.divide(hours, np.multiply(hands, hours_a_day))


def days_behind(machine_days, hours, hands, on_machine, hours_a_day):
    """Days until a machine is done, and hands with what they do behind it. [d]

    While it runs, some of the hands are on it; what is left then is done by all.

    Parameters
    ----------
    machine_days : array_like
        [d]
    hours : array_like
        Of hands, behind the machine. [h]
    hands, on_machine : array_like
        In all, and of them on the machine while it runs. [1]
    hours_a_day : array_like
        Of each hand. [h d⁻¹]
    """
    meanwhile = np.subtract(hands, on_machine) * machine_days * hours_a_day
    left = np.maximum(np.subtract(hours, meanwhile), 0)
    return machine_days + crew_days(left, hands, hours_a_day)
