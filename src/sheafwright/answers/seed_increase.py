"""How long until a little seed of a scarce variety is enough, and what each year takes?

What is sown thin gives most for each seed; a part is always kept back, so that one lost
plot does not lose the variety.
"""

import dataclasses

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, BAND_NAMES
from sheafwright.answers.limits import Limit, check_given
from sheafwright.answers.sowing import Sowing, sowing
from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.constants import SQUARE_METRES_PER_HECTARE
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import increase
from sheafwright.core.stand.increase import SeedYears
from sheafwright.core.stand.seed_rate import seed_needed
from sheafwright.feeds import sowing as table
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import (
    joined,
    listed,
    mark,
    measured,
    say,
    shown,
    told,
)

LIMITS = {
    "seed": Limit(mark("{measure} of seed"), 0.001, 10_000, "kg"),
    "area": Limit(mark("An area of {measure}"), 0.01, 1000, "ha"),
    "most_land": Limit(mark("Ground of {measure} a year"), 0.001, 1000, "ha"),
}
MOST_HARVESTS = 10
CHANGES = {"halve": 0.5, "double": 2.0}
CHANGED = {
    "halve": mark("Halving the assumed yields would make it {harvests}."),
    "double": mark("Doubling the assumed yields would make it {harvests}."),
}
ENOUGH = mark("{seed} is enough for {area} already: that takes {needed}.")
NOT_IN_SIGHT = mark(
    "{seed} grown on for {harvests} is not likely to be enough for {area} ({needed}): "
    "{chance}."
)
ENOUGH_AFTER = mark(
    "{seed} grown on thinly should be enough for {area} ({needed}) after {harvests}: "
    "{chance}."
)
YIELDS = mark(
    "Yields fall between {low} and {high} in 8 years of 10; a thin stand gives "
    "{thin:.0%} of that, cleaning takes {loss:.0%}, and 1 plot in {plots:.0f} is lost."
)
KEPT_BACK = mark(
    "{kept:.0%} of the seed is kept back each year, and {tenths} chances in 10 count "
    "as enough."
)


@dataclasses.dataclass(frozen=True)
class IncreaseQuestion:
    """A little seed, and the ground that it should one day sow."""

    seed: float
    """In hand. [kg]"""
    area: float
    """To be sown with it one day, for straw. [ha]"""
    lot: SowingQuestion
    """What is known of the seed, with the day on which it is sown."""
    land: float | None = None
    """Most ground for growing it on in a year; the area if not given. [ha]"""
    luck: int = 1
    """Seed of the luck by which possible years are drawn."""
    years: int = 2000
    """Possible runs of years drawn."""

    def __post_init__(self):
        check_given(self, LIMITS)
        if self.lot.sown is None:
            raise OutOfRange("No day of sowing is given; it should be, such as 10-15.")

    @property
    def most_land(self):
        """Most ground for it in a year. [ha]"""
        return self.area if self.land is None else self.land

    def rate_for(self, purpose):
        """`Sowing` of the lot for a purpose."""
        aimed = dataclasses.replace(
            self.lot, purpose=purpose, rate=None, plants=None, area=None
        )
        return sowing(aimed)


