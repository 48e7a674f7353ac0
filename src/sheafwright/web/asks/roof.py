"""What does a roof take? From lengths, corners, or a file, drawn as soon as asked."""

import contextlib
import dataclasses
import functools
import re
from collections.abc import Callable

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.roof import roof
from sheafwright.charts.roof_sides import sides_svg
from sheafwright.core.errors import SheafwrightError
from sheafwright.core.roof.coat import mass_per_area
from sheafwright.feeds import roof as feed
from sheafwright.feeds import roof_outline as tape
from sheafwright.feeds.roof import GABLE, HIP, RoofQuestion
from sheafwright.feeds.telling import measured, refusal
from sheafwright.web.asks.ask import Ask, choice, number, quantity, told
from sheafwright.web.asks.roof_rows import features_of, row_of, rows
from sheafwright.web.forms.fields import BytesField
from sheafwright.web.roofs import keep_actions, roof_sections

HALF = "half_hip"
ENDS = (
    (HIP, gettext_lazy("hipped")),
    (GABLE, gettext_lazy("gabled")),
    (HALF, gettext_lazy("half-hipped")),
)
MATERIALS = (
    (feed.COMBED_REED, gettext_lazy("combed reed")),
    (feed.LONG_STRAW, gettext_lazy("long straw")),
)
WORKS = (
    (feed.NEW_COAT, gettext_lazy("a new coat")),
    (feed.OVER_COAT, gettext_lazy("a coat over the old one")),
    (feed.RIDGE, gettext_lazy("a ridge alone")),
    (feed.PATCH, gettext_lazy("a patch")),
)
FIXINGS = (
    ("", gettext_lazy("as is usual")),
    (feed.SWAYS, gettext_lazy("with sways and hooks")),
    (feed.SPARS, gettext_lazy("with spars")),
)
MOST_BYTES = 100_000


def _length(label, required=True):
    return quantity("distance", label, required)


def _text(label, required=True, **options):
    return lambda membership: forms.CharField(
        label=label, required=required, max_length=400, **options
    )


@dataclasses.dataclass(frozen=True)
class Measured:
    """A way to give an outline: its own fields, and what makes corners of them."""

    title: str
    short: str
    fields: dict[str, Callable]
    corners: Callable
    """From the membership and what was said in those fields. [m]"""
    wrong: str
    """The field to which a refusal of all of them belongs."""
    example: tuple = ()
    """What it is drawn with."""
    letters: dict = dataclasses.field(default_factory=dict)

    def drawing(self):
        """Which letter is which length."""
        return sides_svg(self.corners(None, **self.example), self.letters)


def _lengths(make):
    return lambda membership, **said: make(**said)


def _typed(membership, corners):
    return tape.corners_of(corners, membership.person.units)


