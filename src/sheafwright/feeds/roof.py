"""A roof that is asked about, from a TOML file; and what roofs take, from the table."""

import contextlib
import dataclasses
import math

import numpy as np

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.core.inputs.roof import Accepted, Coat, FireRules, Fixing, Ridging
from sheafwright.core.roof import outline
from sheafwright.feeds.shapes import is_number
from sheafwright.feeds.tables import build_shipped, read_toml, toml_of
from sheafwright.feeds.telling import joined, mark, measured, say, told

COMBED_REED, LONG_STRAW = MATERIALS = "combed_reed", "long_straw"
NEW_COAT, OVER_COAT, RIDGE, PATCH = WORKS = "new_coat", "over_coat", "ridge", "patch"
SPARS, SWAYS = FIXINGS = "spars", "sways"
HIP, GABLE = ENDS = "hip", "gable"
GABLE_DORMER, HIPPED_DORMER, EYEBROW = "gable_dormer", "hipped_dormer", "eyebrow"
HALF_HIP, CONE = "half_hip", "conical_end"
NEEDS = {
    GABLE_DORMER: {"width_m", "face_m", "pitch_deg"},
    HIPPED_DORMER: {"width_m", "face_m", "pitch_deg"},
    EYEBROW: {"width_m", "height_m", "pitch_deg"},
    HALF_HIP: {"from_m"},
    CONE: set(),
}
"""Kind of feature to what must be said of it, beside its side."""
MAY = {
    GABLE_DORMER: {"along_m", "back_m"},
    HIPPED_DORMER: {"along_m", "back_m"},
    EYEBROW: {"along_m", "back_m"},
    HALF_HIP: set(),
    CONE: set(),
}
MOST_CORNERS, MOST_FEATURES = 60, 40
NARROWEST, WIDEST = 0.5, 200.0
"""[m]"""
FARTHEST = 1e8
"""From where corners are measured: beyond it millimetres are lost. [m]"""
PITCHES = (5.0, 80.0)
"""Of a slope. [°]"""
GABLE_PITCH = 90.0


@dataclasses.dataclass(frozen=True)
class Feature:
    """What stands on a slope, or ends the roof at a side."""

    kind: str
    """One of ``NEEDS``."""
    side: int
    """Of the outline, the first is 1."""
    width_m: float = math.nan
    height_m: float = math.nan
    """Of an eyebrow's crown above the slope at its front."""
    face_m: float = math.nan
    """Of a dormer's eaves above the slope at its front."""
    pitch_deg: float = math.nan
    from_m: float = math.nan
    """Height above the eaves at which a half-hip begins."""
    along_m: float = math.nan
    """From the side's first corner to the feature's middle; the side's, if not said."""
    back_m: float = 0.0
    """From the eaves back to its front, level."""


@dataclasses.dataclass(frozen=True)
class RoofQuestion:
    """What does this roof take?"""

    outline_m: tuple[tuple[float, float], ...]
    """Corners, once round, either way."""
    pitch_deg: tuple[float, ...]
    """Of each side."""
    ends: tuple[str, ...]
    """Of each side, one of ``ENDS``."""
    features: tuple[Feature, ...] = ()
    overhang_m: float = 0.0
    """By which the thatch drips outside the outline."""
    material: str = COMBED_REED
    work: str = NEW_COAT
    thickness_mm: float | None = None
    """None as is usual for the work."""
    fixing: str | None = None
    """None: sways for a new coat, else spars."""
    patch_m2: float | None = None
    stem_m: float | None = None
    bundle_kg: float | None = None
    load_kg: float | None = None
    kg_per_m2: tuple[float, float] | None = None
    """The thatcher's own rate, laid: as little, as much."""
    name: str = ""


def coat(material):
    """`Coat` of one of ``MATERIALS``."""
    return build_shipped(Coat, "roof", material)


def ridging():
    """`Ridging`."""
    return build_shipped(Ridging, "roof", "ridging")


def fixing():
    """`Fixing`."""
    return build_shipped(Fixing, "roof", "fixing")


def accepted():
    """`Accepted`."""
    return build_shipped(Accepted, "roof", "accepted")


def fire_rules():
    """`FireRules`."""
    return build_shipped(FireRules, "roof", "fire_rules")


def read_roof(path):
    """The `RoofQuestion` of a TOML file."""
    return roof_question(read_toml(path), str(path))


def roof_of_bytes(file, where):
    """The `RoofQuestion` of a TOML file that was sent, by its bytes and its name."""
    try:
        text = file.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise UnreadableInput(
            "{path} holds bytes that are no text; it should be a TOML file in UTF-8.",
            path=where,
        ) from None
    return roof_question(toml_of(text, where), where)


def roof_said(question):
    """What a file of a `RoofQuestion` says: `roof_question` makes the same of it."""
    said = dataclasses.asdict(question)
    usual = {f.name: f.default for f in dataclasses.fields(RoofQuestion)}
    kept = {n: v for n, v in said.items() if v != usual[n]}
    kept["features"] = [_feature_said(each) for each in question.features]
    return {name: _listed(value) for name, value in kept.items() if value != []}


