"""The shape of a roof that is asked about, with all that stands on it."""

import dataclasses
import itertools
import math
from typing import NamedTuple

import numpy as np

from sheafwright.answers.roof_wording import CALLED
from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof import features, outline
from sheafwright.core.roof.coat import squares
from sheafwright.core.roof.slope import area_factor, pitch_of, rise
from sheafwright.core.roof.surface import (
    LINES,
    Roof,
    arc_lengths,
    height,
    lengths,
    plan_areas,
    raise_roof,
    rings,
    slope_areas,
)
from sheafwright.core.roof.wavefront import EAVES, HIP, RIDGE, VALLEY, VERGE
from sheafwright.feeds.roof import (
    CONE,
    EYEBROW,
    GABLE,
    GABLE_PITCH,
    HALF_HIP,
    HIPPED_DORMER,
)
from sheafwright.feeds.telling import say

SLACK = 1e-6
"""[m]"""
ROUND = 24
"""Stretches into which a curve is drawn."""


class Standing(NamedTuple):
    """A feature as it stands on the roof."""

    kind: str
    side: int
    """The first is 1."""
    pitch: float
    """[°]"""
    own: float
    """Its own surface. [m²]"""
    adds: float
    """To the roof's area, what it hides taken out. [m²]"""
    lines: dict
    """What it adds to each of ``LINES``. [m]"""
    plan: np.ndarray
    """It covers, shape (point, 2). [m]"""
    front: np.ndarray
    """Outline of its front, shape (point, 3). [m]"""
    foot: np.ndarray
    """Where it meets the slope, or a cone's peak, shape (point, 3). [m]"""


@dataclasses.dataclass(frozen=True)
class Shape:
    """A roof, its sides numbered as they were given."""

    roof: Roof
    """Seen from below if its corners go clockwise, so that its sides keep their
    order."""
    seen_from_below: bool
    standing: tuple[Standing, ...]

    @property
    def plan_area(self):
        """Within the drip. [m²]"""
        cones = (s for s in self.standing if s.kind == CONE)
        beyond = sum(each.own / area_factor(each.pitch) for each in cones)
        return float(plan_areas(self.roof).sum() + beyond)

    @property
    def area(self):
        """Of all slopes. [m²]"""
        return float(
            slope_areas(self.roof).sum() + sum(each.adds for each in self.standing)
        )

    @property
    def squares(self):
        """Of 100 square feet."""
        return float(squares(self.area))

    @property
    def lines(self):
        """Length of each of ``LINES``. [m]"""
        of_roof = dict(zip(LINES, lengths(self.roof).tolist(), strict=True))
        for each in self.standing:
            for kind, length in each.lines.items():
                of_roof[kind] += length
        # A conical end takes away just the verges that its gable would have had.
        return {kind: max(length, 0.0) for kind, length in of_roof.items()}

    @property
    def rise(self):
        """Of the highest ridge above the eaves. [m]"""
        return float(height(self.roof))

    @property
    def faces(self):
        """Side, pitch and area of each slope. [°, m²]"""
        areas, planes = slope_areas(self.roof), self.roof.planes
        for plane in np.flatnonzero(planes.run).tolist():
            side, pitch = int(planes.side[plane]) + 1, float(self.roof.pitch[plane])
            yield side, pitch, float(areas[plane])


def shape_of(question):
    """The `Shape` of a `RoofQuestion`."""
    corners = np.array(question.outline_m)
    below = bool(outline.signed_area(corners) < 0)
    corners = corners * [1, -1 if below else 1]
    drip = outline.spread(corners, question.overhang_m)
    outline.check(drip)
    roof = raise_roof(drip, *_slopes(question))
    standing = tuple(
        _cone(roof, each)
        if each.kind == CONE
        else _on_slope(roof, each, corners, question.overhang_m)
        for each in question.features
        if each.kind != HALF_HIP
    )
    _check_apart(standing)
    return Shape(roof, below, standing)


