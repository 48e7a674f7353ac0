"""Which sowing does best here, how thick, and what is given up by it?

Every date and density meets every season on record, so that they are compared year by
year.
"""

import dataclasses
import datetime
from functools import cached_property
from typing import NamedTuple

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND, BAND_NAMES, banded, short
from sheafwright.answers.cold import Cold
from sheafwright.answers.gales import Gales
from sheafwright.answers.known_days import known_weather
from sheafwright.answers.season_past import Variety, variety
from sheafwright.answers.sowing_dates_question import SowingsQuestion
from sheafwright.answers.sowing_seasons import (
    Crops,
    colds,
    crops,
    plain_dates,
    season_days,
)
from sheafwright.answers.sowing_stands import (
    Hectares,
    gales_of,
    hectares,
)
from sheafwright.answers.sowing_working import sentences, sowing_steps, telling_steps
from sheafwright.answers.working import steps_to_json
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.crop import learning, vernalisation
from sheafwright.core.decide.otherwise import drying_times, losses_times
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.inputs.losses import Losses
from sheafwright.feeds import crop, decision, lodging, sowing_dates
from sheafwright.feeds.telling import joined

MARCH = datetime.date(2001, 3, 1)
"""Ripe dates are counted from here, in a year without a leap day."""


@dataclasses.dataclass(frozen=True)
class Compared:
    """Sowings side by side, each in every season."""

    crops: Crops
    hectares: Hectares
    gbp: np.ndarray
    """What a hectare brings, (sowing, density, season, luck)."""
    gales: Gales | None
    """What they stood in; None where the record has no gusts."""

    @property
    def gbp_by_season(self):
        """The mean of each season's lucks, (sowing, density, season)."""
        return self.gbp.mean(axis=-1)


class Cell(NamedTuple):
    """A position among the dates, and one among the densities."""

    date: int
    density: int


@dataclasses.dataclass(frozen=True)
class Gain:
    """What the best sowing brings over another."""

    over: Cell
    gbp: float
    """A hectare, the mean of the seasons."""
    standard_error: float
    """Of that mean."""
    seasons_won: int
    clear: bool
    """Whether it is more than luck."""