def _feature_said(feature):
    said = dataclasses.asdict(feature)
    known = {"kind", "side"} | NEEDS[feature.kind] | MAY[feature.kind]
    return {n: v for n, v in said.items() if n in known and v == v}


def _listed(value):
    """With lists for tuples, as JSON and TOML have them."""
    return [_listed(each) for each in value] if isinstance(value, tuple) else value


def roof_question(said, where):
    """The `RoofQuestion` of what a file says.

    Parameters
    ----------
    said : dict
    where : str
        How the file is called when something in it is wrong.
    """
    said = dict(said)
    _check_names(said, {f.name for f in dataclasses.fields(RoofQuestion)}, where)
    for name in ("outline_m", "pitch_deg"):
        if name not in said:
            raise UnreadableInput("{where} lacks {name}.", where=where, name=name)
    corners = _corners(said.pop("outline_m"), where)
    ends = _ends(said.pop("ends", HIP), corners, where)
    pitches = _pitches(said.pop("pitch_deg"), ends, where)
    features = _features(said.pop("features", []), len(corners), where)
    given = {name: _option(name, value, where) for name, value in said.items()}
    question = RoofQuestion(corners, pitches, ends, features, **given)
    _check_patch(question, where)
    return question


def _check_names(said, known, where):
    if unread := sorted(said.keys() - known):
        raise UnreadableInput(
            "{where} has {names}, which nothing reads.",
            where=where,
            names=joined(*unread, by=", "),
        )


def _corners(listed, where):
    if _is_list(listed) and any(map(_is_ring, listed)):
        raise UnreadableInput(
            "{where}: outline_m holds more than one ring; a roof round a court should "
            "be parted into pieces without a hole, one a file.",
            where=where,
        )
    if not _is_list(listed) or not all(map(_is_point, listed)):
        raise _odd(
            where, "outline_m", listed, mark("corners such as [[0, 0], [9, 0], [9, 6]]")
        )
    with _of("outline_m", where):
        return outline_of(listed)


@contextlib.contextmanager
def _of(name, where):
    """Say of which part of which file a refusal is."""
    try:
        yield
    except OutOfRange as error:
        raise OutOfRange(
            "{where}: {name}: {what}",
            where=where,
            name=name,
            what=say(error.words, **error.values),
        ) from None


def outline_of(points):
    """Corners of a roof, the first not said again at the end. [m]"""
    corners = [(float(x), float(y)) for x, y in points]
    if corners and corners[0] == corners[-1]:
        del corners[-1]
    if not 3 <= len(corners) <= MOST_CORNERS:
        raise OutOfRange(
            "The outline has {n} corners; it should have 3 to {most}.",
            n=len(corners),
            most=MOST_CORNERS,
        )
    size = float(np.ptp(corners, axis=0).max())
    if not NARROWEST <= size <= WIDEST:
        raise OutOfRange(
            "The outline is {size} across; it should be {least} to {most}.",
            size=measured(size, "m", ",.3g"),
            least=measured(NARROWEST, "m"),
            most=measured(WIDEST, "m"),
        )
    outline.check(np.array(corners))
    return tuple(corners)


def _ends(said, corners, where):
    n = len(corners)
    if said == HIP:
        return (HIP,) * n
    if said == GABLE:
        with _of("ends", where):
            return gabled(wing_ends(corners), n)
    if not _is_list(said) or len(said) != n or not all(e in ENDS for e in said):
        right = say(
            "hip, gable, or a list with one of them for each of the {n} sides", n=n
        )
        raise _odd(where, "ends", said, right)
    return tuple(said)


def wing_ends(corners):
    """Numbers of the sides where gables would stand: the ends of wings."""
    found = np.flatnonzero(outline.ends(_anticlockwise(corners))) + 1
    if not len(found):
        raise OutOfRange(
            "No side of this outline is the end of a wing; say of each of the {n} "
            "sides whether it is hipped or gabled.",
            n=len(corners),
        )
    return found.tolist()


def gabled(sides, n):
    """Ends of all ``n`` sides, these gabled, by their numbers."""
    return tuple(GABLE if side in sides else HIP for side in range(1, n + 1))


def _anticlockwise(corners):
    """The outline, seen from below if it goes clockwise: its sides keep their order."""
    corners = np.array(corners)
    return corners * [1, 1 if outline.signed_area(corners) > 0 else -1]


def _pitches(said, ends, where):
    n = len(ends)
    listed = said if _is_list(said) else [said]
    if len(listed) not in (1, n) or not all(map(_is_number, listed)):
        right = say("a number, or a list with one for each of the {n} sides", n=n)
        raise _odd(where, "pitch_deg", said, right)
    with _of("pitch_deg", where):
        return pitches_of(listed, ends)


