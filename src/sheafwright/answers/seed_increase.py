"""How long until a little seed of a scarce variety is enough, and what each year takes?

What is sown thin gives most for each seed; a part is always kept back, so that one lost
plot does not lose the variety.
"""

import dataclasses

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, BAND_NAMES
from sheafwright.answers.limits import Limit
from sheafwright.answers.sowing import Sowing, sowing
from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import increase
from sheafwright.core.stand.increase import SeedYears
from sheafwright.core.stand.seed_rate import seed_needed
from sheafwright.feeds import sowing as table
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark
from sheafwright.feeds.units import show

LIMITS = {
    "seed": Limit(mark("{measure} of seed"), 0.001, 10_000, "kg"),
    "area": Limit(mark("An area of {measure}"), 0.01, 1000, "ha"),
    "most_land": Limit(mark("Ground of {measure} a year"), 0.001, 1000, "ha"),
}
MOST_HARVESTS = 10
CHANGES = {"halve": 0.5, "double": 2.0}


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
        for name, limit in LIMITS.items():
            limit.check(getattr(self, name))
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
        return " ".join(
            filter(None, (self._says(), self._steps_ahead(), self._doubt()))
        )

    def _says(self):
        seed, area = _seed(self.question.seed), show(self.question.area, "area")
        needed = f"{_seed(self.needed)}, a part kept back"
        if self.harvests == 0:
            return f"{seed} is enough for {area} already: that takes {needed}."
        if self.harvests is None:
            chance = wording.odds(self.chances[-1])
            return (
                f"{seed} grown on for {len(self.chances)} harvests is not likely to "
                f"be enough for {area} ({needed}): {chance}."
            )
        chance = wording.odds(self.chances[self.harvests - 1])
        return (
            f"{seed} grown on thinly should be enough for {area} ({needed}) after "
            f"{wording.harvests(self.harvests)}: {chance}."
        )

    def _steps_ahead(self):
        if not self.told:
            return ""
        sown, kept = self.years.sown[0, 0], self.years.kept[0, 0]
        first, *later = (_ground(area) for area in self.areas[:3, 1])
        then = [f"about {ground}" for ground in later]
        then = f"; then sow {wording.listed(then, 'then')}" if then else ""
        return f"Sow {_seed(sown)} on {first} and keep {_seed(kept)} back{then}."

    def _doubt(self):
        if self.harvests == 0:
            return ""
        changed = {
            name: harvests
            for name, harvests in self.harvests_if.items()
            if harvests != self.harvests
        }
        if not changed:
            return "Yields of half or double what is assumed would not change that."
        says = [
            f"{name[0].upper()}{name[1:].rstrip('e')}ing the assumed yields would make "
            f"it {'too long' if harvests is None else wording.harvests(harvests)}."
            for name, harvests in changed.items()
        ]
        return " ".join(says)

    @property
    def cautions(self):
        """What the law says of seed that a grower saves."""
        return tuple(row.value for row in table.law_rows())

    @property
    def rogueing(self):
        """How it is kept true."""
        return tuple(row.value for row in table.rogueing_rows())

    def off_types(self):
        """Plants of another kind that each year's plot may hold, per 100 m²."""
        generations = [
            table.PURITIES[min(year, len(table.PURITIES) - 1)]
            for year in range(self.told)
        ]
        purity = [table.sowing_row("purity", name).value for name in generations]
        allowed = increase.off_types_allowed(self.thin.plants, purity)
        return list(zip(generations, purity, allowed.tolist(), strict=True))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question, rows = self.question, shipped("sowing")["increase"]
        loss = table.sowing_row("handling", "cleaning_loss")
        yield Step(
            f"{question.seed:g} kg in hand; {question.area:g} ha to sow one day; at "
            f"most {question.most_land:g} ha for it in a year.",
            "You",
            GIVEN,
        )
        yield step_from_rows(
            f"Grown on at {self.thin.rate:.1f} kg/ha, {self.thin.plants:.0f} "
            f"plants/m²; sown for straw at {self.full.rate:.1f} kg/ha.",
            *(table.sowing_row("purpose", name) for name in ("seed", "straw")),
        )
        yield from self.thin.working[1:3]
        yield step_from_rows(
            f"Yields fall between {rows['yield_low'].value:,} and "
            f"{rows['yield_high'].value:,} kg/ha in 8 years of 10; a thin stand gives "
            f"{rows['thin_share'].value:.0%} of that, cleaning takes "
            f"{loss.value:.0%}, and 1 plot in {1 / rows['failure'].value:.0f} is lost.",
            *(rows[name] for name in ("yield_low", "yield_high", "thin_share")),
            *(rows["failure"], loss),
        )
        yield step_from_rows(
            f"{rows['kept_back'].value:.0%} of the seed is kept back each year, and "
            f"{rows['enough_tenths'].value} chances in 10 count as enough.",
            *(rows["kept_back"], rows["enough_tenths"]),
        )
        for name, purity, allowed in self.off_types():
            yield step_from_rows(
                f"As a yardstick, {purity:.1%} true: at most {allowed:.1f} other "
                f"plants in 100 m².",
                table.sowing_row("purity", name),
            )
        for row in (*table.rogueing_rows(), *table.law_rows()):
            yield step_from_rows(row.value, row)

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


def _seed(mass):
    # A handful is weighed on the kitchen scales.
    return show(mass, "mass") if mass >= 1 else f"{1000 * mass:.0f} g"


def _ground(area):
    square_metres = 10_000 * area
    # A plot is paced out in metres.
    return show(area, "area") if area >= 1 else f"{square_metres:,.0f} m²"


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
