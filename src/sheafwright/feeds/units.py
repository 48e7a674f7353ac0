"""What a person types, as a number in our own unit; and a number, as they read it.

Pint does the arithmetic, on a registry that holds our own definitions and nothing
else. Its usual one is American where it matters (a ton of 2,000 lb, a hundredweight of
100 lb, a bushel of 35.2 l, the survey acre) and knows a thousand units that a farm does
not. Here an unknown unit is unknown.
"""

import dataclasses
import math
import re
from functools import cache, lru_cache

from sheafwright.core.errors import OutOfRange, UnreadableInput

DEFINITIONS = """
metre = [length] = m = metres
millimetre = metre / 1000 = mm = millimetres
centimetre = metre / 100 = cm = centimetres
foot = 0.3048 metre = ft = feet
inch = foot / 12 = in = inches
yard = 3 foot = yd = yards
kilometre = 1000 metre = km = kilometres
mile = 1760 yard = miles

hectare = 10000 metre ** 2 = ha = hectares
acre = 4840 yard ** 2 = ac = acres
square = 100 foot ** 2 = squares
sqm = metre ** 2
sqft = foot ** 2

kilogram = [mass] = kg = kilograms = kilo = kilos
gram = kilogram / 1000 = g = grams
tonne = 1000 kilogram = t = tonnes
pound = 0.45359237 kilogram = lb = lbs = pounds
stone = 14 pound = st = stones
quarter = 28 pound = qr = qrs = quarters
hundredweight = 112 pound = cwt = cwts = hundredweights
ton = 2240 pound = tons
unit = hundredweight / 100 = units

litre = metre ** 3 / 1000 = l = litres
hectolitre = 100 litre = hl = hectolitres
bushel = 36.36872 litre = bu = bushels
cum = metre ** 3
cuft = foot ** 3

second = [time] = s = seconds
hour = 3600 second = h = hours
mph = mile / hour

kelvin = [temperature]
celsius = kelvin; offset: 273.15 = c
fahrenheit = 5 / 9 kelvin; offset: 255.3722222222222 = f
"""
FAMILIES = ("metric", "imperial")
AREAS = (0.001, 10_000)
"""Smallest and largest field. [ha]"""
LONGEST = 60
"""Characters; nobody types a longer quantity by hand."""
WRITTEN = str.maketrans({"°": "", "′": "ft", "'": "ft", "″": "in", '"': "in", "−": "-"})
NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|\.\d+"
PAIR = rf"({NUMBER})(?![\d.,])\s*([a-z][a-z /]*)?"
WHOLE = re.compile(rf"(-?)\s*((?:{PAIR}\s*)+)")
SQUARED = re.compile(r"\b(?:(m|ft)(?:²|\^?2\b)|sq(?:uare)? ?(m|ft)\b)")
CUBED = re.compile(r"\b(?:(m|ft)(?:³|\^?3\b)|cu(?:bic)? ?(m|ft)\b)")
PER = re.compile(r" */ *| +(?:per|an|a) +")


@dataclasses.dataclass(frozen=True)
class Shown:
    """A unit that a value is shown in."""

    unit: str
    decimals: int
    """At most; fewer where three figures say enough."""
    written: str = ""
    """How it is written, if not by the unit's name."""


@dataclasses.dataclass(frozen=True)
class Quantity:
    """Something measured: our inside unit, and the units it is shown in."""

    inside: str
    example: str
    metric: tuple[Shown, ...]
    imperial: tuple[Shown, ...]
    """The smallest unit first; a bare number is in that one."""
    adds_up: bool = True
    """Nothing of it is 0, and parts of it can be added; not so of a temperature."""


