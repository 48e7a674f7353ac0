"""Will it stand? What share of a crop lies by cutting, and what would change that."""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, BAND_NAMES, banded, short
from sheafwright.answers.gales import (
    PATCHES,
    Gales,
    gales,
    possible_mechanics,
    refuse_few,
)
from sheafwright.answers.known_days import known_weather
from sheafwright.answers.lodging_working import (
    lodging_steps,
    lodging_telling,
    row_spacing,
    sentence,
)
from sheafwright.answers.season_past import Variety, variety
from sheafwright.answers.sowing_seasons import (
    crops,
    in_order,
    season_days,
)
from sheafwright.answers.working import steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.lodging import Husbandry, Mechanics
from sheafwright.core.lodging.learning import chosen, factor_grid, weigh
from sheafwright.core.lodging.season import (
    Both,
    Days,
    failing_gusts,
    felt_gusts,
    load,
    season_share,
    shares_by_day,
    taken,
)
from sheafwright.feeds import decision, lodging
from sheafwright.feeds.lodging import Crop, Lodged
from sheafwright.feeds.sowing import dates_in, days_after, harvest_year
from sheafwright.feeds.telling import mark, say

STANDS, DRAWS = 1000, 2000
"""Possible stands, and how many meet some season, at least."""
MUCH = 0.1
"""A field is called lodged when more than so much of it lies. [0–1]"""
LATER = datetime.timedelta(21)
FEWER, LEAST_PLANTS = 2 / 3, 60
SHORTER = 0.15
"""[m]"""
CHANCE = "chance_over_tenth"


@dataclasses.dataclass(frozen=True)
class LodgingQuestion:
    """One crop, sown or thought of."""

    weather: str
    """Path of the weather record."""
    crop: Crop
    columns: str | None = None
    """Path of a columns file for it."""
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""
    own_readings: str | None = None
    """Path of the field's own gauge and thermometer."""
    as_of: datetime.date | None = None
    """The last day of the record if not given."""
    variety_class: str | None = None
    soil: str = "medium"
    """One of `sheafwright.feeds.lodging.SOILS`."""
    reference: Crop | None = None
    """The field that the grower knows; the usual one if not given."""
    own_lodging: str | None = None
    """Path of what lay in past years."""
    seed: int = 1

    @property
    def harvest_year(self):
        """Calendar year of this harvest."""
        return harvest_year(self.crop.sown)

    @property
    def beside(self):
        """The reference field."""
        return self.reference or lodging.reference_crop(self.harvest_year)

    @property
    def beside_called(self):
        """The reference field in words."""
        return (
            say("the field that you know") if self.reference else say("a usual field")
        )

    @property
    def changes(self):
        """Crops that differ from this one in one thing, by its name."""
        crop = self.crop
        fewer = max(round(FEWER * crop.plants_per_m2), LEAST_PLANTS)
        shorter = round(crop.height_m - SHORTER, 2)
        changed = {}
        if fewer < crop.plants_per_m2:
            changed["thinner_seed"] = {"plants_per_m2": fewer}
        # Later than that nobody has said what a week is worth.
        if _weeks_later(crop.sown + LATER) <= lodging.effects().most_weeks:
            changed["later_sowing"] = {"sown": crop.sown + LATER}
        if crop.nitrogen_index >= 1:
            changed["less_nitrogen"] = {"nitrogen_index": crop.nitrogen_index - 1}
        if shorter >= lodging.LIMITS["height_m"][0]:
            changed["shorter_variety"] = {"height_m": shorter}
        return {n: dataclasses.replace(crop, **each) for n, each in changed.items()}


@dataclasses.dataclass(frozen=True)
class Stands:
    """Possible stands of the field, each in a season, (draw,)."""

    mechanics: Mechanics
    """(draw, patch)."""
    factor: np.ndarray
    """Multiplies the gusts that they bear. [1]"""
    season: np.ndarray
    """Position of the season that each meets."""
    seen: tuple[Lodged, ...]
    """What lay in past years, of which they were learned."""


