"""What will this field give: straw, the reed or long straw made of it, and grain?"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import banded, short
from sheafwright.answers.limits import STUBBLE, Limit
from sheafwright.answers.working import (
    GIVEN,
    YOU,
    Step,
    step_from_rows,
    steps_to_json,
)
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
from sheafwright.feeds.telling import (
    SHOWN_AS,
    capital,
    joined,
    listed,
    mark,
    measured,
    say,
    say_n,
)

SUPPLIES = tuple(range(30, 171, 10))
"""For the picture: as far as was tried. [kg ha⁻¹]"""
LIMITS = {
    "nitrogen": Limit(mark("{measure} of nitrogen"), 10, 400, "kg/ha"),
    "plants": Limit(mark("{measure}"), 5, 1000, mark("plants/m²")),
    "height": Limit(mark("A height of {measure}"), 60, 220, "cm"),
    "stubble": STUBBLE,
}
PRODUCTS = {"reed": mark("reed"), "long straw": mark("long straw")}
HEIGHT_CLASSES = {
    "old_tall": mark("old tall"),
    "tall": mark("tall"),
    "middling": mark("middling"),
    "short": mark("short"),
}
SAYS = {
    "nitrogen": mark(
        "At Rothamsted old tall wheat gave up to {most} of straw and grain, and half "
        "of that with {half_at} of nitrogen given to ground that supplied "
        "{ground_supply}; the more there was of it, the more of the crop was straw."
    ),
    "years": mark(
        "Years there moved straw and grain together by {dry_matter_years:.0%} or so "
        "either way, and grain beside straw by {grain_per_straw_years:.0%}; plots of "
        "one year by {dry_matter_plots:.0%} and {grain_per_straw_plots:.0%}."
    ),
    "stand": mark(
        "{half_full[0]:g} to {half_full[3]:g} plants/m², by the date of sowing, would "
        "give half of a full crop."
    ),
    "level": mark(
        "A holding's crops weigh {times:g} times what that ground's did, give or take "
        "{sd:.0%}."
    ),
    "cutting": mark(
        "The usual stubble is {stubble}, and butts weigh {butt_weight:g} times as much "
        "as the rest."
    ),
}
"""What each section of the table says, of its rows."""
SPECS = {"t/ha": ".1f", "kg/ha": ".0f"}
"""How a row's value is written, by its unit."""
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
        """What is made of the straw, one of ``PRODUCTS``."""
        return "reed" if self.question.combed else "long straw"

    @property
    def too_rich(self):
        """Whether the supply may pass what tall straw stays sound with."""
        return self.question.nitrogen[1] > nitrogen_tables.sound_supply().highest

    @property
    def sentence(self):
        """The answer in a few sentences."""
        straw, made, grain = map(banded, (self.straw, self.made, self.grain))
        product = say(PRODUCTS[self.product])
        expects = say(
            "Expect about {straw} of straw, of which {made} {product}, and {grain} of "
            "grain.",
            straw=_tonnes(straw["p50"]),
            made=_tonnes(made["p50"]),
            product=product,
            grain=_tonnes(grain["p50"]),
        )
        within = say(
            "{odds} that the {product} lies between {made_low} and {made_high}, and as "
            "many that the grain lies between {grain_low} and {grain_high}.",
            odds=capital(wording.odds(0.8)),
            product=product,
            made_low=_tonnes(made["p10"]),
            made_high=_tonnes(made["p90"]),
            grain_low=_tonnes(grain["p10"]),
            grain_high=_tonnes(grain["p90"]),
        )
        return joined(expects, within, self._known_by(), self._warning())

    def _known_by(self):
        own = len(self.question.own)
        if not own:
            return say(
                "This rests on an old experiment and on an assumed level: weigh what "
                "your own fields give, and it goes by them."
            )
        return say_n(
            "Here {n} harvest of your own counts, and the book as about {worth:.0f} "
            "more.",
            "Here {n} harvests of your own count, and the book as about {worth:.0f} "
            "more.",
            own,
            worth=self.years_worth.mean(),
        )

    def _warning(self):
        return self.too_rich and say(
            "So much nitrogen makes soft straw, and lodging: what lies flat is not "
            "taken off here."
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        asked = self.question
        yield Step(_asked(asked), YOU, GIVEN)
        yield from response_steps()
        of_class = yields.part_rows(asked.height_class)
        yield step_from_rows(
            say(
                "A wheat of the class {height_class} puts {share:.0%} of its weight "
                "into grain, where an old tall one puts {old:.0%}, and stands {height} "
                "high.",
                height_class=say(HEIGHT_CLASSES[asked.height_class]),
                share=of_class["harvest_index"].value,
                old=_response_wheat().harvest_index,
                height=measured(of_class["height"].value, "cm"),
            ),
            *of_class.values(),
        )
        yield step_from_rows(
            self._drum_makes(), *outturns.usual_rows(asked.combed).values()
        )
        if asked.own:
            years = listed([str(each.year) for each in asked.own])
            yield Step(say("Your own weights of {years}.", years=years), YOU, GIVEN)

    def _drum_makes(self):
        made, rest = usual_shares(self.question.combed)
        return say(
            "Of the sheaves the drum makes {least:.0%} to {most:.0%} {product}, and "
            "leaves {rest_least:.0%} to {rest_most:.0%} beside the grain.",
            least=made[0],
            most=made[1],
            product=say(PRODUCTS[self.product]),
            rest_least=rest[0],
            rest_most=rest[1],
        )

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
            "straw_level_times": short(straw_level, 3),
            "grain_level_times": short(grain_level, 3),
            "own_harvests": len(self.question.own),
            "book_worth_own_harvests": short(self.years_worth.mean(), 3),
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
        values = {name: _told_of(row) for name, row in rows.items()}
        yield step_from_rows(say(says, **values), *rows.values())


def _told_of(row):
    """A row's value, with its unit where readers differ in it."""
    if row.unit not in SHOWN_AS:
        return row.value
    return measured(row.value, row.unit, SPECS.get(row.unit, "g"))


def _tonnes(value):
    return measured(value, "t/ha", ".1f")


def _asked(question):
    low, high = question.nitrogen
    return say(
        "{low} to {high} of nitrogen, {plants:g} plants/m², sown on {day}.",
        low=measured(low, "kg/ha"),
        high=measured(high, "kg/ha"),
        plants=question.plants,
        day=wording.date(question.sown),
    )


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
            "There is no height class {given!r}; it should be one of {known}.",
            given=question.height_class,
            known=joined(*yields.HEIGHT_CLASSES, by=", "),
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
            "{first} to {then} of nitrogen: the lower should come first.",
            first=measured(supply[0], "kg/ha"),
            then=measured(supply[1], "kg/ha"),
        )


def _check_own(harvest):
    if harvest.made is None and harvest.grain is None:
        raise OutOfRange(
            "Nothing is said to have been weighed in {year}; it should be the straw "
            "that was made, the grain, or both.",
            year=harvest.year,
        )
    for weighed in (harvest.made, harvest.grain):
        if weighed is not None and not 0 < weighed <= MOST_WEIGHED:
            raise OutOfRange(
                "{weighed} weighed in {year}: it should be above 0 and at most {most}.",
                weighed=measured(weighed, "t/ha"),
                year=harvest.year,
                most=measured(MOST_WEIGHED, "t/ha"),
            )
