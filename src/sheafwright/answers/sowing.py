"""How thick shall I sow, or how thick have I sown?"""

import dataclasses
from functools import cached_property

from sheafwright.answers import wording
from sheafwright.answers.bands import short
from sheafwright.answers.limits import SLACK
from sheafwright.answers.seed_rate_working import establishment_rows, seed_rate_steps
from sheafwright.answers.sowing_question import (
    LIMITS,
    PURPOSE_NAMES,
    SowingQuestion,
)
from sheafwright.answers.working import steps_to_json
from sheafwright.core.constants import CM_PER_M
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import seed_rate
from sheafwright.core.stand.target import by_date, share_established, target_plants
from sheafwright.feeds import sowing as table
from sheafwright.feeds.telling import (
    by_family,
    joined,
    listed,
    mark,
    measured,
    say,
    say_n,
    shown,
)
from sheafwright.feeds.units import in_unit

UNITS = {"cwt_per_acre": "cwt/acre", "st_per_acre": "st/acre"}
WANTED = mark("For {plants:.0f} plants/m² sow {rates}: {seeds}.")
AIMED = mark(
    "For {purpose}, sown on {day}, aim for {plants:.0f} plants/m²: sow {rates}, "
    "{seeds}."
)
HELD = mark(
    "For {purpose}, sown on {day}, {target:.0f} plants/m² would take more seed than we "
    "advise, so little comes up: sow no more than {rates}, {seeds}, which should leave "
    "{plants:.0f}."
)
SO_LATE = mark(
    "So late, few tillers are made, and no trial tells the best stand: earlier sowing "
    "or a kinder seedbed would save seed."
)


