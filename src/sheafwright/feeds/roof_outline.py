"""A roof's outline as a tape gives it: lengths of a usual shape, or corners typed.

Corners go anticlockwise from the left end of the front, so that side 1 is the front.
"""

import re

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.feeds.telling import measured
from sheafwright.feeds.units import LONGEST, from_unit, usual_unit

NUMBER = r"-?(?:\d+(?:\.\d*)?|\.\d+)"
UNIT = r"ft|feet|foot|in|inch|inches|m|metres?|cm|mm|yd|yards?"
LENGTH = re.compile(rf"({NUMBER})\s*(?:({UNIT})\b\.?)?", re.IGNORECASE)
SIGNS = str.maketrans({"′": " ft ", "'": " ft ", "″": " in ", '"': " in ", "−": "-"})
BETWEEN = re.compile(r"[\s,;|/()\[\]]*")
MOST_LETTERS = 4000
"""That a form takes."""


def rectangle(length, width):
    """Corners of a plain roof, once round. [m]

    Parameters
    ----------
    length : float
        Of the front, side 1. [m]
    width : float
        Of an end, side 2. [m]
    """
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def ell(length, width, wing, out):
    """Corners of an L: a range, and a wing that stands out behind its left end. [m]

    Parameters
    ----------
    length, width : float
        Of the front, side 1, and of the range's free end, side 2. [m]
    wing : float
        Width of the wing's end, side 5. [m]
    out : float
        By which the wing stands out, side 4. [m]
    """
    if wing >= length:
        raise _too_wide(wing, length)
    back = width + out
    inner = ((length, width), (wing, width), (wing, back), (0.0, back))
    return ((0.0, 0.0), (length, 0.0), *inner)


def tee(length, width, wing, out, before=None):
    """Corners of a T: a range, and a wing that stands out behind it. [m]

    Parameters
    ----------
    length, width : float
        Of the front, side 1, and of an end, side 2. [m]
    wing, out : float
        Width of the wing's end, side 5, and how far it stands out, side 4. [m]
    before : float, optional
        From the range's left end to the wing, side 7; None if it is in the middle. [m]
    """
    if wing >= length:
        raise _too_wide(wing, length)
    left = (length - wing) / 2 if before is None else before
    right, back = left + wing, width + out
    if not 0 < left < right < length:
        raise OutOfRange(
            "The wing begins {left} from the left end and is {wing} wide, on a range "
            "of {length}: it should leave some of the range on both its sides, else "
            "the roof is an L.",
            left=measured(left, "m"),
            wing=measured(wing, "m"),
            length=measured(length, "m"),
        )
    wing_round = ((right, width), (right, back), (left, back), (left, width))
    return ((0.0, 0.0), (length, 0.0), (length, width), *wing_round, (0.0, width))


def you(length, left, wing, yard, right=None, other=None):
    """Corners of a U: a range, and a wing behind each of its ends. [m]

    Parameters
    ----------
    length : float
        Of the front, side 1. [m]
    left : float
        Of the whole left end, its wing with it, side 8. [m]
    wing : float
        Width of the left wing's end, side 7. [m]
    yard : float
        How deep the yard is along the left wing, side 6. [m]
    right, other : float, optional
        The whole right end, side 2, and the width of its wing, side 3; None if they
        are as on the left. [m]
    """
    right = left if right is None else right
    other = wing if other is None else other
    back = left - yard
    if wing + other >= length:
        raise _too_wide(wing + other, length)
    if not 0 < back < right:
        raise OutOfRange(
            "The yard is {yard} deep beside ends of {left} and {right}: it should "
            "leave some of the range behind it, and be some of both wings.",
            yard=measured(yard, "m"),
            left=measured(left, "m"),
            right=measured(right, "m"),
        )
    inner = length - other
    yard_round = ((inner, right), (inner, back), (wing, back), (wing, left))
    return ((0.0, 0.0), (length, 0.0), (length, right), *yard_round, (0.0, left))


def _too_wide(wing, length):
    return OutOfRange(
        "A width of {wing} in wings leaves nothing of a front of {length}; it should "
        "be less.",
        wing=measured(wing, "m"),
        length=measured(length, "m"),
    )


def corners_of(text, family="metric"):
    """Corners that a person typed, such as ``0 0; 12 0; 12 6; 0 6``. [m]

    Numbers go in pairs, across and up, whatever stands between them. Each may have its
    unit, such as ``12 ft 6 in``; the last one said serves those without.

    Parameters
    ----------
    text : str
    family : str
        Of units, for numbers where no unit is said at all.
    """
    lengths = list(_lengths(text))
    if len(lengths) < 6 or len(lengths) % 2:
        raise UnreadableInput(
            "There are {n} numbers; corners should be pairs, across and up, at least "
            "three of them, such as {example}.",
            n=len(lengths),
            example="0 0; 12 0; 12 6; 0 6",
        )
    said = [unit for _, unit in lengths if unit]
    usual = said[-1] if said else usual_unit("distance", family)
    metres = [
        number if unit == "m" else from_unit(number, "distance", unit or usual)
        for number, unit in lengths
    ]
    return tuple(zip(metres[::2], metres[1::2], strict=True))


def _lengths(text):
    """Each length's number and unit, feet with their inches as one."""
    text = text.translate(SIGNS)
    at, feet = BETWEEN.match(text).end(), None
    while at < len(text):
        found = LENGTH.match(text, at)
        if not found:
            raise UnreadableInput(
                "{said} is no length; corners should be pairs of numbers, such as "
                "{example}.",
                said=repr(text[at:].split()[0][:LONGEST]),
                example="0 0; 12 0; 12 6; 0 6",
            )
        number, unit = float(found[1]), (found[2] or "").lower()
        between = BETWEEN.match(text, found.end())
        at = between.end()
        if feet is not None and unit.startswith("in"):
            yield feet + number / 12, "ft"
            feet = None
            continue
        if feet is not None:
            yield feet, "ft"
            feet = None
        if unit in ("ft", "feet", "foot") and not between[0].strip():
            feet = number
        else:
            yield number, unit
    if feet is not None:
        yield feet, "ft"