@dataclasses.dataclass(frozen=True)
class SeedIncrease:
    """The answer."""

    question: IncreaseQuestion
    thin: Sowing
    """How it is grown on."""
    full: Sowing
    """How it is sown when there is enough."""
    needed: float
    """Seed that is enough, with what is kept back. [kg]"""
    years: SeedYears
    chances: np.ndarray
    """That there is enough by each harvest: (harvest,). [0–1]"""
    harvests: int | None
    """After which there should be enough; 0 for now, None for not in sight."""
    harvests_if: dict[str, int | None]
    """The same under each of ``CHANGES`` of the assumed yields."""

    @property
    def told(self):
        """Years that are told of: until there should be enough."""
        return len(self.chances) if self.harvests is None else self.harvests

    @property
    def areas(self):
        """Ground that each year takes: few, likely and many (year, 3). [ha]"""
        return self._banded(self.years.sown) / self.thin.rate

    def _banded(self, amounts):
        return weighted_quantiles(amounts[:, : self.told].T, BAND)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(self._says(), self._steps_ahead(), self._doubt())

    def _says(self):
        amounts = {
            "seed": _seed(self.question.seed),
            "area": shown(self.question.area, "area"),
            "needed": say("{seed}, a part kept back", seed=_seed(self.needed)),
        }
        if self.harvests == 0:
            return say(ENOUGH, **amounts)
        return say(
            NOT_IN_SIGHT if self.harvests is None else ENOUGH_AFTER,
            **amounts,
            harvests=wording.harvests(self.told),
            chance=wording.odds(self.chances[self.told - 1]),
        )

    def _steps_ahead(self):
        if not self.told:
            return ""
        first, *later = (_ground(area) for area in self.areas[:3, 1])
        now = say(
            "Sow {seed} on {ground} and keep {kept} back",
            seed=_seed(self.years.sown[0, 0]),
            ground=first,
            kept=_seed(self.years.kept[0, 0]),
        )
        if not later:
            return say("{now}.", now=now)
        grounds = [say("about {ground}", ground=ground) for ground in later]
        return say("{now}; then sow {later}.", now=now, later=listed(grounds, "then"))

    def _doubt(self):
        if self.harvests == 0:
            return ""
        changed = {
            name: harvests
            for name, harvests in self.harvests_if.items()
            if harvests != self.harvests
        }
        if not changed:
            return say(
                "Yields of half or double what is assumed would not change that."
            )
        says = (
            say(CHANGED[name], harvests=_harvests(harvests))
            for name, harvests in changed.items()
        )
        return joined(*says)

    @property
    def cautions(self):
        """What the law says of seed that a grower saves."""
        return tuple(told(row.value) for row in table.law_rows())

    @property
    def rogueing(self):
        """How it is kept true."""
        return tuple(told(row.value) for row in table.rogueing_rows())

    def off_types(self):
        """Plants of another kind that each year's plot may hold, per 100 m²."""
        generations = [
            table.PURITIES[min(year, len(table.PURITIES) - 1)]
            for year in range(self.told)
        ]
        purity = [_purity(name).value for name in generations]
        allowed = increase.off_types_allowed(self.thin.plants, purity)
        return list(zip(generations, purity, allowed.tolist(), strict=True))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        yield self._in_hand()
        yield step_from_rows(
            say(
                "Grown on at {thin}, {plants:.0f} plants/m²; sown for straw at {full}.",
                thin=measured(self.thin.rate, "kg/ha", ".1f"),
                plants=self.thin.plants,
                full=measured(self.full.rate, "kg/ha", ".1f"),
            ),
            *(table.sowing_row("purpose", name) for name in ("seed", "straw")),
        )
        yield from self.thin.working[1:3]
        yield from _assumed()
        for name, purity, allowed in self.off_types():
            yield step_from_rows(_yardstick(purity, allowed), _purity(name))
        for row in (*table.rogueing_rows(), *table.law_rows()):
            yield step_from_rows(told(row.value), row)

    def _in_hand(self):
        says = say(
            "{seed} in hand; {area} to sow one day; at most {land} for it in a year.",
            seed=measured(self.question.seed, "kg"),
            area=measured(self.question.area, "ha"),
            land=measured(self.question.most_land, "ha"),
        )
        return Step(says, YOU, GIVEN)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        question = self.question
        return {
            "sentence": self.sentence,
            "cautions": list(self.cautions),
            "rogueing": list(self.rogueing),
            "seed_kg": question.seed,
            "area_ha": question.area,
            "most_land_ha": question.most_land,
            "needed_kg": round(self.needed, 3),
            "thin_rate_kg_per_ha": round(self.thin.rate, 3),
            "full_rate_kg_per_ha": round(self.full.rate, 3),
            "harvests": self.harvests,
            **{
                f"harvests_if_yields_{name}": harvests
                for name, harvests in self.harvests_if.items()
            },
            "by_year": self._by_year(),
            "working": steps_to_json(self.working),
        }

    def _by_year(self):
        banded = {("area", "ha"): self.areas}
        for name in SeedYears._fields:
            banded[name, "kg"] = self._banded(getattr(self.years, name))
        return [
            {
                "year": year + 1,
                **{
                    f"{name}_{at}_{unit}": round(float(values[year, n]), 4)
                    for (name, unit), values in banded.items()
                    for n, at in enumerate(BAND_NAMES)
                },
                "chance_enough_after": round(float(self.chances[year]), 3),
                "purity_share": purity,
                "off_types_per_100_m2": round(allowed, 2),
            }
            for year, (_, purity, allowed) in enumerate(self.off_types())
        ]


