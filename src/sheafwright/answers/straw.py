"""How long, thick, straight, bright and sound is the straw in these photographs?"""

import dataclasses

import numpy as np

from sheafwright.answers.bands import short
from sheafwright.answers.working import Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange, SheafwrightError
from sheafwright.feeds.telling import (
    joined,
    listed,
    mark,
    measured,
    refusal,
    say,
    say_n,
    told,
)
from sheafwright.measure.straw import Measured, measure_straw
from sheafwright.measure.terms import harm, term_row, terms

MOST_PHOTOS = 100
WHY = {
    "tangled": mark("It crosses others, and which end is whose can't be told."),
    "hidden_end": mark("One of its ends lies on another stem."),
    "parted": mark("It seems to go on in a piece that can't be joined to it."),
    "off_board": mark("It comes too near to the edge of the blue."),
    "too_wide": mark(
        "It is wider than a stem: two lie side by side, or it is no straw."
    ),
    "uneven": mark("Its thickness jumps: two stems lie together, or little is clear."),
    "short": mark("It is too short to be a stem for thatch."),
}
MOST_HIDDEN = 0.25
"""Of a stem's length: where more lies under others, an eye should say that it is one.
"""
DOUBTED = mark("{share:.0%} of it lies under others: look whether it is one stem.")
APART = mark("Lay what was left out apart from others, and photograph it again.")
PRINTER = mark(
    "Colours are judged by the patches as they were meant to be printed; a printer's "
    "own error is not in these figures."
)


@dataclasses.dataclass(frozen=True)
class Seen:
    """A photograph that was measured."""

    name: str
    measured: Measured


@dataclasses.dataclass(frozen=True)
class Refused:
    """A photograph that was not, and why."""

    name: str
    why: str


@dataclasses.dataclass(frozen=True)
class Straw:
    """The answer."""

    seen: tuple[Seen, ...]
    refused: tuple[Refused, ...]

    @property
    def stems(self):
        """Every stem with its photograph's name, in order."""
        return [(each.name, stem) for each in self.seen for stem in each.measured.stems]

    @property
    def rejected(self):
        """Every piece left out, with its photograph's name."""
        return [(each.name, r) for each in self.seen for r in each.measured.rejected]

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if not self.stems:
            return joined(say("No stem could be measured."), self._left_out())
        return joined(self._sizes(), self._faults(), self._left_out())

    def _sizes(self):
        lengths = np.array([stem.length.mm for _, stem in self.stems])
        return joined(
            say_n("{n} stem measured.", "{n} stems measured.", len(lengths)),
            say(
                "They are {low} to {high} long, {middle} in the middle.",
                low=measured(lengths.min(), "mm", ",.0f"),
                high=measured(lengths.max(), "mm", ",.0f"),
                middle=measured(np.median(lengths), "mm", ",.0f"),
            ),
            self._thickness(),
        )

    def _thickness(self):
        butts, tops = (
            [getattr(stem, end).mm for _, stem in self.stems if getattr(stem, end)]
            for end in ("butt", "top")
        )
        if not butts or not tops:
            return ""
        return say(
            "Butts are {butt} thick and tops {top}, in the middle.",
            butt=measured(np.median(butts), "mm", ".1f"),
            top=measured(np.median(tops), "mm", ".1f"),
        )

    def _faults(self):
        stems = [stem for _, stem in self.stems]
        counts = {
            "dog_leg": sum(stem.dog_leg for stem in stems),
            "crushed": sum(stem.damage.crushed_mm > 0 for stem in stems),
            "split": sum(stem.damage.split_mm > 0 for stem in stems),
            "mouldy": sum(stem.damage.mouldy_mm > 0 for stem in stems),
            "leaf": sum(stem.leaf_mm > 0 for stem in stems),
        }
        faults = [FAULTS[name](n) for name, n in counts.items() if n]
        if not faults:
            return say(
                "None is dog-legged, crushed, split or mouldy that could be seen."
            )
        return say("Of them {faults}.", faults=listed(faults))

    def _left_out(self):
        out, refused = len(self.rejected), len(self.refused)
        return joined(
            out and say_n("{n} was left out.", "{n} were left out.", out),
            out and told(APART),
            refused
            and say_n("{n} photo was refused.", "{n} photos were refused.", refused),
        )

    @property
    def warnings(self):
        """What makes figures less sure."""
        return [words for each in self.seen for words in each.measured.warnings]

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return (*(_board_step(each) for each in self.seen), *_meanings())

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "board": self._board(),
            "photos": [_photo_to_json(each) for each in self.seen],
            "refused": [dataclasses.asdict(each) for each in self.refused],
            "stems": [
                {"number": n, "photo": name} | stem_to_json(stem)
                for n, (name, stem) in enumerate(self.stems, 1)
            ],
            "rejected": [
                {"photo": name} | _rejected_to_json(each)
                for name, each in self.rejected
            ],
            "scraps": sum(int(each.measured.scraps) for each in self.seen),
            "colours": "CIELAB, D65, 2°",
            "warnings": [*map(told, self.warnings), told(PRINTER)],
            "working": steps_to_json(self.working),
        }

    def _board(self):
        """Of all photographs: the coarsest, and the farthest off."""
        return {
            "found": True,
            "scale_mm_per_px": max(_scale(each) for each in self.seen),
            "error_mm": max(round(e.measured.camera.error_mm, 3) for e in self.seen),
        }