@dataclasses.dataclass(frozen=True)
class Sowing:
    """The answer."""

    question: SowingQuestion
    establishment: float
    """Share of the live seed that makes a plant. [0–1]"""
    target: float | None
    """Plants to aim for; None without a date. [m⁻²]"""
    most: float
    """Plants beyond which it is apt to lodge. [m⁻²]"""
    held: bool
    """Whether the target would take more seed than is ever advised."""
    seeds: float
    """[m⁻²]"""
    plants: float
    """[m⁻²]"""
    rate: float
    """[kg ha⁻¹]"""

    @property
    def seeds_in_row(self):
        """Seeds along a row. [m⁻¹]"""
        spacing = self.question.row_spacing / CM_PER_M
        return float(seed_rate.seeds_in_row(self.seeds, spacing))

    @property
    def aimed(self):
        """Whether the stand is our own target."""
        return self.question.rate is self.question.plants is None

    @property
    def thick(self):
        """Whether it is more than would be recommended for a tall wheat."""
        return self._thick_stand or self._thick_seed

    @property
    def _thick_stand(self):
        return self.plants > self.most + SLACK

    @property
    def _thick_seed(self):
        # Dead seed crowds nothing.
        live = self.seeds * self.question.germination
        return live > table.thick_seed().seeds_thick + SLACK

    @property
    def thin(self):
        """Whether such a stand would be sown again."""
        return self.plants < table.count_rules().least - SLACK

    @cached_property
    def seed(self):
        """Seed to have ready for the area; None without one. [kg]"""
        if self.question.area is None:
            return None
        spare = table.seed_handling().spare
        return float(seed_rate.seed_needed(self.rate, self.question.area, spare))

    @property
    def sacks(self):
        """Whole sacks of it; None without an area."""
        if self.seed is None:
            return None
        return int(seed_rate.sacks_for(self.seed, self.sack))

    @property
    def sack(self):
        """Mass of seed in one. [kg]"""
        return self.question.sack or table.seed_handling().sack

    @property
    def keep_back(self):
        """Grain that leaves as much seed for next year; None without an area. [kg]"""
        if self.seed is None:
            return None
        rules = table.seed_handling()
        return float(
            seed_rate.grain_to_keep_back(self.seed, rules.cleaning_loss, rules.reserve)
        )

    @property
    def sentence(self):
        """The answer in a few sentences."""
        says = self._given_rate if self.question.rate is not None else self._wanted
        parts = says(), self._warning(), self._instead()
        return joined(*parts, self._for_area(), self._doubt())

    def _wanted(self):
        question = self.question
        numbers = {
            "plants": self.plants,
            "rates": self._rates(),
            "seeds": self._seeds(),
        }
        if not self.aimed:
            return say(WANTED, **numbers)
        numbers |= {
            "purpose": say(PURPOSE_NAMES[question.purpose]),
            "day": wording.near_date(question.sown),
        }
        if self.held:
            return say(HELD, **numbers, target=self.target)
        return say(AIMED, **numbers)

    def _given_rate(self):
        return say(
            "{rates} is {seeds}, and should leave {plants:.0f} plants/m².",
            rates=self._rates(),
            seeds=self._seeds(),
            plants=self.plants,
        )

    def _rates(self):
        cwt, stone = (in_unit(self.rate, "rate", unit) for unit in UNITS.values())
        rate = shown(self.rate, "rate")
        return by_family(
            say(
                "{rate} ({cwt:.2f} cwt/acre, {stone:.1f} st/acre)",
                rate=rate,
                cwt=cwt,
                stone=stone,
            ),
            say("{rate} ({stone:.1f} st/acre)", rate=rate, stone=stone),
        )

    def _seeds(self):
        return say(
            "{seeds:.0f} seeds/m², {in_row:.0f} to a metre of row",
            seeds=self.seeds,
            in_row=self.seeds_in_row,
        )

    def _warning(self):
        if self.thin:
            return say(
                "That is too thin: a stand below {least:g} plants/m² is sown again.",
                least=table.count_rules().least,
            )
        if not self.thick:
            return ""
        return say("That is thick seed: {why}.", why=listed(list(self._why_thick())))

    def _why_thick(self):
        if self._thick_stand:
            yield say(
                "above {most:.0f} plants/m² the crop is apt to lodge", most=self.most
            )
        if self._thick_seed:
            yield say(
                "{enough:g} seeds/m² were enough for a tall wheat in a trial",
                enough=table.thick_seed().seeds_enough,
            )

    def _instead(self):
        if self.thin or not self.thick:
            return ""
        if self.aimed:
            return say(SO_LATE)
        if not self._thick_stand or self.target is None:
            return ""
        return say(
            "For {purpose}, {target:.0f} plants/m² are enough.",
            purpose=say(PURPOSE_NAMES[self.question.purpose]),
            target=self.target,
        )

    def _for_area(self):
        if self.seed is None:
            return ""
        return say(
            "For {area} have {seed} ready, {sacks}; to sow as much next year keep back "
            "{grain} of the grain.",
            area=shown(self.question.area, "area"),
            seed=shown(self.seed, "mass"),
            sacks=say_n(
                "{n:,} sack of {mass}",
                "{n:,} sacks of {mass}",
                self.sacks,
                mass=measured(self.sack, "kg"),
            ),
            grain=shown(self.keep_back, "mass"),
        )

    def _doubt(self):
        if self.question.establishment is not None:
            return ""
        return say(
            "This takes {share:.0f} of 100 live seeds to make a plant: count yours at "
            "three leaves.",
            share=100 * self.establishment,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return seed_rate_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        question = self.question
        rates = {
            f"rate_{name}": short(in_unit(self.rate, "rate", unit))
            for name, unit in UNITS.items()
        }
        return {
            "sentence": self.sentence,
            "rate_kg_per_ha": short(self.rate),
            **rates,
            "seeds_per_m2": short(self.seeds),
            "plants_per_m2": short(self.plants),
            "seeds_per_m_row": short(self.seeds_in_row),
            "row_spacing_cm": short(question.row_spacing),
            "thousand_grain_weight_g": question.thousand_grain_weight,
            "germination_share": short(question.germination),
            "establishment_share": short(self.establishment),
            "sown": question.sown and f"{question.sown:%m-%d}",
            "purpose": question.purpose,
            "target_plants_per_m2": short(self.target),
            "most_plants_per_m2": short(self.most),
            "thick": self.thick,
            "thin": self.thin,
            "area_ha": short(question.area),
            "seed_needed_kg": short(self.seed),
            "sack_kg": self.sack,
            "sacks": self.sacks,
            "grain_to_keep_back_kg": short(self.keep_back),
            "working": steps_to_json(self.working),
        }


def sowing(question):
    """The `Sowing` of a `SowingQuestion`."""
    establishment, target = _establishment(question), _target(question)
    live = question.germination, establishment
    plants = target if question.plants is None else question.plants
    if question.rate is not None:
        seeds = seed_rate.seeds_of(question.rate, question.thousand_grain_weight)
    else:
        seeds = seed_rate.seeds_for(plants, *live)
    advised = _advised(question, float(seeds))
    rate = float(seed_rate.rate_of(advised, question.thousand_grain_weight))
    if question.rate is None:
        _check_rate(rate, plants)
    return Sowing(
        question=question,
        establishment=establishment,
        target=target,
        most=_most(question),
        held=bool(advised < seeds - SLACK),
        seeds=advised,
        plants=float(seed_rate.plants_from(advised, *live)),
        rate=rate,
    )


def _advised(question, seeds):
    """Seeds asked for, or of our own target no more than is ever advised. [m⁻²]"""
    if question.rate is not None or question.plants is not None:
        return seeds
    live = by_date(question.days, table.thick_by_date("seeds_thick"))
    return min(seeds, float(live / question.germination))


def _check_rate(rate, plants):
    most = LIMITS["rate"].most
    if rate > most + SLACK:
        raise OutOfRange(
            "{plants:g} plants/m² of such seed would take {rate}, more than a drill "
            "sows; it should be at most {most}: fewer plants, or seed that comes up "
            "better.",
            plants=plants,
            rate=measured(rate, "kg/ha", ",.0f"),
            most=measured(most, "kg/ha", ","),
        )


def _target(question):
    if question.sown is None:
        return None
    optimum = by_date(question.days, table.optimum_by_date())
    factor = (
        table.sowing_row("purpose", question.purpose).value
        * table.sowing_row("tillering", question.tillering).value
    )
    return float(target_plants(optimum, factor, _most(question)))


def _most(question):
    if question.sown is None:
        return table.thick_seed().plants_most
    return float(by_date(question.days, table.thick_by_date("plants_most")))


def _establishment(question):
    """Share of live seed that makes a plant: as given, or by what changes it."""
    if question.establishment is not None:
        return question.establishment
    usual, soil, after = (row.value for row in establishment_rows(question)[:3])
    dated = by_date(question.days, table.established_by_date())
    of_all_seed = share_established(usual, [soil, after, dated])
    trial = table.sowing_row("establishment", "germination_within").value
    return float(of_all_seed / trial)
