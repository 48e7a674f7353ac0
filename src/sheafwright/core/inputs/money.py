"""Machines and ranges that a crop's money is reckoned from."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class CostedMachine:
    """A machine, or a set that is used together."""

    own: int
    """1 if it is ours, 0 if it is hired. [1]"""
    price: float
    """When it was bought. [£]"""
    age: float
    """When it was bought. [yr]"""
    new_price: float
    """That repairs are reckoned from. [£]"""
    years: float
    """Of ownership. [yr]"""
    hours_before: float
    """Worked when it was bought. [h]"""
    hours_elsewhere: float
    """On other work. [h yr⁻¹]"""
    rf1: float
    """First repair factor. [1]"""
    rf2: float
    """Second repair factor. [1]"""
    c1: float
    """What a new one is worth, as the root of a share. [1]"""
    c2: float
    """What the root of its years takes off. [yr⁻⁰⋅⁵]"""
    c3: float
    """What its hours take off. [1]"""


@dataclasses.dataclass(frozen=True)
class UseOfMachines:
    """How the tractor and its cultivator are worked."""

    power: float
    """Of the tractor, at its shaft. [kW]"""
    load: float
    """Share of it that is asked. [0–1]"""
    cultivator_width: float
    """[m]"""
    cultivator_speed: float
    """[km h⁻¹]"""
    cultivator_efficiency: float
    """Field efficiency. [0–1]"""
    cultivator_passes: float
    """[1]"""
    other: float
    """Housing, insurance and taxes of a machine, of its price. [yr⁻¹]"""