SHAPES = {
    "roof": Measured(
        gettext_lazy("What does a roof take?"),
        gettext_lazy("a rectangle"),
        {
            "length": _length(gettext_lazy("A: length")),
            "width": _length(gettext_lazy("B: width")),
        },
        _lengths(tape.rectangle),
        "length",
        {"length": 12, "width": 6},
        {1: "A", 2: "B"},
    ),
    "roof-l": Measured(
        gettext_lazy("What does a roof like an L take?"),
        gettext_lazy("an L"),
        {
            "length": _length(gettext_lazy("A: length of the front")),
            "width": _length(gettext_lazy("B: width of its free end")),
            "wing": _length(gettext_lazy("C: width of the wing's end")),
            "out": _length(gettext_lazy("D: how far the wing stands out")),
        },
        _lengths(tape.ell),
        "wing",
        {"length": 12, "width": 5, "wing": 5, "out": 4},
        {1: "A", 2: "B", 5: "C", 4: "D"},
    ),
    "roof-t": Measured(
        gettext_lazy("What does a roof like a T take?"),
        gettext_lazy("a T"),
        {
            "length": _length(gettext_lazy("A: length of the front")),
            "width": _length(gettext_lazy("B: width of an end")),
            "wing": _length(gettext_lazy("C: width of the wing's end")),
            "out": _length(gettext_lazy("D: how far the wing stands out")),
            "before": _length(
                gettext_lazy("E: from the left end to the wing; half way if not said"),
                required=False,
            ),
        },
        _lengths(tape.tee),
        "wing",
        {"length": 12, "width": 5, "wing": 4, "out": 3, "before": 3},
        {1: "A", 2: "B", 5: "C", 4: "D", 7: "E"},
    ),
    "roof-u": Measured(
        gettext_lazy("What does a roof like a U take?"),
        gettext_lazy("a U"),
        {
            "length": _length(gettext_lazy("A: length of the front")),
            "left": _length(gettext_lazy("B: whole length of the left end")),
            "wing": _length(gettext_lazy("C: width of the left wing")),
            "yard": _length(gettext_lazy("D: how deep the yard is, on the left")),
            "other": _length(
                gettext_lazy("E: width of the right wing, if another"), required=False
            ),
            "right": _length(
                gettext_lazy("F: whole length of the right end, if another"),
                required=False,
            ),
        },
        _lengths(tape.you),
        "yard",
        {"length": 14, "left": 10, "wing": 4, "yard": 5},
        {1: "A", 8: "B", 7: "C", 6: "D", 3: "E", 2: "F"},
    ),
    "roof-corners": Measured(
        gettext_lazy("What does a roof of these corners take?"),
        gettext_lazy("corners of your own"),
        {
            "corners": lambda membership: forms.CharField(
                label=gettext_lazy("its corners, once round"),
                help_text=_(
                    "Across and up from any point, such as 0 0; 12 0; 12 6; 0 6, or "
                    "one corner a line. In %(unit)s, or with a unit behind. Side 1 "
                    "runs from the first corner to the second."
                )
                % {"unit": tape.usual_unit("distance", membership.person.units)},
                widget=forms.Textarea(attrs={"rows": 5}),
                max_length=tape.MOST_LETTERS,
            ),
        },
        _typed,
        "corners",
    ),
}
SLOPES = {
    "pitch": _text(
        gettext_lazy("pitch, in degrees"),
        help_text=gettext_lazy("One for all sides, or one for each: 50 45 50 45."),
    ),
    "ends": choice(gettext_lazy("its ends are"), ENDS),
}
WORK = {
    "material": choice(gettext_lazy("of what"), MATERIALS),
    "work": choice(gettext_lazy("the work"), WORKS),
}
MORE = {
    "name": _text(gettext_lazy("which roof"), required=False),
    "gabled": _text(
        gettext_lazy("sides that are such ends, if not those of its wings"),
        required=False,
        help_text=gettext_lazy("Numbers of sides, such as 2 4."),
    ),
    "half_hip_from": _length(
        gettext_lazy("how high above the eaves a half-hip begins"), required=False
    ),
    "overhang": _length(
        gettext_lazy("how far the thatch drips beyond what you measured"),
        required=False,
    ),
    "patch": quantity("floor", gettext_lazy("size of a patch"), required=False),
    "thickness": quantity("depth", gettext_lazy("thickness"), required=False),
    "fixing": choice(gettext_lazy("fixed"), FIXINGS, required=False),
    "stem": quantity("height", gettext_lazy("length of the stems"), required=False),
    "bundle": quantity("mass", gettext_lazy("weight of a bundle"), required=False),
    "load": quantity("mass", gettext_lazy("what a trailer carries"), required=False),
    "few": number(
        gettext_lazy("bundles you lay to the square, at the fewest"), required=False
    ),
    "many": number(gettext_lazy("and at the most"), required=False),
}
OF_NUMBERS = {
    "overhang": ("overhang_m", "m", 1.0),
    "thickness": ("thickness_mm", "mm", 1.0),
    "patch": ("patch_m2", "m²", 1.0),
    "stem": ("stem_m", "m", 0.01),
    "bundle": ("bundle_kg", "kg", 1.0),
    "load": ("load_kg", "kg", 1.0),
}
"""Field to what a file calls it, its unit there, and one of ours in that."""


def _ask(shape, membership, **said):
    corners = _corners(shape, membership, said)
    ends, halves = _ends(corners, said)
    with _told_at("pitch"):
        pitches = feed.pitches_of(_numbers(said, "pitch"), ends)
    standing = features_of(said, len(corners))
    question = RoofQuestion(
        outline_m=corners,
        pitch_deg=pitches,
        ends=ends,
        features=(*halves, *(feature for _row, feature in standing)),
        material=said["material"],
        work=said["work"],
        fixing=said["fixing"] or None,
        kg_per_m2=_rate(said),
        name=said["name"],
        **_sized(said),
    )
    return _shown(membership, question, [row for row, _feature in standing])


def _corners(shape, membership, said):
    typed = {name: said[name] for name in shape.fields}
    with _told_at(shape.wrong):
        return feed.outline_of(shape.corners(membership, **typed))


@contextlib.contextmanager
def _told_at(name):
    """Say at a field what is refused of it."""
    try:
        yield
    except SheafwrightError as error:
        raise ValidationError({name: refusal(error)}) from None


def _numbers(said, name):
    """Numbers with anything usual between them."""
    parts = re.split(r"[\s,;°]+", said[name].strip(" ,;°"))
    try:
        return [float(part) for part in parts]
    except ValueError:
        words = _("These should be numbers with spaces between, such as 50 45 50 45.")
        raise ValidationError({name: words}) from None