def _slopes(question):
    """Pitch of each side, and the height from which it slopes. [°, m]"""
    pitch = np.array(question.pitch_deg)
    pitch[np.array(question.ends) == GABLE] = GABLE_PITCH
    hip_from, taken = np.zeros(len(pitch)), set()
    for each in question.features:
        if each.kind not in (HALF_HIP, CONE):
            continue
        side = each.side - 1
        if side in taken:
            raise OutOfRange(
                "Side {side} has two ends; it should have one half-hip or conical end.",
                side=each.side,
            )
        taken.add(side)
        if each.kind == CONE:
            pitch[side] = GABLE_PITCH
            continue
        pitch[side], hip_from[side] = question.pitch_deg[side], each.from_m
        if pitch[side] == GABLE_PITCH:
            raise OutOfRange(
                "The half-hip of side {side} has no slope; pitch_deg of that side "
                "should be less than 90°.",
                side=each.side,
            )
    return pitch, hip_from


def _on_slope(roof, feature, walls, overhang):
    """A dormer's or an eyebrow's `Standing`."""
    side, plane = feature.side, feature.side - 1
    main = float(roof.pitch[plane])
    if main == GABLE_PITCH:
        raise OutOfRange(
            "The {kind} of side {side} stands on a gable; it should stand on a slope.",
            kind=say(CALLED[feature.kind]),
            side=side,
        )
    form = _eyebrow if feature.kind == EYEBROW else _dormer
    covers, own, lines, plan, front = form(feature, main)
    n = len(walls)
    along = outline.directions(walls)[plane]
    into = outline.inward(along)
    whole = float(np.hypot(*(walls[(plane + 1) % n] - walls[plane])))
    middle = whole / 2 if math.isnan(feature.along_m) else feature.along_m
    foot = walls[plane] + middle * along + (feature.back_m - overhang) * into
    lift = feature.back_m * rise(main)
    points = foot + plan[:, :1] * along + plan[:, 1:] * into
    _check_on_face(roof, feature, points)
    return Standing(
        kind=feature.kind,
        side=side,
        pitch=feature.pitch_deg,
        own=float(own),
        adds=float(features.net_area(own, covers, main)),
        lines={kind: float(length) for kind, length in lines.items()},
        plan=points,
        front=np.column_stack([foot + front[:, :1] * along, lift + front[:, 1]]),
        foot=np.column_stack([points, lift + plan[:, 1] * rise(main)]),
    )


def _dormer(feature, main):
    """Plan, surface, lines; corners from its front's middle, and those of its front."""
    sized = feature.width_m, feature.face_m, feature.pitch_deg, main
    width, face, pitch, _ = sized
    depth = float(features.dormer_depth(*sized))
    eaves = float(features.dormer_eaves(face, main))
    lines = {
        RIDGE: depth,
        VALLEY: 2 * features.dormer_valley(width, pitch, main),
        EAVES: 2 * eaves,
    }
    if feature.kind == HIPPED_DORMER:
        lines |= _hipped_front(feature, depth, eaves)
    else:
        lines[VERGE] = 2 * features.dormer_verge(width, pitch)
    half, top = width / 2, face + width / 2 * rise(pitch)
    plan = [(-half, 0), (half, 0), (half, eaves), (0, depth), (-half, eaves)]
    front = [(-half, 0), (half, 0), (half, face), (0, top), (-half, face)]
    own = features.dormer_area(*sized)
    return features.dormer_plan(*sized), own, lines, np.array(plan), np.array(front)


def _hipped_front(feature, depth, eaves):
    half = feature.width_m / 2
    if depth < half:
        raise OutOfRange(
            "The hipped dormer of side {side} has no room for its hips: its face or "
            "its pitch should be more.",
            side=feature.side,
        )
    hips = 2 * features.dormer_hip(feature.width_m, feature.pitch_deg)
    return {RIDGE: depth - half, HIP: hips, EAVES: 2 * (eaves + half)}