QUANTITIES = {
    "area": Quantity(
        inside="ha",
        example="2.5 acres",
        metric=(Shown("ha", 2),),
        imperial=(Shown("acres", 2),),
    ),
    "mass": Quantity(
        inside="kg",
        example="3 cwt",
        metric=(Shown("kg", 1), Shown("t", 2)),
        imperial=(Shown("lb", 1), Shown("cwt", 2), Shown("tons", 2)),
    ),
    "rate": Quantity(
        inside="kg/ha",
        example="1.5 cwt/acre",
        metric=(Shown("kg/ha", 1),),
        imperial=(Shown("cwt/acre", 2),),
    ),
    "yield": Quantity(
        inside="kg/ha",
        example="1.2 tons/acre",
        metric=(Shown("t/ha", 2),),
        imperial=(Shown("tons/acre", 2),),
    ),
    "depth": Quantity(
        inside="mm",
        example="2 in",
        metric=(Shown("mm", 1),),
        imperial=(Shown("in", 2),),
    ),
    "height": Quantity(
        inside="cm",
        example="4 ft",
        metric=(Shown("cm", 0),),
        imperial=(Shown("in", 1),),
    ),
    "spacing": Quantity(
        inside="cm",
        example="7 in",
        metric=(Shown("cm", 1),),
        imperial=(Shown("in", 2),),
    ),
    "distance": Quantity(
        inside="m",
        example="6 ft",
        metric=(Shown("m", 2),),
        imperial=(Shown("ft", 1),),
    ),
    "way": Quantity(
        inside="km",
        example="2 miles",
        metric=(Shown("km", 1),),
        imperial=(Shown("miles", 1),),
    ),
    "floor": Quantity(
        inside="sqm",
        example="200 sq ft",
        metric=(Shown("sqm", 1, "m²"),),
        imperial=(Shown("sqft", 0, "sq ft"),),
    ),
    "volume": Quantity(
        inside="cum",
        example="60 m³",
        metric=(Shown("cum", 1, "m³"),),
        imperial=(Shown("cuft", 0, "cu ft"),),
    ),
    "density": Quantity(
        inside="kg/cum",
        example="60 kg/m³",
        metric=(Shown("kg/cum", 1, "kg/m³"),),
        imperial=(Shown("lb/cuft", 1, "lb/cu ft"),),
    ),
    "speed": Quantity(
        inside="m/s",
        example="3 mph",
        metric=(Shown("m/s", 1),),
        imperial=(Shown("mph", 1),),
    ),
    "specific_weight": Quantity(
        inside="kg/hl",
        example="63 lb/bu",
        metric=(Shown("kg/hl", 1),),
        imperial=(Shown("lb/bu", 1),),
    ),
    "temperature": Quantity(
        inside="°C",
        example="54 °C",
        metric=(Shown("°C", 1),),
        imperial=(Shown("°C", 1),),
        adds_up=False,
    ),
}


def parse(text, quantity, family="metric"):
    """The number that a person typed, in the inside unit of its quantity.

    Parts add up, as in ``4 ft 6 in``. A comma parts thousands and nothing else: ``3,2``
    is refused, since whoever writes it would also write ``3,250`` for 3.25.

    Parameters
    ----------
    text : str
        Such as ``2.5 acres``. A bare number is in `usual_unit` of the family.
    quantity : str
        One of ``QUANTITIES``.
    family : str
        One of ``FAMILIES``.
    """
    kind = QUANTITIES[quantity]
    said = f"{text.strip()[:LONGEST]!r}"
    minus, parts = _read(text)
    alone = len(parts) == 1
    if not parts or not (alone or (all(unit for _, unit in parts) and kind.adds_up)):
        raise _misfit(said, kind)
    if minus and kind.adds_up:
        raise OutOfRange(
            "{said} is less than nothing; it should be 0 or more.", said=said
        )
    usual = usual_unit(quantity, family)
    return math.fsum(
        _inside(minus + number, unit or usual, kind, said) for number, unit in parts
    )


