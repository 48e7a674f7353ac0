"""What a roof takes of straw and of fixings: each as little, likely, and as much."""

import dataclasses
from typing import NamedTuple

from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof import coat
from sheafwright.feeds import roof as feed
from sheafwright.feeds.orders import vehicle
from sheafwright.feeds.roof import NEW_COAT, OVER_COAT, PATCH, RIDGE, SPARS, SWAYS
from sheafwright.feeds.telling import measured


class Band(NamedTuple):
    """As little, likely, and as much."""

    low: float
    likely: float
    high: float

    @classmethod
    def of(cls, pair):
        """With the middle as likely."""
        low, high = map(float, pair)
        return cls(low, (low + high) / 2, high)

    def times(self, by):
        """Each by one number, or by another band's."""
        others = by if isinstance(by, Band) else (by,) * 3
        return Band(*(a * b for a, b in zip(self, others, strict=True)))

    def plus(self, other):
        """Each with another band's."""
        return Band(*(a + b for a, b in zip(self, other, strict=True)))

    def whole(self, each=1.0):
        """How many of one size, the last perhaps not full."""
        return Band(*(int(coat.whole(much, each)) for much in self))


NONE = Band(0.0, 0.0, 0.0)


@dataclasses.dataclass(frozen=True)
class Straw:
    """What the work takes."""

    material: str
    work: str
    fixing: str | None
    """None where no coat is laid."""
    thickness: float | None
    """[m]"""
    area: float
    """Covered; 0 for a ridge. [m²]"""
    ridge: float
    """Ridged. [m]"""
    rate: Band | None
    """Laid on a square metre. [kg m⁻²]"""
    own_rate: bool
    """Whether the thatcher gave it."""
    coat: Band
    """Laid. [kg]"""
    ridging: Band
    """Laid. [kg]"""
    bought: Band
    """Coat and ridge, with what is thrown out. [kg]"""
    bundle: float
    """[kg]"""
    load: float
    """What a trailer carries. [kg]"""
    spars: Band
    gads: Band
    liggers: int
    sways: float
    """[m]"""
    hooks: int

    @property
    def bundles(self):
        """Of ``bundle``, whole ones."""
        return self.bought.whole(self.bundle)

    @property
    def loads(self):
        """Of ``load``."""
        return self.bought.whole(self.load)

    @property
    def pressure(self):
        """Weight of the coat on the slope; None for a ridge. [kN m⁻²]"""
        return self.rate and Band(*(float(coat.pressure(each)) for each in self.rate))


def straw_for(question, area, ridge):
    """The `Straw` of a `RoofQuestion`, of the roof's whole area and ridge."""
    work = question.work
    taken = feed.coat(question.material)
    _check_patch(question, area)
    area = {RIDGE: 0.0, PATCH: question.patch_m2}.get(work, area)
    ridge = 0.0 if work == PATCH else ridge
    thickness, rate = (None, None) if work == RIDGE else _coat(question, taken)
    laid = rate.times(area) if rate else NONE
    ridging = _ridging(ridge)
    waste = Band.of([1 + each for each in taken.waste])
    fixing = _fixing(question)
    return Straw(
        material=question.material,
        work=work,
        fixing=fixing,
        thickness=thickness,
        area=area,
        ridge=ridge,
        rate=rate,
        own_rate=rate is not None and question.kg_per_m2 is not None,
        coat=laid,
        ridging=ridging,
        bought=laid.plus(ridging).times(waste),
        bundle=question.bundle_kg or taken.bundle,
        load=question.load_kg or vehicle("trailer").payload,
        **_fixings(fixing, area, ridge),
    )


def _check_patch(question, area):
    if question.work == PATCH and question.patch_m2 > area:
        raise OutOfRange(
            "The patch has {patch}, and the whole roof {area}; it should be no larger.",
            patch=measured(question.patch_m2, "m²", ",.1f"),
            area=measured(area, "m²", ",.1f"),
        )


def _coat(question, taken):
    """Thickness and rate of the coat. [m, kg m⁻²]"""
    over = question.work == OVER_COAT
    usual = taken.over_thickness if over else taken.new_thickness
    given = question.thickness_mm
    thickness = usual if given is None else given / 1000
    if question.kg_per_m2 is not None:
        rate = Band.of(question.kg_per_m2)
    else:
        pair = taken.over_coat if over else taken.new_coat
        of_usual = Band.of(coat.mass_per_area(pair, coat.HUNDREDWEIGHT))
        rate = Band(*(float(coat.as_thick(r, thickness, usual)) for r in of_usual))
    _check_density(rate, thickness)
    return thickness, rate


def _check_density(rate, thickness):
    least, most = feed.accepted().density
    for each in rate:
        packed = float(coat.density(each, thickness))
        if not least <= packed <= most:
            raise OutOfRange(
                "A coat of {rate:.3g} kg/m² and {thickness} would weigh {packed}; it "
                "should weigh {least} to {most}.",
                rate=each,
                thickness=measured(1000 * thickness, "mm", ".0f"),
                packed=measured(packed, "kg/m³", ".0f"),
                least=measured(least, "kg/m³", ".0f"),
                most=measured(most, "kg/m³", ".0f"),
            )


def _ridging(ridge):
    pair = feed.ridging().straw
    return Band.of(coat.mass_per_length(pair, coat.HUNDREDWEIGHT)).times(ridge)


def _fixing(question):
    if question.work == RIDGE:
        if question.fixing == SWAYS:
            raise OutOfRange("A ridge is fixed with spars; fixing should be spars.")
        return None
    return question.fixing or (SWAYS if question.work == NEW_COAT else SPARS)


def _fixings(fixing, area, ridge):
    """Spars, gads, liggers, sways and hooks, by name."""
    takes, ridging = feed.fixing(), feed.ridging()
    spars = Band.of(ridging.spars).times(ridge / coat.FOOT)
    if fixing == SPARS:
        spars = spars.plus(Band.of(takes.spars).times(float(coat.squares(area))))
    # The fewest gads are of those that split into most.
    split = reversed(Band.of(takes.spars_a_gad))
    gads = (coat.whole(n, each) for n, each in zip(spars.whole(), split, strict=True))
    sway = float(coat.sways(area, takes.sway_spacing)) if fixing == SWAYS else 0.0
    return {
        "spars": spars.whole(),
        "gads": Band(*map(int, gads)),
        "liggers": int(coat.whole(ridge * ridging.ligger_rows, ridging.ligger)),
        "sways": sway,
        "hooks": int(coat.whole(coat.hooks(sway, takes.rafters), 1)),
    }