def _eyebrow(feature, main):
    """As `_dormer`; it has no lines of its own."""
    sized = feature.width_m, feature.height_m, feature.pitch_deg, main
    width, up, pitch, _ = sized
    if pitch >= main:
        raise OutOfRange(
            "The eyebrow of side {side} has a pitch of {pitch:g}°; it should be less "
            "than the {main:g}° of the slope that it stands on.",
            side=feature.side,
            pitch=pitch,
            main=main,
        )
    across = np.linspace(0.5, -0.5, ROUND + 1)
    front = up / 2 * (1 + np.cos(2 * np.pi * across))
    back = features.eyebrow_depth(front, pitch, main)
    plan = np.column_stack([across * width, back])
    own = features.eyebrow_area(*sized)
    covers = features.eyebrow_plan(*sized)
    return covers, own, {}, plan, np.column_stack([across * width, front])


def _check_on_face(roof, feature, points):
    (ring, *_) = rings(roof, feature.side - 1)
    face = roof.nodes[list(ring), :2]
    inside = outline.holds(face, points) | (outline.away(face, points) <= SLACK)
    if not inside.all() or _strictly(points, face).any():
        raise OutOfRange(
            "The {kind} of side {side} does not lie whole on its slope: it should be "
            "smaller, or lie elsewhere along it.",
            kind=say(CALLED[feature.kind]),
            side=feature.side,
        )


def _strictly(corners, points):
    """Whether points lie within an outline, and not on it."""
    return outline.holds(corners, points) & (outline.away(corners, points) > SLACK)


def _cone(roof, feature):
    """The half cone in place of a gable, its peak at the end of the ridge."""
    plane = feature.side - 1
    (ring, *_) = rings(roof, plane)
    points = roof.nodes[list(ring)]
    tail, head = roof.nodes[plane], roof.nodes[(plane + 1) % _sides(roof)]
    radius = float(np.hypot(*(head - tail)[:2]) / 2)
    peak = points[points[:, 2].argmax()]
    middle = (tail + head)[:2] / 2
    if len(ring) != 3 or np.hypot(*(peak[:2] - middle)) > 1e-3 * radius:
        raise OutOfRange(
            "Side {side} can have no conical end: it should be the end of a wing whose "
            "two slopes have one pitch.",
            side=feature.side,
        )
    pitch = float(pitch_of(peak[2], radius))
    verges = _length_at(roof, plane, VERGE)
    along = (head - tail)[:2] / (2 * radius)
    turn = np.linspace(0, np.pi, ROUND + 1)[:, None]
    out = -outline.inward(along)
    plan = middle + radius * (-np.cos(turn) * along + np.sin(turn) * out)
    _check_free(roof, feature, plan[1:-1], middle)
    area = float(features.cone_area(radius, pitch))
    return Standing(
        kind=CONE,
        side=feature.side,
        pitch=pitch,
        own=area,
        adds=area,
        lines={EAVES: float(features.cone_eaves(radius)), VERGE: -verges},
        plan=plan,
        front=np.column_stack([plan, np.zeros(len(plan))]),
        foot=peak[None],
    )


def _sides(roof):
    return int(roof.planes.side.max()) + 1


def _length_at(roof, plane, kind):
    mine = [a.kind == kind and plane in (a.left, a.right) for a in roof.arcs]
    return float(arc_lengths(roof)[mine].sum())


def _check_free(roof, feature, plan, middle):
    ground = roof.nodes[: _sides(roof), :2]
    # Half way out too: a wall may stand between the middle and the round.
    spots = np.concatenate([plan, (plan + middle) / 2])
    if outline.holds(ground, spots).any():
        raise OutOfRange(
            "The conical end of side {side} would run into the roof beside it.",
            side=feature.side,
        )


def _check_apart(standing):
    """Refuse features that lie upon one another."""
    for one, other in itertools.permutations(standing, 2):
        if _strictly(one.plan, [*other.plan, other.plan.mean(axis=0)]).any():
            raise OutOfRange(
                "The {one} of side {side} and the {other} of side {beside} lie upon "
                "one another; each should have room of its own.",
                one=say(CALLED[one.kind]),
                side=one.side,
                other=say(CALLED[other.kind]),
                beside=other.side,
            )
