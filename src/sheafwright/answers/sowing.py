"""How thick shall I sow, or how thick have I sown?"""

import dataclasses
import datetime
from functools import cached_property

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.core.errors import OutOfRange
from sheafwright.core.stand import seed_rate
from sheafwright.core.stand.target import by_date, share_established, target_plants
from sheafwright.feeds import sowing as table
from sheafwright.feeds.units import in_unit, show

LIMITS = {
    "thousand_grain_weight": ("A thousand grains of {:g} g", 15, 90, "{} to {} g"),
    "germination": ("A germination of {:.4g} %", 0.01, 1, "1 to 100 %"),
    "establishment": ("An establishment of {:.4g} %", 0.01, 1, "1 to 100 %"),
    "row_spacing": ("Rows {:g} cm apart", 5, 100, "{} to {} cm"),
    "rate": ("A rate of {:,g} kg/ha", 1, 1000, "{} to {:,} kg/ha"),
    "plants": ("{:,g} plants/m²", 1, 1000, "{} to {:,} plants/m²"),
    "area": ("An area of {:,g} ha", 0.0001, 10_000, "1 m² to {1:,} ha"),
}
"""What each is called, its least and most, and how that is said."""
SHARES = ("germination", "establishment")
CHOICES = {
    "purpose": table.PURPOSES,
    "tillering": table.TILLERING,
    "soil": table.SOILS,
    "after": table.PREVIOUS_CROPS,
}
FIRST, LAST = (8, 15), (4, 15)
"""Month and day between which wheat is sown."""
FORMULA = "AHDB: seed rate is plants times thousand-grain weight over the share"
CM_PER_M = 100
SLACK = 1e-9
"""So that what equals a limit is not beyond it."""


@dataclasses.dataclass(frozen=True)
class SowingQuestion:
    """One lot of seed, and a rate, a stand or a date to sow it for."""

    thousand_grain_weight: float
    """[g]"""
    germination: float
    """Share of the seed that is alive. [0–1]"""
    row_spacing: float
    """[cm]"""
    rate: float | None = None
    """[kg ha⁻¹]"""
    plants: float | None = None
    """[m⁻²]"""
    sown: datetime.date | None = None
    """Gives the stand to aim for, where neither rate nor plants are given."""
    establishment: float | None = None
    """Share of the live seed that makes a plant; by soil and date if not given."""
    soil: str | None = None
    after: str = "other"
    """The crop before."""
    purpose: str = "straw"
    tillering: str = "free"
    area: float | None = None
    """[ha]"""

    def __post_init__(self):
        self._check_numbers()
        self._check_choices()
        if self.rate is not None and self.plants is not None:
            raise OutOfRange("A rate and plants are both given; it should be one.")
        if self.rate is self.plants is self.sown is None:
            raise OutOfRange(
                "Nothing says how thick: it should be a rate, plants to the square "
                "metre, or the day of sowing."
            )
        if self.establishment is None and None in (self.soil, self.sown):
            raise OutOfRange(
                "No establishment is given; it should be, or else the soil and the day "
                "of sowing, from which it is estimated."
            )

    def _check_numbers(self):
        for name in LIMITS:
            value = getattr(self, name)
            if value is not None:
                check_limits(name, value)

    def _check_choices(self):
        for name, choices in CHOICES.items():
            chosen = getattr(self, name)
            if chosen not in choices and not (name == "soil" and chosen is None):
                raise OutOfRange(
                    f"{str(chosen)[:40]!r} is no {name} we know; it should be "
                    f"{wording.listed(choices, 'or')}."
                )
        day = self.sown and (self.sown.month, self.sown.day)
        if day and LAST < day < FIRST:
            raise OutOfRange(
                f"Wheat is not sown on {wording.near_date(self.sown)}; it should be "
                f"from 15 August to 15 April."
            )

    @property
    def days(self):
        """From 30 September to sowing. [d]"""
        return table.days_after_september(self.sown)