def _ends(corners, said):
    """How each side ends, and its half-hips."""
    n, which = len(corners), said["ends"]
    if which == HIP:
        if said["gabled"]:
            words = _("Say above whether these sides are gabled or half-hipped.")
            raise ValidationError({"gabled": words})
        return (HIP,) * n, ()
    sides = _sides(corners, said)
    if which == GABLE:
        return feed.gabled(sides, n), ()
    if said["half_hip_from"] is None:
        words = _("Say how high above the eaves the half-hips begin.")
        raise ValidationError({"half_hip_from": words})
    least, most = feed.SIZES["from_m"]
    _check("half_hip_from", said["half_hip_from"], "m", least, most)
    begins = {"from_m": said["half_hip_from"]}
    halves = (feed.Feature(feed.HALF_HIP, side, **begins) for side in sides)
    return (HIP,) * n, tuple(halves)


def _sides(corners, said):
    """Numbers of the sides that are ends: those said, or those of its wings."""
    if not said["gabled"]:
        with _told_at("gabled"):
            return feed.wing_ends(corners)
    sides = _numbers(said, "gabled")
    if not all(side in range(1, len(corners) + 1) for side in sides):
        words = _("Sides have numbers from 1 to %(n)d here.") % {"n": len(corners)}
        raise ValidationError({"gabled": words})
    return [int(side) for side in sides]


def _check(name, value, unit, least, most):
    if not least <= value <= most:
        words = _("It should be %(least)s to %(most)s.") % {
            "least": measured(least, unit),
            "most": measured(most, unit),
        }
        raise ValidationError({name: words})


def _sized(said):
    """What is said in one number, by the names of a file."""
    found = {}
    for name, (called, unit, one) in OF_NUMBERS.items():
        if said[name] is not None:
            found[called] = one * said[name]
            _check(name, found[called], unit, *feed.NUMBERS[called])
    is_patch = said["work"] == feed.PATCH
    if is_patch and "patch_m2" not in found:
        raise ValidationError({"patch": _("Say how large the patch is.")})
    if not is_patch:
        found.pop("patch_m2", None)
    return found


def _rate(said):
    """What the thatcher lays, as little and as much. [kg/m²]"""
    few, many = said["few"], said["many"]
    if few is None and many is None:
        return None
    few, many = (many if few is None else few), (few if many is None else many)
    if not 0 < few <= many:
        words = _("The fewest should be more than none, and no more than the most.")
        raise ValidationError({"few": words})
    bundle = said["bundle"] or feed.coat(said["material"]).bundle
    return tuple(float(mass_per_area(each, bundle)) for each in (few, many))


def _shown(membership, question, standing=()):
    try:
        answer = roof(question)
    except SheafwrightError as error:
        name = _to_blame(question, standing) or NON_FIELD_ERRORS
        raise ValidationError({name: refusal(error)}) from None
    return told(
        answer, *roof_sections(answer, keep_actions(membership, question, answer))
    )


def _to_blame(question, standing):
    """The field without which the roof could be."""
    n, halves = len(question.ends), len(question.features) - len(standing)
    plain = {"ends": (HIP,) * n, "pitch_deg": (50.0,) * n}
    mended = {
        "stem": {"stem_m": None},
        "fixing": {"fixing": None},
        "thickness": {"thickness_mm": None},
        "few": {"kg_per_m2": None},
        "patch": {"work": feed.NEW_COAT, "patch_m2": None},
    }
    for at, row in enumerate(standing, halves):
        kept = (*question.features[:at], *question.features[at + 1 :])
        mended[row_of(row)] = {"features": kept}
    mended["half_hip_from"] = {"features": question.features[halves:]}
    mended["overhang"] = {"overhang_m": 0.0}
    mended["ends"] = {"ends": plain["ends"], "features": ()}
    mended["pitch"] = plain | {"features": ()}
    for name, changes in mended.items():
        if _stands(dataclasses.replace(question, **changes)):
            return name
    return None


def _stands(question):
    try:
        roof(question)
    except SheafwrightError:
        return False
    return True


def _of_file(membership, file):
    if len(file) > MOST_BYTES:
        raise ValidationError({"file": _("It should be smaller than 100 kB.")})
    with _told_at("file"):
        question = feed.roof_of_bytes(file, _("The file"))
        answer = roof(question)
    return told(
        answer, *roof_sections(answer, keep_actions(membership, question, answer))
    )


FILE = "roof-file"
NAMES = (*SHAPES, FILE)


def _others(name):
    return tuple(other for other in NAMES if other != name)


ROOFS = {
    name: Ask(
        shape.title,
        shape.fields | SLOPES | WORK,
        MORE,
        functools.partial(_ask, shape),
        rows=rows,
        drawing=shape.drawing if shape.letters else None,
        beside=_others(name),
        short=shape.short,
    )
    for name, shape in SHAPES.items()
} | {
    FILE: Ask(
        gettext_lazy("What does the roof of a file take?"),
        {
            "file": lambda membership: BytesField(
                label=gettext_lazy("the roof, a TOML file"),
                help_text=gettext_lazy(
                    "As the command sheafwright roof reads it: outline_m, pitch_deg, "
                    "ends, features."
                ),
            )
        },
        {},
        _of_file,
        beside=_others(FILE),
        short=gettext_lazy("a file"),
    )
}
