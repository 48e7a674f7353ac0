"""How stooks dry and a meter is believed, from the tables."""

import dataclasses

from sheafwright.core.inputs.moisture import GrainCurves, StrawCurves
from sheafwright.core.inputs.stooks import AfterRain, Dew, Meter, Order
from sheafwright.core.moisture.equilibrium import chung_pfost, henderson, oswin
from sheafwright.feeds.tables import build_shipped, shipped

FORMS = (henderson, chung_pfost, oswin)
"""Forms of the curves; the first word of a curve's name says which it has."""


def straw_drying(grain):
    """`Drying` of straw: as its grain's in the same stook, but for its own rows."""
    rows = shipped("stooks")["straw"]
    own = {name: row.value for name, row in rows.items()}
    return dataclasses.replace(grain, **own)


def dew():
    """`Dew`."""
    return build_shipped(Dew, "stooks", "dew")


def meter():
    """`Meter`."""
    return build_shipped(Meter, "stooks", "meter")


def after_rain():
    """`AfterRain`."""
    return build_shipped(AfterRain, "stooks", "after_rain")


def order():
    """`Order`."""
    return build_shipped(Order, "stooks", "carting")


def grain_curves():
    """Equilibrium curves of wheat grain: each a form and its constants."""
    return _curves(GrainCurves, "grain")


def straw_curves():
    """Equilibrium curves that stand in for wheat straw, as `grain_curves`."""
    return _curves(StrawCurves, "straw")


def _curves(kind, section):
    constants = build_shipped(kind, "moisture", section)
    names = [field.name for field in dataclasses.fields(kind)]
    return tuple((_form(name), getattr(constants, name)) for name in names)


def _form(name):
    return next(form for form in FORMS if name.startswith(form.__name__))


def drying_warmth():
    """How far drying hours lie from a day's lowest to its highest temperature. [0–1]"""
    return shipped("stooks")["air"]["warmth"].value


def dampest_air():
    """Humidity above which the equilibrium curves do not hold. [0–1]"""
    return shipped("stooks")["air"]["dampest"].value
