"""Which of many possible crops grows in this field?

Drawn around the book, each with its own difference of the field from the station; then
weighed by the grower's own past dates and by the signs seen on the crop, and taken
again in proportion.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.known_days import GrowingDays
from sheafwright.answers.season_past import Variety
from sheafwright.answers.season_past import variety as sown_variety
from sheafwright.answers.working import Step, step_from_rows
from sheafwright.core.crop import learning
from sheafwright.core.crop.development import develop, ripeness
from sheafwright.core.crop.signs import likelihood
from sheafwright.core.decide.harvests import GROWING_DAYS
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.core.inputs.crop import GrainFilling, Phases
from sheafwright.core.weather.day_length import day_length
from sheafwright.core.weather.place import PlaceDraws, draw_place
from sheafwright.feeds import crop, readings
from sheafwright.feeds.tables import shipped

PLACES, CROPS_OF_A_PLACE = 100, 40
"""Candidates: so many differences of the field, with so many crops to each."""
N_CANDIDATES = PLACES * CROPS_OF_A_PLACE
FEW = 50
"""Dates that leave fewer draws than this of weight are a surprise."""
SELDOM = 0.05
"""A sign with less than this chance is a surprise. [0–1]"""


@dataclasses.dataclass(frozen=True)
class CropDraws:
    """Possible crops, (draw,), each with a difference of the field."""

    phases: Phases
    filling: GrainFilling
    place: PlaceDraws
    likeliest: Variety
    """The crop as the grower's own dates make it; by the book without them."""
    steps: tuple[Step, ...]


@dataclasses.dataclass(frozen=True)
class PastDates:
    """The grower's own past seasons."""

    days: GrowingDays
    """Each (season, day)."""
    seen: np.ndarray
    """Days after sowing: (season, kind) of ``learning.DATE_KINDS``."""
    left_out: int
    """Seasons in the file whose weather isn't on record, or that are still to come."""