@dataclasses.dataclass(frozen=True)
class SowingDates:
    """The answer."""

    question: SowingsQuestion
    variety: Variety
    losses: Losses
    """The table asked with."""
    compared: Compared
    colds: list[Cold]
    """Of each date."""
    best_if: dict[str, Cell]
    """The best sowing if something else is so, by what that is."""

    @property
    def n_seasons(self):
        """Seasons on record in which all could be compared."""
        return len(self.compared.crops.days.years)

    @cached_property
    def in_choice(self):
        """Dates among which is chosen: those whose cold is surest, (sowing,)."""
        return _in_choice(self.colds)

    @cached_property
    def best(self):
        """The sowing that brings most in the mean."""
        return _best(self.compared, self.in_choice)

    @cached_property
    def gains(self):
        """The `Gain` over the best sowing of each other date of the choice, by date."""
        found = {}
        for date in np.flatnonzero(self.in_choice):
            only = np.arange(len(self.in_choice)) == date
            found[int(date)] = self._gain(_best(self.compared, only))
        del found[self.best.date]
        return found

    @property
    def gain_over_date(self):
        """The least of those, or None where there are none."""
        return min(self.gains.values(), key=lambda gain: gain.gbp, default=None)

    @property
    def as_good(self):
        """Other dates that are behind by no more than luck."""
        return [date for date, gain in self.gains.items() if not gain.clear]

    @property
    def gain_over_density(self):
        """The `Gain` over the next best density, or None where there is none."""
        date, density = self.best
        others = [n for n in range(len(self.question.densities)) if n != density]
        gains = [self._gain(Cell(date, other)) for other in others]
        return min(gains, key=lambda gain: gain.gbp, default=None)

    def _gain(self, over):
        gbp = self.compared.gbp_by_season
        gains = gbp[self.best] - gbp[over]
        error = float(gains.std(ddof=1) / np.sqrt(len(gains)))
        mean = float(gains.mean())
        clear = mean >= sowing_dates.sowing_rules().clear_from * error
        return Gain(over, mean, error, int((gains > 0).sum()), clear)

    @property
    def fit_spells(self):
        """Seasons with a fit spell for the stooks, of each date."""
        return self.compared.crops.harvest.fit_spell.sum(axis=-1)

    @cached_property
    def ripe_days(self):
        """10, 50 and 90 % of ripe dates, in days after 1 March; inf for never."""
        return weighted_quantiles(self.compared.crops.ripe_dates, BAND)

    @property
    def lodged(self):
        """Mean share that lies, (sowing, density); None where it can't be given."""
        lodged = self.compared.hectares.lodged
        return None if lodged is None else lodged.mean(axis=(-2, -1))

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(*sentences(self))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return sowing_steps(self)

    @property
    def telling(self):
        """The few of those steps on which the choice turns."""
        return telling_steps(self)

    def spoken(self, sowing):
        """Month and day, and plants, of a `Cell`."""
        question = self.question
        return question.dates[sowing.date], question.densities[sowing.density]

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        known, years = self.compared.crops.days.known, self.compared.crops.days.years
        ground = self.question.ground
        return {
            "sentence": self.sentence,
            "station": known.record.station,
            "latitude_deg": known.latitude,
            "altitude_m": known.altitude,
            "variety_class": self.variety.name,
            **ground._asdict(),
            "seasons": self.n_seasons,
            "first_harvest_year": int(years[0]),
            "last_harvest_year": int(years[-1]),
            "harvest_years_left_out": self.left_out,
            "lodging_known": self.lodged is not None,
            "best": self._named(self.best),
            "gain_over_next_date": self._gain_to_json(self.gain_over_date),
            "sown_as_good": [self._sown(date) for date in self.as_good],
            "gain_over_next_density": self._gain_to_json(self.gain_over_density),
            "best_if": {name: self._named(best) for name, best in self.best_if.items()},
            "by_sowing": [
                self._row(Cell(*each))
                for each in np.ndindex(self.compared.gbp.shape[:2])
            ],
            "seed": self.question.seed,
            "working": steps_to_json(self.working),
        }

    @property
    def left_out(self):
        """Harvest years begun or ended on record that could not be compared."""
        days = self.compared.crops.days
        record = days.known.record
        on_record = range(record.first.year, record.last.year + 1)
        return [year for year in on_record if year not in set(days.years.tolist())]

    def _sown(self, date):
        month, day = self.question.dates[date]
        return f"{month:02}-{day:02}"

    def _named(self, sowing):
        plants = self.question.densities[sowing.density]
        return {"sown": self._sown(sowing.date), "plants_per_m2": plants}

    def _gain_to_json(self, gain):
        return gain and {
            "over": self._named(gain.over),
            "gbp_per_ha": short(gain.gbp),
            "standard_error_gbp_per_ha": short(gain.standard_error),
            "seasons_won": gain.seasons_won,
            "clear": gain.clear,
        }

    def _row(self, sowing):
        date, n_seasons = sowing.date, self.n_seasons
        hectares, harvest = self.compared.hectares, self.compared.crops.harvest
        spells = int(self.fit_spells[date])
        weights = {name: getattr(hectares, name) for name in ("straw", "reed", "grain")}
        return {
            **self._named(sowing),
            "vernalisation": self.colds[date].to_json(),
            "in_choice": bool(self.in_choice[date]),
            "ripe_date": dict(
                zip(BAND_NAMES, map(_month_day, self.ripe_days[date]), strict=True)
            ),
            "seasons_never_ripe": int(
                np.isnan(self.compared.crops.ripe_dates[date]).sum()
            ),
            "seasons_never_cut": int(np.isnan(harvest.cut[date]).sum()),
            "fit_week_seasons": spells,
            "fit_week_chance": short(spells / n_seasons),
            "kept_of_perfect_crop_share": short(harvest.worth[date].mean()),
            "lodged_share": None
            if self.lodged is None
            else _summed(hectares.lodged[sowing]),
            **{
                f"{name}_t_per_ha": _summed(all_[sowing])
                for name, all_ in weights.items()
            },
            "seed_kg_per_ha": short(hectares.seed[sowing]),
            "gbp_per_ha": _summed(self.compared.gbp[sowing]),
            "seasons_best": int(self.seasons_best[sowing]),
        }

    @cached_property
    def seasons_best(self):
        """Seasons in which each brought most of those in the choice."""
        gbp = self.compared.gbp_by_season
        gbp = np.where(self.in_choice[:, np.newaxis, np.newaxis], gbp, -np.inf)
        best = gbp.reshape(-1, self.n_seasons).argmax(axis=0)
        return np.bincount(best, minlength=gbp[..., 0].size).reshape(gbp.shape[:2])


