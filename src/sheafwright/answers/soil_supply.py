"""How much nitrogen will this ground give, and is that too much for thatching straw?

Every cell of a table that is used is named in the working, with its standing.
"""

import dataclasses

from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.soil.nitrogen import (
    Supply,
    beside_sound,
    higher_index,
    ley_index,
    manure_nitrogen,
    rain_range,
    supply_of,
)
from sheafwright.feeds import nitrogen
from sheafwright.feeds.tables import shipped

SWARDS = {"clover": True, "grass": False, "fed_grass": True, "lucerne": True}
"""Whether a ley is rich in nitrogen: clover makes it so, or over 250 kg/ha a year."""
SHORT, LONG = 2, 5
"""Years of the longest short ley, and of the longest that isn't pasture. [a]"""
WETTEST, MOST_MANURE = 4000, 100
"""Nobody farms where more falls [mm], or spreads more [t/ha]."""
POOR, SOUND, RICH = "poor", "sound", "rich"
BESIDE = {-1: POOR, 0: SOUND, 1: RICH}
CHECK = "Check this against the current official tables."


@dataclasses.dataclass(frozen=True)
class Ley:
    """Grass or clover that was ploughed for this crop or one of the last."""

    years: int
    """That it lay. [a]"""
    sward: str = "clover"
    """One of ``SWARDS``."""
    use: str = "cut_and_grazed"
    """One of ``feeds.nitrogen.USES``; ``cut`` is twice a year or more."""
    crops_since: int = 1
    """1 where the crop asked of is the first after ploughing."""