def check_limits(name, value):
    """Refuse a number that no sowing could have."""
    called, least, most, right = LIMITS[name]
    # Written so that NaN is refused too.
    if not least - SLACK <= value <= most + SLACK:
        said = called.format(100 * value if name in SHARES else value)
        raise OutOfRange(
            f"{said} can't be right; it should be from {right.format(least, most)}."
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
        return self.seeds > table.thick_seed().seeds_thick + SLACK

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
        sack = table.seed_handling().sack
        return None if self.seed is None else int(seed_rate.sacks_for(self.seed, sack))

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
        return " ".join(filter(None, (says(), self._warning(), self._for_area())))

    def _wanted(self):
        question = self.question
        if not self.aimed:
            aim = f"For {self.plants:.0f} plants/m²"
            return f"{aim} sow {self._rates()}: {self._seeds()}."
        day = wording.near_date(question.sown)
        aim = f"For {question.purpose}, sown on {day}, "
        if not self.held:
            aim += f"aim for {self.plants:.0f} plants/m²"
            return f"{aim}: sow {self._rates()}, {self._seeds()}."
        return (
            f"{aim}{self.target:.0f} plants/m² would take more seed than we advise, so "
            f"little comes up: sow no more than {self._rates()}, {self._seeds()}, "
            f"which should leave {self.plants:.0f}."
        )

    def _given_rate(self):
        return (
            f"{self._rates()} is {self._seeds()}, and should leave {self.plants:.0f} "
            f"plants/m²."
        )

    def _rates(self):
        cwt, stone = (in_unit(self.rate, "rate", unit) for unit in UNITS.values())
        kilograms = show(self.rate, "rate")
        return f"{kilograms} ({cwt:.2f} cwt/acre, {stone:.1f} st/acre)"

    def _seeds(self):
        return f"{self.seeds:.0f} seeds/m², {self.seeds_in_row:.0f} to a metre of row"

    def _warning(self):
        if self.thin:
            least = table.count_rules().least
            return f"That is too thin: a stand below {least:g} plants/m² is sown again."
        if not self.thick:
            return ""
        why = []
        if self._thick_stand:
            why.append(f"above {self.most:.0f} plants/m² a tall wheat is apt to lodge")
        if self._thick_seed:
            enough = table.thick_seed().seeds_enough
            why.append(f"{enough:g} seeds/m² were enough for one in a trial")
        return f"That is thick seed: {wording.listed(why)}.{self._instead()}"

    def _instead(self):
        if self.aimed:
            return (
                " So late, few tillers are made, and no trial tells the best stand: "
                "earlier sowing or a kinder seedbed would save seed."
            )
        if not self._thick_stand or self.target is None:
            return ""
        return f" For {self.question.purpose}, {self.target:.0f} plants/m² are enough."

    def _for_area(self):
        if self.seed is None:
            return ""
        sack = table.seed_handling().sack
        return (
            f"For {show(self.question.area, 'area')} have {show(self.seed, 'mass')} "
            f"ready, {self.sacks:,} sack{'s' * (self.sacks != 1)} of {sack} kg; to sow "
            f"as much next year keep back {show(self.keep_back, 'mass')} of the grain."
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        question, row = self.question, table.sowing_row
        yield Step(
            f"A thousand grains weigh {question.thousand_grain_weight:g} g; "
            f"{question.germination:.0%} of the seed is alive; rows stand "
            f"{question.row_spacing:g} cm apart.",
            "You",
            GIVEN,
        )
        yield self._establishment_step()
        if self.target is not None:
            yield self._target_step()
        yield Step(
            f"{self.plants:.1f} plants/m² come of {self.seeds:.1f} seeds/m² × "
            f"{question.germination:.3g} alive × {self.establishment:.3g} established; "
            f"{self.seeds:.1f} seeds/m² × {question.thousand_grain_weight:g} g ÷ 100 "
            f"is {self.rate:.1f} kg/ha.",
            FORMULA,
            "published",
        )
        if self.held:
            yield self._held_step()
        yield step_from_rows(
            f"Called thick above {self.most:.0f} plants/m² or "
            f"{row('thick', 'seeds_thick').value} seeds/m².",
            *self._thick_rows(),
        )
        if self.seed is not None:
            yield self._handling_step()

    def _establishment_step(self):
        question, row = self.question, table.sowing_row
        share = f"{self.establishment:.0%} of the live seed makes a plant"
        if question.establishment is not None:
            return Step(f"{share}.", "You", GIVEN)
        trial = row("establishment", "germination_within")
        return step_from_rows(
            f"{share}: on {question.soil} after {AFTER[question.after]}, sown on "
            f"{wording.near_date(question.sown)}; what each does to the odds is "
            f"multiplied, and {trial.value:.0%} was alive in the trials.",
            *_establishment_rows(question),
            trial,
        )

    def _target_step(self):
        question, row = self.question, table.sowing_row
        return step_from_rows(
            f"{self.target:.0f} plants/m² is the aim for {question.purpose} sown on "
            f"{wording.near_date(question.sown)}, in a wheat that tillers "
            f"{'freely' if question.tillering == 'free' else 'little'}.",
            row("purpose", question.purpose),
            row("tillering", question.tillering),
            *self._dated_rows("optimum"),
        )

    def _held_step(self):
        rows = (
            table.sowing_row("thick", "seeds_thick"),
            *self._dated_rows("seeds_thick"),
        )
        return step_from_rows(
            f"No more than {self.seeds:.0f} seeds/m² is advised on that day.", *rows
        )

    def _thick_rows(self):
        late = self._dated_rows("plants_most") if self.question.sown else ()
        thick = [table.sowing_row("thick", name) for name in THICK_ROWS]
        return (*thick, *late)

    def _dated_rows(self, name):
        """Rows that a value by date rests on, before February or until it."""
        row = table.sowing_row
        days, values = row("optimum", "days"), row("optimum", "values")
        rows = (days, values) if name == "optimum" else ()
        if self.question.days <= days.value[-1]:
            return rows
        return *rows, row("february", "days"), row("february", name)

    def _handling_step(self):
        rows = {name: table.sowing_row("handling", name) for name in HANDLING_ROWS}
        return step_from_rows(
            f"{rows['spare'].value:.0%} to spare on {self.question.area:g} ha; grain "
            f"kept back is {rows['reserve'].value:.0%} over next year's need, and "
            f"loses {rows['cleaning_loss'].value:.0%} in cleaning.",
            *rows.values(),
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        question = self.question
        rates = {
            f"rate_{name}": _short(in_unit(self.rate, "rate", unit))
            for name, unit in UNITS.items()
        }
        return {
            "sentence": self.sentence,
            "rate_kg_per_ha": _short(self.rate),
            **rates,
            "seeds_per_m2": _short(self.seeds),
            "plants_per_m2": _short(self.plants),
            "seeds_per_m_row": _short(self.seeds_in_row),
            "row_spacing_cm": _short(question.row_spacing),
            "thousand_grain_weight_g": question.thousand_grain_weight,
            "germination_share": _short(question.germination),
            "establishment_share": _short(self.establishment),
            "sown": question.sown and f"{question.sown:%m-%d}",
            "purpose": question.purpose,
            "target_plants_per_m2": _short(self.target),
            "most_plants_per_m2": _short(self.most),
            "thick": self.thick,
            "thin": self.thin,
            "area_ha": _short(question.area),
            "seed_needed_kg": _short(self.seed),
            "sacks": self.sacks,
            "grain_to_keep_back_kg": _short(self.keep_back),
            "working": [dataclasses.asdict(step) for step in self.working],
        }


AFTER = {"oats": "oats", "beans": "beans", "other": "any other crop"}
UNITS = {"cwt_per_acre": "cwt/acre", "st_per_acre": "st/acre"}
THICK_ROWS = ("seeds_thick", "seeds_enough", "plants_most")
HANDLING_ROWS = ("spare", "sack", "cleaning_loss", "reserve")


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
    return min(seeds, float(by_date(question.days, table.thick_by_date("seeds_thick"))))


def _check_rate(rate, plants):
    most = LIMITS["rate"][2]
    if rate > most + SLACK:
        raise OutOfRange(
            f"{plants:g} plants/m² of such seed would take {rate:,.0f} kg/ha, more "
            f"than a drill sows; it should be at most {most:,} kg/ha: fewer plants, or "
            f"seed that comes up better."
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
    usual, soil, after = (row.value for row in _establishment_rows(question)[:3])
    dated = by_date(question.days, table.established_by_date())
    of_all_seed = share_established(usual, [soil, after, dated])
    trial = table.sowing_row("establishment", "germination_within").value
    return float(of_all_seed / trial)


def _establishment_rows(question):
    row = table.sowing_row
    return (
        row("establishment", "usual"),
        row("soil", question.soil),
        row("after", question.after),
        row("established_by_date", "days"),
        row("established_by_date", "values"),
    )


def _short(number):
    return None if number is None else round(number, 4)