def sowings(question):
    """The answer to a `SowingsQuestion`, `SowingDates`."""
    known = known_weather(question)
    _refuse_south(known.latitude)
    days = season_days(known, question.dates)
    _refuse_few(days)
    sort = variety(question.variety_class, *question.dates[0])
    losses = decision.losses(question.losses)
    compared = side_by_side(question, days, sort, losses)
    _refuse_barren(compared.crops, sort)
    cold = colds(compared.crops, sort)
    choice = _in_choice(cold)
    return SowingDates(
        question=question,
        variety=sort,
        losses=losses,
        compared=compared,
        colds=cold,
        best_if={
            name: _best(side_by_side(question, days, **changed), choice)
            for name, changed in _changes(sort, losses).items()
        },
    )


def side_by_side(question, days, sort, losses, firmer=1.0, lost_per_week=0.0):
    """The sowings of a question, `Compared`.

    Parameters
    ----------
    question : SowingsQuestion
    days : sheafwright.answers.sowing_seasons.SeasonDays
    sort : Variety
    losses : Losses
    firmer : float
        Multiplies the gusts that the field can bear. [1]
    lost_per_week : float
        Share of the crop lost by each week that it is sown later. [week⁻¹]
    """
    made = crops(days, sort.phases, sort.filling, losses)
    _refuse_few(made.days)
    gale = gales_of(made)
    made = gale.crops if gale else made
    rng = np.random.default_rng(question.seed)
    stood = hectares(made, question.densities, question.ground, gale, rng, firmer)
    first, *_ = sown = plain_dates(question.dates)
    weeks = np.array([(each - first).days / 7 for each in sown])
    kept = made.harvest.worth * (1 - lost_per_week * weeks)[:, np.newaxis]
    return Compared(made, stood, stood.gbp(kept), gale)


def _changes(sort, losses):
    """What else may be so, by name: all that `side_by_side` is then given."""
    prior, forms = crop.doubt_prior(), crop.grain_filling_forms()
    form, other = np.argsort(prior.form_weights)[::-1][:2]
    later = np.exp(prior.flowering_sd)

    def grown(times, form):
        doubt = learning.Doubt(times, 1.0, form, None)
        phases, filling = learning.crops(sort.phases, forms, doubt)
        return dataclasses.replace(sort, phases=phases, filling=filling)

    firmer = np.exp(lodging.standing_prior().factor_sd)
    asked = {"sort": sort, "losses": losses}
    return {
        "crop_earlier": asked | {"sort": grown(1 / later, form)},
        "crop_later": asked | {"sort": grown(later, form)},
        "filling_otherwise": asked | {"sort": grown(1.0, other)},
        "losses_halve": asked | {"losses": losses_times(losses, 0.5)},
        "losses_double": asked | {"losses": losses_times(losses, 2.0)},
        "drying_halves": asked | {"losses": drying_times(losses, 0.5)},
        "drying_doubles": asked | {"losses": drying_times(losses, 2.0)},
        "stands_worse": asked | {"firmer": 1 / firmer},
        "stands_better": asked | {"firmer": firmer},
        "late_sowing_costs": asked
        | {"lost_per_week": sowing_dates.lost_per_week_later()},
    }


def _in_choice(cold):
    rank = [vernalisation.STATUSES.index(each.status) for each in cold]
    return np.array(rank) == max(rank)


def _best(compared, dates):
    mean = compared.gbp_by_season.mean(axis=-1)
    mean = np.where(dates[:, np.newaxis], mean, -np.inf)
    return Cell(*map(int, np.unravel_index(mean.argmax(), mean.shape)))


def _refuse_south(latitude):
    if latitude <= 0:
        raise OutOfRange(
            "Sowings can't be set side by side at a latitude of {latitude:g}°: autumn "
            "and spring are taken as the north has them; it should be above 0.",
            latitude=latitude,
        )


def _refuse_few(days):
    least = decision.settings().futures.least_years
    if len(days.years) < least:
        record = days.known.record
        raise NotEnoughWeather(
            "{station} has {seasons} seasons of these sowings between {first} and "
            "{last}; it should have at least {least}.",
            station=record.station,
            seasons=len(days.years),
            first=wording.date(record.first),
            last=wording.date(record.last),
            least=least,
        )


def _refuse_barren(made, sort):
    if np.isnan(made.ripe_dates).all():
        raise OutOfRange(
            "Sown on any of these dates, a wheat of class {sort} never ripens in the "
            "weather of {station}; it should be another class or other dates.",
            sort=sort.name,
            station=made.days.known.record.station,
        )


def _month_day(days):
    if not np.isfinite(days):
        return None
    return f"{MARCH + datetime.timedelta(int(days)):%m-%d}"


def _summed(draws):
    """Mean and band of seasons and lucks, by name."""
    return {"mean": short(draws.mean())} | banded(draws.ravel())