def show(value, quantity, family="metric"):
    """A value in our inside unit as the family writes it, such as ``2.50 acres``.

    A number and its unit are never parted at the end of a line.
    """
    kind = QUANTITIES[quantity]
    ladder = getattr(kind, family)
    held = [_convert(value, kind.inside, each.unit) for each in ladder]
    # The largest unit of which there is a whole one, else the smallest.
    step = max((n for n, much in enumerate(held) if much >= 1), default=0)
    written = ladder[step].written or ladder[step].unit
    return f"{_figures(held[step], ladder[step].decimals)}\u00a0{written}"


def in_unit(value, quantity, unit):
    """A value in our inside unit as a number of another, such as ``st/acre``."""
    return _convert(value, QUANTITIES[quantity].inside, unit)


def from_unit(value, quantity, unit):
    """A number of any unit of a quantity, in our inside unit."""
    return _convert(value, unit, QUANTITIES[quantity].inside)


def usual_unit(quantity, family="metric"):
    """The unit that a bare number is taken to be in; a label should say it."""
    return getattr(QUANTITIES[quantity], family)[0].unit


def _read(text):
    """The sign, and the number and unit of each part; no part if it can't be read."""
    typed = WHOLE.fullmatch(_plainly(text)) if len(text) <= LONGEST else None
    if not typed:
        return "", []
    parts = re.findall(PAIR, typed[2])
    return typed[1], [(number.replace(",", ""), unit.strip()) for number, unit in parts]


def _plainly(text):
    """Lower case, our own names for signs, and single spaces."""
    plain = re.sub(r"(?<=[a-z])\.", "", text.lower()).translate(WRITTEN)
    return CUBED.sub(r"cu\1\2", SQUARED.sub(r"sq\1\2", " ".join(plain.split())))


def _inside(number, unit, kind, said):
    from pint import DimensionalityError, UndefinedUnitError

    try:
        return _convert(float(number), unit, kind.inside)
    except UndefinedUnitError:
        raise UnreadableInput(
            "{said} is in {unit}, a unit we don't know; it should be such as "
            "{example}.",
            said=said,
            unit=repr(unit),
            example=kind.example,
        ) from None
    except DimensionalityError:
        raise _misfit(said, kind) from None


def _misfit(said, kind):
    return UnreadableInput(
        "{said} is not a quantity that fits here; it should be such as {example}.",
        said=said,
        example=kind.example,
    )


def _convert(value, unit, wanted):
    factor = _factor(unit, wanted)
    return _by_pint(value, unit, wanted) if factor is None else value * factor


@lru_cache(maxsize=1024)
def _factor(unit, wanted):
    """What a value is multiplied by; None where the units begin at different zeros.

    A page shows hundreds of quantities in a dozen units, and Pint looks up each anew.
    """
    return None if _by_pint(0, unit, wanted) else _by_pint(1, unit, wanted)


def _by_pint(value, unit, wanted):
    quantity = _registry().Quantity(value, _unit(unit))
    return quantity.to(_unit(wanted)).magnitude


@lru_cache(maxsize=256)
def _unit(said):
    """Pint's unit of one name, or of one over another."""
    over, *under = (_named(name) for name in PER.split(_plainly(said)))
    for each in under:
        over = over / each
    return over


def _named(name):
    from pint import UndefinedUnitError

    # Pint would read two names as their product, and none as a bare number.
    if not name.isalpha():
        raise UndefinedUnitError(name)
    return _registry().parse_units(name, as_delta=False)


@cache
def _registry():
    from pint import UnitRegistry

    registry = UnitRegistry(None)
    for definition in filter(None, DEFINITIONS.splitlines()):
        registry.define(definition)
    return registry


def _figures(number, most_decimals):
    """Three figures or the whole number, with no more decimals than are told apart."""
    known = number and math.isfinite(number)
    size = math.floor(math.log10(abs(number))) if known else 0
    return f"{number:,.{min(most_decimals, max(0, 2 - size))}f}"