def pitches_of(listed, ends):
    """Pitch of each side, from one for all, or one for each. [°]"""
    n = len(ends)
    if len(listed) not in (1, n):
        raise OutOfRange(
            "{given} pitches are given for {n} sides; there should be one for all, or "
            "one for each.",
            given=len(listed),
            n=n,
        )
    least, most = PITCHES
    pitches = tuple(map(float, listed)) * (n if len(listed) == 1 else 1)
    for side, (pitch, end) in enumerate(zip(pitches, ends, strict=True), 1):
        if not least <= pitch <= most and not (pitch == GABLE_PITCH and end == GABLE):
            raise OutOfRange(
                "The pitch of side {side} is {pitch:g}°; it should be {least:g}° to "
                "{most:g}°.",
                side=side,
                pitch=pitch,
                least=least,
                most=most,
            )
    return pitches


def _features(said, n, where):
    if not _is_list(said) or not all(isinstance(each, dict) for each in said):
        raise UnreadableInput(
            "{where}: features should be written as [[features]].", where=where
        )
    if len(said) > MOST_FEATURES:
        raise OutOfRange(
            "{where} has {n} features; it should have at most {most}.",
            where=where,
            n=len(said),
            most=MOST_FEATURES,
        )
    return tuple(
        _feature(each, n, f"{where} [[features]] {number}")
        for number, each in enumerate(said, 1)
    )


def _feature(said, n, where):
    kind = said.get("kind")
    if kind not in tuple(NEEDS):
        raise _odd(where, "kind", kind, _one_of(NEEDS))
    known = {"kind", "side"} | NEEDS[kind] | MAY[kind]
    _check_names(said, known, where)
    if lacks := sorted(({"side"} | NEEDS[kind]) - said.keys()):
        raise UnreadableInput(
            "{where} lacks {names}.", where=where, names=joined(*lacks, by=", ")
        )
    side = said["side"]
    if not isinstance(side, int) or isinstance(side, bool) or not 1 <= side <= n:
        right = say("a side of the outline, from 1 to {n}", n=n)
        raise _odd(where, "side", side, right)
    sizes = {name: said[name] for name in known - {"kind", "side"} if name in said}
    for name, value in sizes.items():
        _check_size(name, value, where)
    return Feature(kind, side, **{name: float(v) for name, v in sizes.items()})


SIZES = {
    "width_m": (0.3, 30.0),
    "height_m": (0.05, 5.0),
    "face_m": (0.0, 5.0),
    "pitch_deg": PITCHES,
    "from_m": (0.05, 30.0),
    "along_m": (0.0, WIDEST),
    "back_m": (0.0, WIDEST),
}
"""Least and most of what is said of a feature."""
NUMBERS = {
    "overhang_m": (0.0, 3.0),
    "thickness_mm": (50.0, 1000.0),
    "patch_m2": (0.1, 10_000.0),
    "stem_m": (0.3, 3.0),
    "bundle_kg": (1.0, 50.0),
    "load_kg": (50.0, 30_000.0),
}
CHOICES = {"material": MATERIALS, "work": WORKS, "fixing": FIXINGS}


def _check_size(name, value, where, limits=SIZES):
    least, most = limits[name]
    if not _is_number(value) or not least <= value <= most:
        right = say("a number from {least:g} to {most:g}", least=least, most=most)
        raise _odd(where, name, value, right)


def _option(name, value, where):
    if name in NUMBERS:
        _check_size(name, value, where, NUMBERS)
        return float(value)
    if name in CHOICES and value not in CHOICES[name]:
        raise _odd(where, name, value, _one_of(CHOICES[name]))
    if name == "name" and not (isinstance(value, str) and value.isprintable()):
        raise _odd(where, name, value, mark("a text on one line"))
    if name == "kg_per_m2":
        return _rates(value, where)
    return value


def _rates(value, where):
    """As little and as much; one number is both."""
    pair = value if _is_list(value) else [value, value]
    if len(pair) != 2 or not all(map(_is_number, pair)) or not 0 < pair[0] <= pair[1]:
        right = mark("a number, or two with the lower first, such as [34, 41]")
        raise _odd(where, "kg_per_m2", value, right)
    return tuple(map(float, pair))


def _check_patch(question, where):
    if (question.work == PATCH) != (question.patch_m2 is not None):
        raise UnreadableInput(
            "{where}: patch_m2 should say how large a patch is when work is patch, and "
            "not otherwise.",
            where=where,
        )


def _odd(where, name, value, right):
    return UnreadableInput(
        "{where}: {name} is {value}; it should be {right}.",
        where=where,
        name=name,
        value=repr(value)[:40],
        right=told(right),
    )


def _one_of(names):
    *most, last = names
    return say("{most} or {last}", most=joined(*most, by=", "), last=last)


def _is_list(value):
    return isinstance(value, list | tuple)


def _is_number(value):
    return is_number(value) and abs(value) < FARTHEST


def _is_point(value):
    return _is_list(value) and len(value) == 2 and all(map(_is_number, value))


def _is_ring(value):
    return _is_list(value) and bool(value) and all(map(_is_list, value))
