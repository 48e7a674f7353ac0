"""What does this roof take? Its true area and lines, its straw, and what holds it."""

import dataclasses

from sheafwright.answers.roof_shape import Shape, shape_of
from sheafwright.answers.roof_straw import Straw, straw_for
from sheafwright.answers.roof_wording import (
    cautions,
    check_stem,
    sentence,
    warnings,
)
from sheafwright.answers.roof_working import CLOSED, steps
from sheafwright.answers.working import Step, steps_to_json
from sheafwright.core.roof.slope import stem_slope
from sheafwright.core.roof.wavefront import RIDGE
from sheafwright.feeds.roof import COMBED_REED, LONG_STRAW, RoofQuestion
from sheafwright.feeds.telling import mark, measured, say

LIE = mark(
    "Each stem lies on the butts of the course below: the angle whose sine is the coat "
    "over the stem"
)
TELLING = 3
"""Steps that are shown first."""


@dataclasses.dataclass(frozen=True)
class RoofAnswer:
    """The answer."""

    question: RoofQuestion
    shape: Shape
    straw: Straw
    stems: float | None
    """Slope of the stems where the rafters rise least, if their length was said. [°]"""

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return sentence(self.shape, self.straw)

    @property
    def warnings(self):
        """What the trade would not accept, each a sentence."""
        return tuple(warnings(self.shape, self.straw))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(steps(self.shape, self.straw, self._of_stems()))

    @property
    def telling(self):
        """Those few steps that tell most."""
        return self.working[:TELLING]

    def _of_stems(self):
        if self.stems is None:
            return None
        says = say(
            "Stems of {stem} lie at {slope:.1f}° where the rafters rise least.",
            stem=measured(self.question.stem_m, "m"),
            slope=self.stems,
        )
        return Step(says, LIE, CLOSED)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        shape, lines = self.shape, self.shape.lines
        return {
            "sentence": self.sentence,
            "name": self.question.name,
            "warnings": list(self.warnings),
            "cautions": list(cautions()),
            "plan_m2": round(shape.plan_area, 4),
            "area_m2": round(shape.area, 4),
            "squares": round(shape.squares, 4),
            "ridge_m": round(lines[RIDGE], 4),
            "hips_m": round(lines["hip"], 4),
            "valleys_m": round(lines["valley"], 4),
            "eaves_m": round(lines["eaves"], 4),
            "verges_m": round(lines["verge"], 4),
            "abutments_m": round(lines["abutment"], 4),
            "rise_m": round(shape.rise, 4),
            "slopes": [_slope(*each) for each in shape.faces],
            "features": [_feature(each) for each in shape.standing],
            **self._straw_json(),
            "working": steps_to_json(self.working),
        }

    def _straw_json(self):
        straw = self.straw
        bought = _band(straw.bought.times(1e-3), 3)
        return {
            "material": straw.material,
            "work": straw.work,
            "fixing": straw.fixing,
            "thickness_mm": straw.thickness and round(1000 * straw.thickness, 1),
            "combed_reed_t": bought if straw.material == COMBED_REED else None,
            "long_straw_t": bought if straw.material == LONG_STRAW else None,
            "coat_laid_kg": _band(straw.coat, 1),
            "ridge_laid_kg": _band(straw.ridging, 1),
            "bundle_kg": round(straw.bundle, 4),
            "bundles": straw.bundles._asdict(),
            "trailer_loads": straw.loads._asdict(),
            "spars": straw.spars._asdict(),
            "hazel_gads": straw.gads._asdict(),
            "liggers": straw.liggers,
            "sways_m": round(straw.sways, 1),
            "hooks": straw.hooks,
            "coat_kn_per_m2": straw.pressure and _band(straw.pressure, 3),
            "stem_slope_deg": self.stems and round(self.stems, 2),
        }


def roof(question):
    """The `RoofAnswer` to a `RoofQuestion`."""
    shape = shape_of(question)
    straw = straw_for(question, shape.area, shape.lines[RIDGE])
    return RoofAnswer(question, shape, straw, _stems(question, shape, straw))


def _stems(question, shape, straw):
    if question.stem_m is None or straw.thickness is None:
        return None
    check_stem(question.stem_m, straw.thickness)
    lowest = min(pitch for _, pitch, _ in shape.faces)
    return float(stem_slope(lowest, straw.thickness, question.stem_m))


def _band(band, digits):
    return {name: round(each, digits) for name, each in band._asdict().items()}


def _slope(side, pitch, area):
    return {"side": side, "pitch_deg": round(pitch, 3), "area_m2": round(area, 4)}


def _feature(each):
    return {
        "kind": each.kind,
        "side": each.side,
        "pitch_deg": round(each.pitch, 3),
        "own_m2": round(each.own, 4),
        "adds_m2": round(each.adds, 4),
    }
