"""Dormers, eyebrows and single ends of a roof: a fold of fields for each of them."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.feeds.roof import (
    CONE,
    EYEBROW,
    GABLE_DORMER,
    HALF_HIP,
    HIPPED_DORMER,
    NEEDS,
    PITCHES,
    SIZES,
    Feature,
)
from sheafwright.feeds.telling import measured
from sheafwright.web.asks.ask import number, quantity

FEWEST, MOST = 2, 12
"""Rows that are offered: always one more than is filled."""
KINDS = (
    ("", gettext_lazy("nothing")),
    (GABLE_DORMER, gettext_lazy("a gabled dormer")),
    (HIPPED_DORMER, gettext_lazy("a hipped dormer")),
    (EYEBROW, gettext_lazy("an eyebrow")),
    (HALF_HIP, gettext_lazy("a half-hip")),
    (CONE, gettext_lazy("a conical end")),
)
FIELDS = {
    "kind": lambda membership: forms.ChoiceField(
        label=gettext_lazy("what stands there"), choices=KINDS, required=False
    ),
    "side": number(
        gettext_lazy("on which side, by its number"), required=False, min_value=1
    ),
    "width": quantity(
        "distance",
        gettext_lazy("width of a dormer or an eyebrow, drip to drip"),
        required=False,
    ),
    "height": quantity(
        "distance",
        gettext_lazy(
            "height above the slope at its front, of a dormer's eaves or an eyebrow's "
            "crown; above the eaves, where a half-hip begins"
        ),
        required=False,
    ),
    "slope": number(
        gettext_lazy("its own pitch, in degrees"),
        required=False,
        min_value=PITCHES[0],
        max_value=PITCHES[1],
    ),
    "along": quantity(
        "distance",
        gettext_lazy("from the side's first corner to its middle"),
        required=False,
    ),
    "back": quantity(
        "distance", gettext_lazy("from the eaves back to its front"), required=False
    ),
}
CALLED = {
    "width_m": "width",
    "height_m": "height",
    "face_m": "height",
    "from_m": "height",
    "pitch_deg": "slope",
    "along_m": "along",
    "back_m": "back",
}
"""What a file says of a feature, to the field that says it here."""
MAY = {GABLE_DORMER, HIPPED_DORMER, EYEBROW}
"""Kinds of which it may be said where along the slope they stand."""


def row_of(row, name="kind"):
    """The name of a field in one of the rows."""
    return f"{name}_{row}"


def rows(typed):
    """Summary to fields of each row."""
    return {
        _("Dormer, eyebrow or other end %(n)d") % {"n": row}: {
            row_of(row, name): make for name, make in FIELDS.items()
        }
        for row in range(1, _count(typed) + 1)
    }


def _count(typed):
    filled = [n for n in range(1, MOST + 1) if row_of(n) in typed and typed[row_of(n)]]
    return min(max([FEWEST, *(n + 1 for n in filled)]), MOST)


def features_of(said, sides):
    """Row and `Feature` of each row that is filled, on an outline of so many sides."""
    filled = [n for n in range(1, MOST + 1) if said.get(row_of(n))]
    return [(row, _feature(said, row, sides)) for row in filled]


def _feature(said, row, sides):
    kind, side = said[row_of(row)], said[row_of(row, "side")]
    if side is None or side not in range(1, sides + 1):
        words = _("Say on which side, from 1 to %(n)d.") % {"n": sides}
        raise ValidationError({row_of(row, "side"): words})
    wanted = NEEDS[kind] | ({"along_m", "back_m"} if kind in MAY else set())
    sizes = {}
    for called in sorted(wanted):
        name = row_of(row, CALLED[called])
        value = said[name]
        if value is None and called in NEEDS[kind]:
            raise ValidationError({name: _("This is wanted, too.")})
        if value is not None:
            _check(name, called, value)
            sizes[called] = value
    return Feature(kind, int(side), **sizes)


def _check(name, called, value):
    least, most = SIZES[called]
    if not least <= value <= most:
        words = _("It should be %(least)s to %(most)s.") % {
            "least": measured(least, "m"),
            "most": measured(most, "m"),
        }
        raise ValidationError({name: words})