@dataclasses.dataclass(frozen=True)
class SoilSupplyQuestion:
    """One field before one crop."""

    soil: str
    """One of ``feeds.nitrogen.SOILS``."""
    rain: float
    """Of a usual year. [mm]"""
    last_crop: str | None = None
    """One of ``feeds.nitrogen.last_crops``; None where the ley was the last."""
    ley: Ley | None = None
    manure: float = 0.0
    """Fresh cattle manure spread since the last harvest. [t ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class SoilSupply:
    """The answer."""

    question: SoilSupplyQuestion
    index: int
    of_ground: Supply
    """Without manure. [kg ha⁻¹]"""
    of_manure: float
    """[kg ha⁻¹]"""
    cells: tuple[Step, ...]
    """The cells of the tables that were used."""

    @property
    def supply(self):
        """With manure, `Supply`. [kg ha⁻¹]"""
        return Supply(*(end + self.of_manure for end in self.of_ground))

    @property
    def beside_sound(self):
        """Poor, sound or rich, beside what tall straw should have."""
        return _beside_sound(self.supply)

    @property
    def sentence(self):
        """The answer in a sentence or two."""
        low, high = self.supply
        manured = f", and {self.of_manure:.0f} kg/ha from manure" * (self.of_manure > 0)
        return (
            f"Index {self.index}{manured}: about {low:.0f} to {high:.0f} kg/ha of "
            f"nitrogen; {self._aim()}"
        )

    def _aim(self):
        sound = nitrogen.sound_supply()
        if self.beside_sound == POOR:
            return (
                f"below about {sound.lowest:.0f} tall straw comes thin and short. A "
                f"light, even dressing of manure, or wheat sooner after a ley, helps."
            )
        says = f"tall straw stays sound up to about {sound.highest:.0f}."
        if self.beside_sound == SOUND:
            return says
        return f"{says} More makes soft straw, and lodging: {self._instead()}"

    def _instead(self):
        if _beside_sound(self.of_ground) != RICH:
            return "spread less manure, or none."
        no_manure = "spread no manure, and " * (self.of_manure > 0)
        return f"{no_manure}take a root crop or another cereal first, then this wheat."

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("nitrogen")
        yield from self.cells
        yield step_from_rows(
            f"Index {self.index} is about {self.of_ground.low:.0f} to "
            f"{self.of_ground.high:.0f} kg/ha.",
            *self._band_rows(),
        )
        if self.question.manure:
            manure = table["cattle_manure"]
            spread = f"{self.question.manure:g} t/ha of fresh cattle manure"
            yield Step(f"{spread} since the last harvest.", "You", GIVEN)
            yield step_from_rows(
                f"Each tonne holds {manure['nitrogen_kg_per_t'].value:g} kg of "
                f"nitrogen, of which the next crop can take "
                f"{manure['available'].value:.0%}; years of manure leave more.",
                *manure.values(),
            )
        sound = table["sound"]
        yield step_from_rows(
            f"Tall straw should have {sound['lowest'].value:g} to "
            f"{sound['highest'].value:g} kg/ha in all.",
            *sound.values(),
        )

    def _band_rows(self):
        """The printed bands, and the end that is ours where the print has none."""
        bands = shipped("nitrogen")["bands"]
        ends = {0: "least", len(bands["up_to"].value): "most"}
        return [bands[n] for n in ("up_to", ends.get(self.index)) if n]

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        sound = nitrogen.sound_supply()
        return {
            "sentence": self.sentence,
            "index": self.index,
            "ground_supply_low_kg_per_ha": self.of_ground.low,
            "ground_supply_high_kg_per_ha": self.of_ground.high,
            "manure_supply_kg_per_ha": round(self.of_manure, 1),
            "supply_low_kg_per_ha": round(self.supply.low, 1),
            "supply_high_kg_per_ha": round(self.supply.high, 1),
            "sound_from_kg_per_ha": sound.lowest,
            "sound_up_to_kg_per_ha": sound.highest,
            "beside_sound": self.beside_sound,
            "working": steps_to_json(self.working),
        }


def soil_supply(question):
    """The `SoilSupply` of a `SoilSupplyQuestion`."""
    _check(question)
    up_to = nitrogen.rain_rows()["up_to"].value
    rain = nitrogen.RAINS[int(rain_range(question.rain, up_to))]
    after_crop, crop_cells = _after_crop(question, rain)
    after_ley, ley_cells = _after_ley(question, rain)
    index = int(higher_index(after_crop, after_ley))
    ground = supply_of(index, nitrogen.index_bands())
    return SoilSupply(
        question=question,
        index=index,
        of_ground=Supply(*map(float, ground)),
        of_manure=float(manure_nitrogen(question.manure, nitrogen.cattle_manure())),
        cells=(_rain_step(question, rain), *crop_cells, *ley_cells),
    )


def _beside_sound(supply):
    return BESIDE[int(beside_sound(supply, nitrogen.sound_supply()))]


def _rain_step(question, rain):
    row = nitrogen.rain_rows()["up_to"]
    low, moderate = row.value
    return step_from_rows(
        f"{question.rain:,.0f} mm a year is {rain} rain: low is up to {low:g} mm, "
        f"moderate up to {moderate:g}.",
        row,
    )


def _after_crop(question, rain):
    """Index that the last crop leaves, NaN for none; and its cell."""
    if question.last_crop is None:
        return float("nan"), ()
    row = nitrogen.after_crop_rows(rain)[question.last_crop]
    index = row.value[nitrogen.SOILS.index(question.soil)]
    says = f"After {_plain(question.last_crop)} on {_plain(question.soil)} soil"
    return index, (step_from_rows(f"{says}, {rain} rain: index {index}. {CHECK}", row),)


def _after_ley(question, rain):
    """Index that the ley leaves, NaN for none that still tells; and its cells."""
    ley = question.ley
    if ley is None:
        return float("nan"), ()
    lasting = ley.years > LONG or ley.sward == "lucerne"
    kind = nitrogen.ley_leaves_row(lasting, ley.years > SHORT, SWARDS[ley.sward])
    leaves = nitrogen.LEAVES[kind.value[nitrogen.USES.index(ley.use)]]
    row = nitrogen.after_ley_rows(question.soil, rain)[leaves]
    index = float(ley_index(row.value, ley.crops_since))
    says = (
        f"A {_plain(ley.sward)} ley of {ley.years} years, {_plain(ley.use)}, "
        f"{_plain(leaves)}; to crop {ley.crops_since} after ploughing"
    )
    gives = "nothing more" if index != index else f"index {index:.0f}"
    both = " The higher index of ley and last crop holds." * bool(question.last_crop)
    return index, (step_from_rows(f"{says}: {gives}.{both} {CHECK}", kind, row),)


def _plain(name):
    return name.replace("_", " ")


def _check(question):
    driest = nitrogen.rain_rows()["driest"].value
    if not driest <= question.rain <= WETTEST:
        raise OutOfRange(
            f"{question.rain:g} mm of rain a year lies outside the tables; it should "
            f"be from {driest:g} to {WETTEST:,} mm."
        )
    if not 0 <= question.manure <= MOST_MANURE:
        raise OutOfRange(
            f"{question.manure:g} t/ha of manure: it should be from 0 to {MOST_MANURE}."
        )
    _check_names(question)
    if question.ley:
        _check_ley(question.ley)
    if question.last_crop is None and (
        question.ley is None or question.ley.crops_since > 1
    ):
        raise OutOfRange(
            "Nothing is said of what grew there last; it should be the last crop, or "
            "a ley that this crop is the first after."
        )


def _check_names(question):
    if question.soil not in nitrogen.SOILS:
        raise OutOfRange(
            f"The tables know no soil {question.soil!r}; it should be one of "
            f"{', '.join(nitrogen.SOILS)}. Have peaty ground measured."
        )
    known = nitrogen.last_crops()
    if question.last_crop not in (None, *known):
        raise OutOfRange(
            f"The tables know no last crop {question.last_crop!r}; it should be one "
            f"of {', '.join(known)}."
        )


def _check_ley(ley):
    for what, said, known in (
        ("sward", ley.sward, SWARDS),
        ("use", ley.use, nitrogen.USES),
    ):
        if said not in known:
            raise OutOfRange(
                f"The tables know no {what} of a ley {said!r}; it should be one of "
                f"{', '.join(known)}."
            )
    if ley.years < 1 or ley.crops_since < 1:
        raise OutOfRange(
            f"A ley of {ley.years} years with {ley.crops_since} crops since: each "
            f"should be 1 or more."
        )
