"""How much nitrogen will this ground give, and is that too much for thatching straw?

Every cell of a table that is used is named in the working, with its standing.
"""

import dataclasses
import math

from sheafwright.answers import soil_wording as wording
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
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
from sheafwright.feeds.telling import measured

SWARDS = {"clover": True, "grass": False, "fed_grass": True, "lucerne": True}
"""Whether a ley is rich in nitrogen: clover makes it so, or over 250 kg/ha a year."""
SHORT, LONG = 2, 5
"""Years of the longest short ley, and of the longest that isn't pasture. [a]"""
WETTEST, MOST_MANURE = 4000, 100
"""Nobody farms where more falls [mm], or spreads more [t/ha]."""
POOR, SOUND, RICH = "poor", "sound", "rich"
BESIDE = {-1: POOR, 0: SOUND, 1: RICH}


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
        supplied = wording.supply(self.index, self.supply, self.of_manure)
        should = nitrogen.sound_supply()
        if self.beside_sound == POOR:
            return wording.poor(supplied, should.lowest)
        if self.beside_sound == SOUND:
            return wording.sound(supplied, should.highest)
        ground_is_rich = _beside_sound(self.of_ground) == RICH
        manured = self.of_manure > 0
        return wording.rich(supplied, should.highest, manured, ground_is_rich)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        table = shipped("nitrogen")
        yield from self.cells
        yield step_from_rows(
            wording.band(self.index, self.of_ground), *self._band_rows()
        )
        if self.question.manure:
            manure = table["cattle_manure"]
            yield Step(wording.spread(self.question.manure), YOU, GIVEN)
            yield step_from_rows(
                wording.manure_holds(
                    manure["nitrogen_kg_per_t"].value, manure["available"].value
                ),
                *manure.values(),
            )
        sound = table["sound"]
        yield step_from_rows(
            wording.should_have(sound["lowest"].value, sound["highest"].value),
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
    return step_from_rows(wording.rain_is(question.rain, rain, *row.value), row)


def _after_crop(question, rain):
    """Index that the last crop leaves, NaN for none; and its cell."""
    if question.last_crop is None:
        return float("nan"), ()
    row = nitrogen.after_crop_rows(rain)[question.last_crop]
    index = row.value[nitrogen.SOILS.index(question.soil)]
    says = wording.after_crop(question.last_crop, question.soil, rain, index)
    return index, (step_from_rows(says, row),)


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
    leaves_index = None if math.isnan(index) else round(index)
    beside = question.last_crop is not None
    says = wording.after_ley(ley, leaves, leaves_index, beside)
    return index, (step_from_rows(says, kind, row),)


def _check(question):
    driest = nitrogen.rain_rows()["driest"].value
    if not driest <= question.rain <= WETTEST:
        raise OutOfRange(
            "{rain} of rain a year lies outside the tables; it should be from {driest} "
            "to {wettest}.",
            rain=measured(question.rain, "mm"),
            driest=measured(driest, "mm"),
            wettest=measured(WETTEST, "mm", ","),
        )
    if not 0 <= question.manure <= MOST_MANURE:
        raise OutOfRange(
            "{manure} of manure: it should be from {least} to {most}.",
            manure=measured(question.manure, "t/ha"),
            least=measured(0, "t/ha"),
            most=measured(MOST_MANURE, "t/ha"),
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
            "The tables know no soil {soil!r}; it should be one of {soils}. Have peaty "
            "ground measured.",
            soil=question.soil,
            soils=", ".join(nitrogen.SOILS),
        )
    known = nitrogen.last_crops()
    if question.last_crop not in (None, *known):
        raise OutOfRange(
            "The tables know no last crop {crop!r}; it should be one of {crops}.",
            crop=question.last_crop,
            crops=", ".join(known),
        )


def _check_ley(ley):
    if ley.sward not in SWARDS:
        raise OutOfRange(
            "The tables know no sward of a ley {sward!r}; it should be one of "
            "{swards}.",
            sward=ley.sward,
            swards=", ".join(SWARDS),
        )
    if ley.use not in nitrogen.USES:
        raise OutOfRange(
            "The tables know no use of a ley {use!r}; it should be one of {uses}.",
            use=ley.use,
            uses=", ".join(nitrogen.USES),
        )
    if ley.years < 1 or ley.crops_since < 1:
        raise OutOfRange(
            "A ley of {years} years with {crops} crops since: each should be 1 or "
            "more.",
            years=ley.years,
            crops=ley.crops_since,
        )