@dataclasses.dataclass(frozen=True)
class LodgingAnswer:
    """The answer."""

    question: LodgingQuestion
    variety: Variety
    gales: Gales
    stands: Stands
    shares: dict[str, np.ndarray]
    """Share that lies by cutting of ``asked``, ``reference`` and every change,
    (draw,). [0–1]"""
    if_strength: dict[str, float]
    """Chance that more than a tenth lies, the assumed strength halved or doubled."""
    by_day: Both
    """Share that lies by each day, (draw, day). [0–1]"""
    first_day: int
    """Position in its season of the first of those days."""

    @property
    def chances(self):
        """That more than a tenth lies by cutting, of each crop."""
        return {name: _chance(shares) for name, shares in self.shares.items()}

    @property
    def times(self):
        """How many times as likely that is as of the reference field, or None."""
        chances = self.chances
        if not chances["reference"]:
            return None
        return chances["asked"] / chances["reference"]

    @property
    def best_change(self):
        """Name of the change that helps most, or None where none does."""
        changes = {name: self.chances[name] for name in self.question.changes}
        best = min(changes, key=changes.get, default="asked")
        return best if self.chances[best] < self.chances["asked"] else None

    @property
    def kind(self):
        """Of all that lies by cutting, what gave way first, `Both`. [0–1]"""
        lies = [float(each[:, -1].mean()) for each in self.by_day]
        return Both(*(each / (sum(lies) or 1.0) for each in lies))

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return sentence(self)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return lodging_steps(self)

    @property
    def telling(self):
        """The few of those steps on which it turns."""
        return lodging_telling(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        question = self.question
        return {
            "sentence": self.sentence,
            "station": self.gales.crops.days.known.record.station,
            "crop": _crop_to_json(question.crop),
            "soil": question.soil,
            "variety_class": self.variety.name,
            "seasons": len(self.gales.years),
            "seasons_left_out": self.gales.left_out,
            "gusts_measured_share": short(self.gales.share_measured),
            "seed": question.seed,
            **_shares_to_json(self.shares["asked"]),
            "chance_over_tenth_if_strength": {
                name: short(chance) for name, chance in self.if_strength.items()
            },
            "by_date": self._by_date(),
            "kind": {
                "stem_share": short(self.kind.stem),
                "root_share": short(self.kind.root),
            },
            "changes": [*self._changes(), row_spacing()],
            "against_reference": {
                "called": question.beside_called,
                "crop": _crop_to_json(question.beside),
                **_shares_to_json(self.shares["reference"]),
                "times_as_likely": short(self.times),
            },
            "own_years": len(self.stands.seen),
            "standing_factor": banded(self.stands.factor),
            "working": steps_to_json(self.working),
        }

    def _by_date(self):
        """From the first ear in any season to the last cutting."""
        shares = self.by_day.stem + self.by_day.root
        low, middle, high = weighted_quantiles(shares.T, BAND).T
        over = (shares > MUCH).mean(axis=0)
        columns = low, middle, high, shares.mean(axis=0), over
        names = (*(f"share_lodged_{at}" for at in (*BAND_NAMES, "mean")), CHANCE)
        return [
            {
                "date": date.isoformat(),
                **dict(zip(names, map(short, day), strict=True)),
            }
            for date, day in zip(self.dates, np.array(columns).T, strict=True)
        ]

    @property
    def dates(self):
        """Days of this season that ``by_day`` has, as a usual year numbers them."""
        days = self.gales.crops.days
        start = dates_in(np.array([self.question.harvest_year]), *days.sowings[0])
        return [
            (start[0] + self.first_day + day).astype(datetime.date)
            for day in range(self.by_day.stem.shape[1])
        ]

    def _changes(self):
        chances = self.chances
        for name in sorted(self.question.changes, key=chances.get):
            yield {
                "change": name,
                "settled": True,
                "crop": _crop_to_json(self.question.changes[name]),
                **_shares_to_json(self.shares[name]),
            }


def will_it_stand(question):
    """The answer to a `LodgingQuestion`, `LodgingAnswer`."""
    for_stands, for_gusts = np.random.default_rng(question.seed).spawn(2)
    sown = question.crop.sown
    sort = variety(question.variety_class, sown.month, sown.day)
    grown = {"asked": question.crop, "reference": question.beside, **question.changes}
    seen = _seen(question)
    gale = _gales(question, sort, [*grown.values(), *(s.crop for s in seen)])
    stands = _stands(question.soil, seen, gale, for_stands)
    days = _days(gale, stands.season, stands.mechanics, grown.values(), for_gusts)
    husbandry, effects = _husbandry(grown.values()), lodging.effects()

    def shares(factor):
        return season_share(husbandry, days, stands.mechanics, effects, factor)

    in_ear = np.flatnonzero(gale.standing[_row(gale, question.crop)].any(axis=0))
    shown = slice(in_ear[0], in_ear[-1] + 1)
    by_day = _by_day(question.crop, days, stands, effects)
    return LodgingAnswer(
        question=question,
        variety=sort,
        gales=gale,
        stands=stands,
        shares=dict(zip(grown, shares(stands.factor), strict=True)),
        if_strength={
            # A gust's push goes by its square.
            name: _chance(shares(stands.factor * by**0.5)[0])
            for name, by in {"halves": 0.5, "doubles": 2.0}.items()
        },
        by_day=Both(*(each[:, shown] for each in by_day)),
        first_day=gale.first + int(in_ear[0]),
    )


def _seen(question):
    if question.own_lodging is None:
        return ()
    return lodging.own_lodging(question.own_lodging, question.beside)


def _gales(question, sort, grown):
    """The `Gales` of some crops."""
    sowings = in_order((crop.sown.month, crop.sown.day) for crop in grown)
    days = season_days(known_weather(question), sowings)
    refuse_few(days, np.isfinite(days.years), mark("on record"))
    made = crops(days, sort.phases, sort.filling, decision.losses(None))
    headed = ~np.isnan(made.growth.ear_out).any(axis=0)
    refuse_few(made.days, headed, mark("in which every crop comes into ear"))
    return gales(made)


def _stands(soil, seen, gale, rng):
    """`Stands` on a soil, by what was seen; each season met as often."""
    candidates = possible_mechanics(soil, STANDS, rng)
    prior = lodging.standing_prior()
    loads = [_load(each, candidates, gale, rng) for each in seen]
    loads = np.reshape(loads, (len(seen), STANDS, PATCHES))
    weights = weigh(loads, [each.share for each in seen], prior)
    n_seasons = len(gale.years)
    season = np.tile(np.arange(n_seasons), -(-DRAWS // n_seasons))
    factor, stand = chosen(weights, len(season), rng)
    return Stands(taken(candidates, stand), factor_grid(prior)[factor], season, seen)


def _load(seen, candidates, gale, rng):
    """Worst of the season in which something lay, (draw, patch). [1]"""
    year = harvest_year(seen.crop.sown)
    at = np.flatnonzero(gale.years == year)
    if not at.size:
        raise OutOfRange(
            "What lay of the crop sown on {sown} can't be learned from: the wind and "
            "rain of {year} are not whole on record; it should be of a harvest from "
            "{first} to {last} that is.",
            sown=wording.date(seen.crop.sown),
            year=year,
            first=gale.years.min(),
            last=gale.years.max(),
        )
    days = _days(gale, np.full(STANDS, at[0]), candidates, [seen.crop], rng)
    husbandry = _husbandry([seen.crop])
    felt = felt_gusts(days, husbandry.height, candidates)
    return load(felt, failing_gusts(husbandry, candidates, lodging.effects()))[0]


def _days(gale, season, mechanics, grown, rng):
    """`Days` of some seasons, (draw,), for the soils of as many stands."""
    rows = [_row(gale, crop) for crop in grown]
    standing = gale.standing[np.ix_(rows, season)]
    return Days(gale.gusts(season, rng), gale.wetness(season, mechanics), standing)


def _row(gale, crop):
    """Position of a crop's sowing."""
    return gale.crops.days.sowings.index((crop.sown.month, crop.sown.day))


def _husbandry(grown):
    """`Husbandry` of some crops, (crop,)."""
    columns = {
        "plants_per_m2": [crop.plants_per_m2 for crop in grown],
        "height": [crop.height_m for crop in grown],
        "nitrogen_index": [crop.nitrogen_index for crop in grown],
        "weeks_later": [_weeks_later(crop.sown) for crop in grown],
    }
    return Husbandry(**{name: np.array(column) for name, column in columns.items()})


def _weeks_later(sown):
    """Weeks after the usual sowing for the same harvest."""
    return days_after(lodging.usual_sowing(), sown) / 7


def _by_day(crop, days, stands, effects):
    """Share that lies of one crop by each day, `Both` (draw, day). [0–1]"""
    husbandry = _husbandry([crop])
    first = days._replace(standing=days.standing[:1])
    felt = felt_gusts(first, husbandry.height, stands.mechanics)
    failing = failing_gusts(husbandry, stands.mechanics, effects)
    factor = stands.factor[:, np.newaxis]
    shares = shares_by_day(felt, Both(*(each * factor for each in failing)))
    return Both(*(each[0] for each in shares))


def _chance(shares):
    return float(np.mean(shares > MUCH))


def _shares_to_json(shares):
    return {
        "share_lodged": banded(shares) | {"mean": short(shares.mean())},
        CHANCE: short(_chance(shares)),
    }


def _crop_to_json(crop):
    return {
        "sown": crop.sown.isoformat(),
        "plants_per_m2": crop.plants_per_m2,
        "height_m": crop.height_m,
        "nitrogen_index": crop.nitrogen_index,
    }