FAULTS = {
    "dog_leg": lambda n: say_n("{n} is dog-legged", "{n} are dog-legged", n),
    "crushed": lambda n: say_n("{n} is crushed", "{n} are crushed", n),
    "split": lambda n: say_n("{n} is split", "{n} are split", n),
    "mouldy": lambda n: say_n("{n} is mouldy", "{n} are mouldy", n),
    "leaf": lambda n: say_n("{n} has leaf on", "{n} have leaf on", n),
}


def straw(photos, sheets=None, bar_mm=None):
    """The `Straw` in photographs.

    Parameters
    ----------
    photos : sequence of (name, bytes)
    sheets, bar_mm
        As `measure.straw.measure_straw`.

    Raises
    ------
    SheafwrightError
        If no photograph can be measured: what is wrong with the first.
    """
    if not 1 <= len(photos) <= MOST_PHOTOS:
        raise OutOfRange(
            "{n} photographs can't be measured at once; it should be 1 to {most}.",
            n=len(photos),
            most=MOST_PHOTOS,
        )
    seen, refused, errors = [], [], []
    for name, content in photos:
        try:
            seen.append(Seen(name, measure_straw(content, sheets, bar_mm)))
        except SheafwrightError as error:
            refused.append(Refused(name, refusal(error)))
            errors.append(error)
    if not seen:
        raise errors[0]
    return Straw(tuple(seen), tuple(refused))


def doubt(stem):
    """Why a measured stem, as its JSON, should be looked at before it counts; or ''."""
    share = stem["hidden_mm"] / stem["length_mm"]
    return say(DOUBTED, share=share) if share > MOST_HIDDEN else ""


def stem_to_json(stem):
    """One stem: every name with its unit; errors hold 19 times in 20."""
    return {
        "length_mm": round(stem.length.mm, 1),
        "length_error_mm": round(stem.length.error_mm, 1),
        **_diameters(stem),
        "taper_mm_per_m": round(stem.taper_mm_per_m, 2),
        "taper_error_mm_per_m": round(stem.taper_error_mm_per_m, 2),
        "taper_thirds_mm_per_m": [short(each, 2) for each in stem.thirds_mm_per_m],
        "nodes_mm": [round(each, 1) for each in stem.nodes_mm],
        "sharpest_bend_deg": round(stem.bend.angle_deg, 1),
        "sharpest_bend_error_deg": terms().bend_error_deg,
        "sharpest_bend_at_mm": round(stem.bend.at_mm, 1),
        "dog_leg": stem.dog_leg,
        **_colour(stem),
        **_harm(stem),
        "hidden_mm": round(stem.hidden_mm),
        "line_mm": _thinned(stem.line),
    }


def _diameters(stem):
    found = {}
    for name in ("butt", "middle", "top"):
        sized = getattr(stem, name)
        found[f"{name}_diameter_mm"] = short(sized and sized.mm, 2)
        found[f"{name}_diameter_error_mm"] = short(sized and sized.error_mm, 2)
    return found