@dataclasses.dataclass(frozen=True)
class Candidates:
    """Crops that may be: so many to each difference of the field."""

    variety: Variety
    doubt: learning.Doubt
    places: PlaceDraws

    @property
    def blocks(self):
        """The crops of each difference: (crops, difference, cutting ripeness)."""
        for number, block in enumerate(np.split(np.arange(N_CANDIDATES), PLACES)):
            crops, place = self.taken(block), self._place(number)
            yield crops, place, self.doubt.cutting_ripeness[block]

    def taken(self, chosen):
        """Crops at some positions, (draw,): a `Phases` and a `GrainFilling`."""
        forms = crop.grain_filling_forms()
        return learning.crops(self.variety.phases, forms, self.doubt.taken(chosen))

    def places_of(self, chosen):
        """Their differences of the field, (draw,)."""
        return self._place(chosen // CROPS_OF_A_PLACE)

    def _place(self, number):
        return PlaceDraws(*(each[number] for each in self.places))


class Weighed(NamedTuple):
    """Crops that may be of one class of variety, as the grower's dates weigh them."""

    candidates: Candidates
    weights: np.ndarray
    """(candidate,). [0–1]"""
    likeliest: Variety
    steps: tuple[Step, ...]


def crop_draws(question, known, rng, weighed=None):
    """`CropDraws` given all that was seen.

    Parameters
    ----------
    question : sheafwright.answers.question.Question
    known : sheafwright.answers.known_days.KnownDays
    rng : numpy.random.Generator
    weighed : Weighed, optional
        Those of its class, where many fields are asked of and share them.
    """
    candidates, weights, likeliest, steps = weighed or weighed_by_dates(
        question, known, rng
    )
    if question.signs:
        chances = _chances_of_signs(candidates, question, known)
        steps = (*steps, _signs_step(question.signs, chances, weights))
        weights = weights * np.prod(chances, axis=0)
        weights = weights / weights.sum()
    chosen = learning.resample(weights, question.summers, rng)
    return CropDraws(
        *candidates.taken(chosen), candidates.places_of(chosen), likeliest, steps
    )


def weighed_by_dates(question, known, rng):
    """Crops that may be, `Weighed`: whatever was seen this year.

    Parameters
    ----------
    question, known, rng : as in `crop_draws`
    """
    sown = question.sown
    sort = sown_variety(question.variety_class, sown.month, sown.day)
    candidates = Candidates(
        sort,
        learning.draw_doubt(crop.doubt_prior(), N_CANDIDATES, rng),
        draw_place(known.doubt, PLACES, rng),
    )
    if question.own_seasons is None:
        weights = np.full(N_CANDIDATES, 1 / N_CANDIDATES)
        return Weighed(candidates, weights, sort, (_prior_step(),))
    past = past_dates(question.own_seasons, known.record, known.latitude)
    weights = _weights_of_dates(candidates, past)
    step = _dates_step(past, candidates.doubt, weights)
    return Weighed(
        candidates, weights, _likeliest(candidates, weights), (_prior_step(), step)
    )


def past_dates(path, record, latitude):
    """`PastDates` from the grower's file: what the record's last day already knew.

    Parameters
    ----------
    path : path
    record : sheafwright.feeds.weather.record.WeatherRecord
        At the field.
    latitude : float
        North positive. [°]
    """
    listed = readings.past_seasons(path)
    whole = [season for season in listed if _is_usable(season, record)]
    if not whole:
        raise NotEnoughWeather(
            "{path} has no season that was sown, and dated after, between {first} and "
            "{last}, where the weather is on record; it should have one.",
            path=str(path),
            first=wording.date(record.first),
            last=wording.date(record.last),
        )
    rows = np.array([(season.sown - record.first).days for season in whole])
    at = np.minimum(rows[:, np.newaxis] + np.arange(GROWING_DAYS), record.days - 1)
    light = day_length(latitude, record.day_of_year)
    columns = (record.values["tmin"], record.values["tmax"], light)
    return PastDates(
        GrowingDays(*(column[at] for column in columns)),
        np.array([_days_after_sowing(season, record.last) for season in whole]),
        len(listed) - len(whole),
    )


def _is_usable(season, record):
    """Whether the weather is on record from sowing to the last date known."""
    dates = _days_after_sowing(season, record.last)
    if season.sown < record.first or np.isnan(dates).all():
        return False
    sown = (season.sown - record.first).days
    grown = slice(sown, sown + int(np.nanmax(dates)) + 1)
    missing = np.isnan(record.values["tmin"] + record.values["tmax"])
    return not missing[grown].any()


def _days_after_sowing(season, last):
    """Days from sowing to flowering and to cutting; NaN where not known by ``last``."""
    return [
        (date - season.sown).days if date and date <= last else np.nan
        for date in (season.flowered, season.cut)
    ]


def _weights_of_dates(candidates, past):
    errors = crop.date_errors()
    sown = np.zeros(len(past.seen), dtype=int)
    predicted = [
        learning.past_dates(
            past.days.tmin + place.tmin_offset,
            past.days.tmax + place.tmax_offset,
            past.days.day_length,
            sown,
            crops,
            cutting_ripeness,
        )
        for crops, place, cutting_ripeness in candidates.blocks
    ]
    sd = [errors.flowering, errors.cutting]
    return learning.weigh(np.concatenate(predicted), past.seen, sd)


def _likeliest(candidates, weights):
    """The variety with its sums as the weights have them, in the likelier form."""
    drawn, variety = candidates.doubt, candidates.variety
    filling_forms = crop.grain_filling_forms()
    form = int(np.argmax(np.bincount(drawn.form, weights, len(filling_forms))))
    factors = _usual_factors(drawn, weights)
    phases, filling = learning.crops(
        variety.phases, filling_forms, learning.Doubt(*factors, form, None)
    )
    return dataclasses.replace(variety, phases=phases, filling=filling)


def _usual_factors(drawn, weights):
    """Geometric means of the multipliers of both sums. [1]"""
    return [
        float(np.exp(np.sum(weights * np.log(each))))
        for each in (drawn.to_flowering, drawn.grain_filling)
    ]


def _chances_of_signs(candidates, question, known):
    """Chance of each sign seen today in each candidate, by kind: (draw,)."""
    seen, ladders = question.seen_by(known.as_of), crop.sign_ladders()
    ripe = np.concatenate(
        [
            _ripeness_today(known.growing, crops, place, seen)
            for crops, place, _ in candidates.blocks
        ]
    )
    return [
        likelihood(ripe, {kind: level}, ladders)
        for kind, level in question.signs.items()
    ]


def _ripeness_today(days, crops, place, seen):
    """Ripeness on the last day, 0 before flowering, (crop,). [1]"""
    phases, filling = crops
    cold, warm = days.tmin + place.tmin_offset, days.tmax + place.tmax_offset
    stages = develop(cold, warm, days.day_length, 0, phases, filling, seen)
    return np.nan_to_num(ripeness(cold, warm, stages.gs61, filling, seen)[..., -1])


def _prior_step():
    table = shipped("learning")["prior"]
    rows = [table[n] for n in ("flowering_sd", "grain_filling_sd", "form_weights")]
    return step_from_rows(wording.crop_prior(*(row.value for row in rows)), *rows)


def _dates_step(past, drawn, weights):
    says = wording.own_dates(
        len(past.seen),
        past.left_out,
        _usual_factors(drawn, weights),
        learning.effective_draws(weights) < FEW,
    )
    return step_from_rows(says, *shipped("learning")["date_errors"].values())


def _signs_step(signs, chances, weights):
    tables = shipped("signs")
    rows = [row for kind in signs for row in tables[kind].values()]
    surprise = min(float(weights @ each) for each in chances) < SELDOM
    return step_from_rows(wording.signs(signs, surprise), *rows)
