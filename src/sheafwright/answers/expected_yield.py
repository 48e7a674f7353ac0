"""What will this field give: straw, the reed or long straw made of it, and grain?"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import banded
from sheafwright.answers.limits import STUBBLE, Limit
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.crop import yields as crop
from sheafwright.core.crop.yield_level import (
    Level,
    draw_level,
    harvest_covariance,
    learn_level,
    prior_level,
    years_worth,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import nitrogen as nitrogen_tables
from sheafwright.feeds import outturns, yields
from sheafwright.feeds.sowing import SEPTEMBER_ENDS, days_after
from sheafwright.feeds.telling import mark

SUPPLIES = tuple(range(30, 171, 10))
"""For the picture: as far as was tried. [kg ha⁻¹]"""
LIMITS = {
    "nitrogen": Limit(mark("{measure} of nitrogen"), 10, 400, "kg/ha"),
    "plants": Limit(mark("{measure}"), 5, 1000, "plants/m²"),
    "height": Limit(mark("A height of {measure}"), 60, 220, "cm"),
    "stubble": STUBBLE,
}
SAYS = {
    "nitrogen": "At Rothamsted old tall wheat gave up to {most:.1f} t/ha of straw and "
    "grain, and half of that with {half_at:.0f} kg/ha of nitrogen given to ground that "
    "supplied {ground_supply:g}; the more there was of it, the more of the crop was "
    "straw.",
    "years": "Years there moved straw and grain together by {dry_matter_years:.0%} or "
    "so either way, and grain beside straw by {grain_per_straw_years:.0%}; plots of "
    "one year by {dry_matter_plots:.0%} and {grain_per_straw_plots:.0%}.",
    "stand": "{half_full[0]:g} to {half_full[3]:g} plants/m², by the date of sowing, "
    "would give half of a full crop.",
    "level": "A holding's crops weigh {times:g} times what that ground's did, give or "
    "take {sd:.0%}.",
    "cutting": "The usual stubble is {stubble:g} cm, and butts weigh {butt_weight:g} "
    "times as much as the rest.",
}
"""What each section of the table says, of its rows."""
MOST_WEIGHED = 20
"""Nobody weighs more straw or grain off a hectare. [t ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class OwnHarvest:
    """What the grower weighed from a hectare of such a crop."""

    year: int
    made: float | None = None
    """Reed or long straw, whichever is asked of. [t ha⁻¹]"""
    grain: float | None = None
    """[t ha⁻¹]"""
    nitrogen: tuple[float, float] | None = None
    """Supply of that crop; as asked of if not given. [kg ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class YieldQuestion:
    """One crop of one field."""

    nitrogen: tuple[float, float]
    """Lowest and highest supply, manure included. [kg ha⁻¹]"""
    plants: float
    """In spring. [m⁻²]"""
    sown: datetime.date
    height_class: str = "tall"
    """One of ``feeds.yields.HEIGHT_CLASSES``."""
    height: float | None = None
    """Of the crop; as is usual for its class if not given. [cm]"""
    stubble: float | None = None
    """As is usual if not given. [cm]"""
    combed: bool = True
    """Whether reed is made of the straw, or long straw."""
    own: tuple[OwnHarvest, ...] = ()
    seed: int = 1
    seasons: int = 4000
    """Possible seasons drawn."""


@dataclasses.dataclass(frozen=True)
class ExpectedYield:
    """The answer."""

    question: YieldQuestion
    straw: np.ndarray
    """All that stands: (draw,). [t ha⁻¹]"""
    made: np.ndarray
    """Reed or long straw: (draw,). [t ha⁻¹]"""
    grain: np.ndarray
    """(draw,). [t ha⁻¹]"""
    straw_by_supply: np.ndarray
    """At each of ``SUPPLIES``, plants as they are: (supply, draw). [t ha⁻¹]"""
    level: Level
    """What is known of the holding."""
    years_worth: np.ndarray
    """Own harvests that would tell as much as the book: of straw, of grain. [a]"""

    @property
    def product(self):
        """What is made of the straw."""
        return "reed" if self.question.combed else "long straw"

    @property
    def too_rich(self):
        """Whether the supply may pass what tall straw stays sound with."""
        return self.question.nitrogen[1] > nitrogen_tables.sound_supply().highest

    @property
    def sentence(self):
        """The answer in a few sentences."""
        straw, made, grain = map(banded, (self.straw, self.made, self.grain))
        says = (
            f"Expect about {straw['p50']:.1f} t/ha of straw, of which "
            f"{made['p50']:.1f} t/ha {self.product}, and {grain['p50']:.1f} t/ha of "
            f"grain. {wording.odds(0.8)} that the {self.product} lies between "
            f"{made['p10']:.1f} and {made['p90']:.1f}, and as many that the grain lies "
            f"between {grain['p10']:.1f} and {grain['p90']:.1f}."
        )
        return " ".join((says, self._known_by(), *self._warning()))

    def _known_by(self):
        own = len(self.question.own)
        if not own:
            return (
                "This rests on an old experiment and on an assumed level: weigh what "
                "your own fields give, and it goes by them."
            )
        weighed = "1 harvest of your own counts"
        if own > 1:
            weighed = f"{own} harvests of your own count"
        worth = f"{self.years_worth.mean():.0f}"
        return f"Here {weighed}, and the book as about {worth} more."

    def _warning(self):
        if self.too_rich:
            yield (
                "So much nitrogen makes soft straw, and lodging: what lies flat is "
                "not taken off here."
            )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        asked = self.question
        low, high = asked.nitrogen
        yield Step(
            f"{low:g} to {high:g} kg/ha of nitrogen, {asked.plants:g} plants/m², sown "
            f"on {wording.date(asked.sown)}.",
            "You",
            GIVEN,
        )
        yield from response_steps()
        of_class = yields.part_rows(asked.height_class)
        yield step_from_rows(
            f"A wheat of the class {asked.height_class.replace('_', ' ')} puts "
            f"{of_class['harvest_index'].value:.0%} of its weight into grain, where "
            f"an old tall one puts {_response_wheat().harvest_index:.0%}, and stands "
            f"{of_class['height'].value:g} cm high.",
            *of_class.values(),
        )
        made, rest = usual_shares(asked.combed)
        yield step_from_rows(
            f"Of the sheaves the drum makes {made[0]:.0%} to {made[1]:.0%} "
            f"{self.product}, and leaves {rest[0]:.0%} to {rest[1]:.0%} beside the "
            f"grain.",
            *outturns.usual_rows(asked.combed).values(),
        )
        if asked.own:
            years = wording.listed([str(each.year) for each in asked.own])
            yield Step(f"Your own weights of {years}.", "You", GIVEN)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        straw_level, grain_level = np.exp(self.level.mean)
        sound = nitrogen_tables.sound_supply()
        return {
            "sentence": self.sentence,
            "nitrogen_low_kg_per_ha": self.question.nitrogen[0],
            "nitrogen_high_kg_per_ha": self.question.nitrogen[1],
            "plants_per_m2": self.question.plants,
            "sown": self.question.sown.isoformat(),
            "height_class": self.question.height_class,
            "product": self.product,
            "straw_t_per_ha": banded(self.straw),
            "product_t_per_ha": banded(self.made),
            "grain_t_per_ha": banded(self.grain),
            "straw_level_times": _short(straw_level),
            "grain_level_times": _short(grain_level),
            "own_harvests": len(self.question.own),
            "book_worth_own_harvests": _short(self.years_worth.mean()),
            "sound_from_kg_per_ha": sound.lowest,
            "sound_up_to_kg_per_ha": sound.highest,
            "too_rich": self.too_rich,
            "straw_by_nitrogen": [
                {"nitrogen_kg_per_ha": supply, "straw_t_per_ha": banded(straw)}
                for supply, straw in zip(SUPPLIES, self.straw_by_supply, strict=True)
            ],
            "seed": self.question.seed,
            "possible_seasons": self.question.seasons,
            "working": steps_to_json(self.working),
        }


def expected_yield(question):
    """The `ExpectedYield` of a `YieldQuestion`."""
    _check(question)
    rng = np.random.default_rng(question.seed)
    prior = prior_level(yields.part("level"))
    harvest = harvest_covariance(yields.part("years"), _class(question).harvest_index)
    level = learn_level(prior, _own(question), harvest)
    draws = question.seasons
    luck = crop.draw_luck(yields.part("years"), yields.part("stand"), draws, rng)
    times = draw_level(level, draws, rng)
    supply = rng.uniform(*question.nitrogen, draws)
    stands = crop.Crop(*(times * np.array(_grown(question, supply, luck))))
    by_supply = _grown(question, np.array(SUPPLIES)[:, np.newaxis], luck).straw
    return ExpectedYield(
        question=question,
        straw=stands.straw,
        made=_bound(question, stands.straw)
        * crop.draw_recovery(*usual_shares(question.combed), draws, rng),
        grain=stands.grain,
        straw_by_supply=times[0] * by_supply,
        level=level,
        years_worth=years_worth(prior, harvest),
    )


def grown_like(wheat, supply, plants, days_after_september, luck=crop.NO_LUCK):
    """The `Crop` of a wheat on ground like that of the response.

    Parameters
    ----------
    wheat : HeightClass
    supply, plants : as in `sheafwright.core.crop.yields.grown`
    days_after_september : array_like
        (..., draw or 1). [d]
    luck : Luck, (draw,)
    """
    seen = _response_wheat()
    return crop.grown(
        supply,
        plants,
        crop.half_full_plants(days_after_september, yields.part("stand")),
        crop.odds(wheat.harvest_index) / crop.odds(seen.harvest_index),
        yields.part("nitrogen"),
        luck,
    )


def bound(straw, height, stubble=None):
    """Straw that goes into the sheaves. [t ha⁻¹]

    Parameters
    ----------
    straw, height : as in `sheafwright.core.crop.yields.bound_straw`
    stubble : float, optional
        As is usual if not given. [cm]
    """
    cutting = yields.part("cutting")
    stubble = cutting.stubble if stubble is None else stubble
    return crop.bound_straw(straw, height, stubble, cutting.butt_weight)


def usual_shares(combed):
    """Usual shares of the sheaves of what is made of the straw, and of the rest."""
    shares = outturns.usual_shares(combed)
    return shares["reed" if combed else "long_straw"], shares["rest"]


def response_steps():
    """How weight follows nitrogen, plants and the ground, by the book."""
    for part, says in SAYS.items():
        rows = yields.part_rows(part)
        values = {name: row.value for name, row in rows.items()}
        yield step_from_rows(says.format(**values), *rows.values())


def _grown(question, supply, luck=crop.NO_LUCK):
    days = days_after(SEPTEMBER_ENDS, question.sown)
    return grown_like(_class(question), supply, question.plants, days, luck)


def _bound(question, straw):
    height = question.height or _class(question).height
    return bound(straw, height, question.stubble)


def _own(question):
    """Logarithms of what was weighed over what was expected: (year, 2)."""
    made, rest = map(np.mean, usual_shares(question.combed))
    seen = []
    for harvest in question.own:
        stands = _grown(question, np.mean(harvest.nitrogen or question.nitrogen))
        expected = _bound(question, stands.straw) * made / (made + rest), stands.grain
        weighed = [np.nan if w is None else w for w in (harvest.made, harvest.grain)]
        seen.append(np.log(np.divide(weighed, expected)))
    return seen


def _class(question):
    return yields.height_class(question.height_class)


def _response_wheat():
    return yields.height_class(yields.RESPONSE_WHEAT)


def _check(question):
    if question.height_class not in yields.HEIGHT_CLASSES:
        raise OutOfRange(
            f"There is no height class {question.height_class!r}; it should be one of "
            f"{', '.join(yields.HEIGHT_CLASSES)}."
        )
    for supply in (question.nitrogen, *(own.nitrogen for own in question.own)):
        if supply:
            _check_supply(supply)
    for what in ("plants", "height", "stubble"):
        said = getattr(question, what)
        if said is not None:
            LIMITS[what].check(said)
    for harvest in question.own:
        _check_own(harvest)


def _check_supply(supply):
    for end in supply:
        LIMITS["nitrogen"].check(end)
    if supply[0] > supply[1]:
        raise OutOfRange(
            f"{supply[0]:g} to {supply[1]:g} kg/ha of nitrogen: the lower should come "
            f"first."
        )


def _check_own(harvest):
    if harvest.made is None and harvest.grain is None:
        raise OutOfRange(
            f"Nothing is said to have been weighed in {harvest.year}; it should be the "
            f"straw that was made, the grain, or both."
        )
    for weighed in (harvest.made, harvest.grain):
        if weighed is not None and not 0 < weighed <= MOST_WEIGHED:
            raise OutOfRange(
                f"{weighed:g} t/ha weighed in {harvest.year}: it should be above 0 and "
                f"at most {MOST_WEIGHED}."
            )


def _short(value):
    return round(float(value), 3)