def _harm(stem):
    """Lengths of harm; their errors hold 19 times in 20 where any was found."""
    damage = stem.damage
    return {
        "crushed_mm": round(damage.crushed_mm),
        "crushed_error_mm": harm().crushed_error_mm,
        "split_mm": round(damage.split_mm),
        "split_error_mm": harm().split_error_mm,
        "mouldy_mm": round(damage.mouldy_mm),
        "mouldy_error_mm": harm().mouldy_error_mm,
        "leaf_left_on_mm": round(stem.leaf_mm),
        "leaf_left_on_error_mm": harm().leaf_error_mm,
    }


def _colour(stem):
    names = ("lightness", "a", "b")
    return {
        "lab": dict(zip(names, (round(v, 1) for v in stem.lab), strict=True)),
        "lab_error": round(stem.lab_error, 1),
        "brightness": round(stem.lab[0], 1),
        "green_share": round(stem.green_share, 3),
    }


def _thinned(line, every=20):
    """Some of a line's points, and its last."""
    points = np.concatenate([line[:-1:every], line[-1:]])
    return [[round(float(x), 1), round(float(y), 1)] for x, y in points]


def _rejected_to_json(piece):
    return {
        "why": piece.why,
        "says": told(WHY[piece.why]),
        "line_mm": _thinned(piece.line),
    }


def _scale(each):
    return round(each.measured.quality.scale_mm_per_px, 3)


def _photo_to_json(each):
    camera = each.measured.camera
    return {
        "photo": each.name,
        "board": {
            "found": True,
            "scale_mm_per_px": _scale(each),
            "error_mm": round(camera.error_mm, 3),
            "tilt_deg": round(camera.tilt_deg, 1),
            "blur_mm": round(each.measured.quality.blur_mm, 2),
            "patches_error_lab": round(each.measured.colour_error_lab, 1),
        },
        "warnings": [told(words) for words in each.measured.warnings],
    }


def _board_step(each):
    says = say(
        "In {photo} a pixel shows {scale}; the board's squares lie {error} from where "
        "they should, and the camera was {tilt:.0f}° from straight above.",
        photo=each.name,
        scale=measured(each.measured.quality.scale_mm_per_px, "mm", ".2f"),
        error=measured(each.measured.camera.error_mm, "mm", ".2f"),
        tilt=each.measured.camera.tilt_deg,
    )
    return Step(says, mark("The photograph"), "measured")


def _meanings():
    known = terms()
    yield step_from_rows(
        say(
            "Length runs along the stem from cut to cut; butt and top are measured "
            "{end} from their ends, between nodes.",
            end=measured(known.end_at_mm, "mm"),
        ),
        term_row("end_at_mm"),
    )
    yield step_from_rows(
        say(
            "A dog-leg turns by {sharp:g}° or more at a node, at one place, told to "
            "{error:g}°; a curve turns little by little.",
            sharp=known.sharp_deg,
            error=known.bend_error_deg,
        ),
        term_row("sharp_deg"),
        term_row("bend_error_deg"),
    )
    yield step_from_rows(
        say(
            "Straw whose hue is {hue:g}° or more counts as green; crushed is "
            "{wide:.0%} of its own thickness or more; mould is darker and greyer than "
            "{dark:.0%} of the stem's own.",
            hue=known.green_hue_deg,
            wide=known.crushed_share,
            dark=known.mould_dark_share,
        ),
        term_row("green_hue_deg"),
        term_row("crushed_share"),
        term_row("mould_dark_share"),
    )
    yield _how_sure_of_harm()
    yield step_from_rows(
        say(
            "Pieces shorter than {least} are left out.",
            least=measured(known.least_stem_mm, "mm"),
        ),
        term_row("least_stem_mm"),
    )


def _how_sure_of_harm():
    sure = harm()
    return step_from_rows(
        say(
            "In invented photographs {crushed:.0%} of crushed stems were found, "
            "{split:.0%} of split, {mouldy:.0%} of mouldy ones and {leaf:.0%} of those "
            "with leaf on: where none is told of, look again.",
            crushed=sure.crushed_seen,
            split=sure.split_seen,
            mouldy=sure.mouldy_seen,
            leaf=sure.leaf_seen,
        ),
        term_row("crushed_seen", "harm"),
        term_row("split_seen", "harm"),
        term_row("mouldy_seen", "harm"),
        term_row("leaf_seen", "harm"),
    )