def _assumed():
    """Each `Step` of what is assumed of every year."""
    rows = shipped("sowing")["increase"]
    loss = table.sowing_row("handling", "cleaning_loss")
    says = say(
        YIELDS,
        low=measured(rows["yield_low"].value, "kg/ha", ","),
        high=measured(rows["yield_high"].value, "kg/ha", ","),
        thin=rows["thin_share"].value,
        loss=loss.value,
        plots=1 / rows["failure"].value,
    )
    of_yields = (rows[name] for name in ("yield_low", "yield_high", "thin_share"))
    yield step_from_rows(says, *of_yields, rows["failure"], loss)
    kept, enough = rows["kept_back"], rows["enough_tenths"]
    says = say(KEPT_BACK, kept=kept.value, tenths=enough.value)
    yield step_from_rows(says, kept, enough)


def _yardstick(purity, allowed):
    return say(
        "As a yardstick, {purity:.1%} true: at most {allowed:.1f} other plants in "
        "{plot}.",
        purity=purity,
        allowed=allowed,
        plot=measured(100, "m²"),
    )


def _purity(name):
    return table.sowing_row("purity", name)


def _harvests(number):
    return say("too long") if number is None else wording.harvests(number)


def _seed(mass):
    # A handful is weighed on the kitchen scales.
    return shown(mass, "mass") if mass >= 1 else say("{n:.0f} g", n=1000 * mass)


def _ground(area):
    # A plot is paced out in metres.
    paced = measured(SQUARE_METRES_PER_HECTARE * area, "m²", ",.0f")
    return shown(area, "area") if area >= 1 else paced


def seed_increase(question):
    """The `SeedIncrease` of an `IncreaseQuestion`."""
    thin, full = question.rate_for("seed"), question.rate_for("straw")
    crop = table.seed_crop()
    ready = seed_needed(full.rate, question.area, table.seed_handling().spare)
    needed = float(ready) / (1 - crop.kept_back)
    rng = np.random.default_rng(question.luck)
    yields = increase.draw_yields(crop, question.years, MOST_HARVESTS, rng)
    years, *changed = (
        _grown(question, needed, thin.rate, by, yields) for by in (1, *CHANGES.values())
    )
    return SeedIncrease(
        question=question,
        thin=thin,
        full=full,
        needed=needed,
        years=years,
        chances=increase.chance_enough(years, needed),
        harvests=_first_enough(years, needed),
        harvests_if={
            name: _first_enough(each, needed)
            for name, each in zip(CHANGES, changed, strict=True)
        },
    )


def _grown(question, needed, rate, by, yields):
    """`SeedYears` where yields are so many times what is assumed."""
    crop = table.seed_crop()
    clean = by * (1 - table.seed_handling().cleaning_loss) / rate
    poor = clean * crop.thin_share * crop.yield_low
    enough = float(increase.ground_enough(needed, poor))
    most_sown = min(rate * question.most_land, enough)
    return increase.grow_on(
        question.seed, clean * yields, crop.kept_back, most_sown, needed
    )


def _first_enough(years, needed):
    """Harvests until there should be enough; 0 for now, None for not in sight."""
    if years.in_hand[0, 0] >= needed:
        return 0
    tenths = np.round(10 * increase.chance_enough(years, needed))
    enough = tenths >= table.seed_crop().enough_tenths
    return int(enough.argmax()) + 1 if enough.any() else None
