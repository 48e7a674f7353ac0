"""The comparison of sowings as a piece of work, and its ways of being done."""

import dataclasses
import datetime
from types import SimpleNamespace

import numpy as np
import pandas as pd

from parts import plain_sowings, plain_stands
from parts.case import DEMO, DEMO_PLACE, REAL, REAL_PLACE
from sheafwright.answers import perfect_crop
from sheafwright.answers.known_days import known_weather
from sheafwright.answers.season_past import Variety, variety
from sheafwright.answers.sowing_dates import (
    Compared,
    side_by_side,
    sowings,
)
from sheafwright.answers.sowing_dates_question import SowingsQuestion
from sheafwright.answers.sowing_seasons import SeasonDays, colds, season_days
from sheafwright.answers.sowing_stands import (
    CM_PER_M,
    LUCKS,
    days_after,
    draw_gusts,
    draw_weights,
)
from sheafwright.core.crop import yields as crop_yields
from sheafwright.core.drying.stook import drying_rate
from sheafwright.core.inputs.losses import Losses
from sheafwright.core.weather.day_length import day_length
from sheafwright.feeds import crop, decision, lodging, sowing_dates, yields
from sheafwright.feeds.sowing import SEPTEMBER_ENDS

STATUSES = ("at_risk", "marginal", "safe")


@dataclasses.dataclass(frozen=True)
class Work:
    """What both ways are given."""

    question: SowingsQuestion
    days: SeasonDays
    sort: Variety
    losses: Losses
    made: Compared
    """What the engine makes of it."""

    @property
    def years(self):
        """Harvest years compared."""
        return self.made.crops.days.years


def work(small):
    """Twelve dates and three densities on the real record; few on the demo's."""
    if REAL.exists() and not small:
        place = dict(zip(("latitude", "altitude"), REAL_PLACE, strict=True))
        question = SowingsQuestion(str(REAL), **place)
    else:
        place = dict(zip(("latitude", "altitude"), DEMO_PLACE, strict=True))
        record = str(DEMO / "weather.csv.gz"), ((10, 10), (2, 20)), (100.0,)
        question = SowingsQuestion(*record, str(DEMO / "columns.toml"), **place)
    days = season_days(known_weather(question), question.dates)
    sort, losses = variety(None, *question.dates[0]), decision.losses()
    made = side_by_side(question, days, sort, losses)
    return Work(question, days, sort, losses, made)


def compared(work):
    """One comparison, as the engine makes it, with the standing of each date's cold."""
    made = side_by_side(work.question, work.days, work.sort, work.losses)
    return made, colds(made.crops, work.sort)


def whole(work):
    """The whole answer: the record read, and the doubts tried."""
    return sowings(work.question).to_json()


def check_same(work, few):
    """Refuse to time ways that give different numbers, on a few seasons."""
    crops, hectares = work.made.crops, work.made.hectares
    ripe = crops.ripe_dates
    cut = crops.harvest.cut - crops.days.position(3, 1)
    for season, date, theirs in followed(work, few):
        ours = {
            "ripe": ripe[date, season],
            "cut": cut[date, season],
            "spell": crops.harvest.fit_spell[date, season],
            "worth": crops.harvest.worth[date, season],
            "gbp": work.made.gbp[date, :, season],
        }
        if hectares.lodged is not None:
            ours["lodged"] = hectares.lodged[date, :, season]
        for name, value in ours.items():
            np.testing.assert_allclose(theirs[name], value, 1e-9, err_msg=name)
        only = crops.only(np.arange(len(work.years)) == season)
        status = colds(only, work.sort)[date].status
        assert status == theirs["status"], (status, theirs["status"])


def followed(work, few):
    """The plain script's, crop after crop: (season, date, all that it finds)."""
    frame, tables = _frame(work), _tables(work)
    lucks = _lucks(work)
    for season in few:
        year = int(work.years[season])
        for date, (month, day) in enumerate(work.question.dates):
            sown = datetime.date(year - (month >= 7), month, 1)
            sown += datetime.timedelta(day - 1)
            found = plain_sowings.followed(frame, sown, year, tables)
            found["status"] = _status(found["cold"], sown, tables)
            found |= _hectares(work, season, date, found["worth"], lucks, tables)
            yield season, date, found


def _frame(work):
    known = work.days.known
    weather = known.weather
    columns = {
        "tmin": weather.tmin,
        "tmax": weather.tmax,
        "rain": weather.rain,
        "day_length": day_length(known.latitude, weather.day_of_year),
        "rate": drying_rate(weather.evapotranspiration, work.losses.drying),
    }
    return pd.DataFrame(columns, index=known.record.dates.astype(object))


def _tables(work):
    own = yields.height_class(work.question.ground.height_class)
    seen = yields.height_class(yields.RESPONSE_WHEAT)
    odds = crop_yields.odds(own.harvest_index) / crop_yields.odds(seen.harvest_index)
    return SimpleNamespace(
        phases=work.sort.phases,
        filling=work.sort.filling,
        latest=crop.latest_sowing(work.sort.name),
        losses=work.losses,
        window=crop.cutting_window(),
        fit_week=decision.fit_week(),
        rule=crop.vernalisation_rule(),
        judging=sowing_dates.sowing_rules(),
        nitrogen=yields.part("nitrogen"),
        cutting=yields.part("cutting"),
        stand=yields.part("stand"),
        wheat=SimpleNamespace(odds_ratio=float(odds), height_cm=own.height),
        effects=lodging.effects(),
        lost=sowing_dates.lodged_losses(),
        prices=perfect_crop.yields(),
        seed_price=sowing_dates.seed().gbp_per_t,
    )


def _lucks(work):
    """The engine's own luck as plain numbers, a list over the draws."""
    for_weights, for_gusts = np.random.default_rng(work.question.seed).spawn(2)
    ground, gale = work.question.ground, work.made.gales
    drawn = draw_weights(len(work.years), ground, for_weights)
    weights = [
        {
            "supply": float(supply),
            "dry_matter": float(dry),
            "grain_per_straw": float(ratio),
            "half_full": float(half),
            "straw_level": float(straw),
            "grain_level": float(grain),
            "recovery": float(recovery),
        }
        for supply, dry, ratio, half, straw, grain, recovery in zip(
            drawn.supply, *drawn.luck, *drawn.levels, drawn.recovery, strict=True
        )
    ]
    if gale is None:
        return SimpleNamespace(weights=weights, gusts=None)
    gusts = draw_gusts(gale, ground, for_gusts)
    names = [field.name for field in dataclasses.fields(gusts.mechanics)]
    values = [getattr(gusts.mechanics, name) for name in names]
    shape = np.broadcast_shapes(*map(np.shape, values))
    every = np.stack([np.broadcast_to(value, shape) for value in values], axis=-1)
    stands = [
        [dict(zip(names, patch, strict=True)) for patch in stand]
        for stand in every.tolist()
    ]
    return SimpleNamespace(weights=weights, gusts=gusts, stands=stands)


def _status(cold, sown, tables):
    met = (cold >= tables.phases.vernal_days_full) + (
        cold >= tables.rule.safe_margin * tables.phases.vernal_days_full
    )
    spring = sown.month < 7
    day = datetime.date(2001, sown.month, sown.day).timetuple().tm_yday
    if spring and day > tables.judging.winter_wheat_until > tables.latest:
        met = 0
    elif spring and day > tables.latest:
        met = min(met, 1)
    return STATUSES[met]


def _hectares(work, season, date, worth, lucks, tables):
    """Shares that lie and money, (density, luck)."""
    question = work.question
    after = days_after(SEPTEMBER_ENDS, question.dates)[date]
    half = plain_between(
        after, tables.stand.days_after_september, tables.stand.half_full
    )
    usual = lodging.usual_sowing()
    crop_grown = {
        "height": tables.wheat.height_cm / CM_PER_M,
        "index": question.ground.nitrogen_index,
        "weeks_later": days_after(usual, question.dates)[date] / 7,
    }
    lodged, gbp = [], []
    for density, plants in enumerate(question.densities):
        seed = work.made.hectares.seed[date, density] / 1000 * tables.seed_price
        shares, money = [], []
        for draw in range(season * LUCKS, (season + 1) * LUCKS):
            luck = lucks.weights[draw]
            _, reed, grain = plain_stands.weighed(
                plants, half, luck, tables.wheat, tables
            )
            share = 0.0
            if lucks.gusts is not None:
                share = plain_stands.lodged(
                    _days(work, lucks, season, date, draw),
                    lucks.stands[draw],
                    crop_grown | {"plants": plants},
                    float(lucks.gusts.factor[draw]),
                    tables.effects,
                )
            reed *= (1 - tables.lost.reed_lost * share) * tables.prices.reed_gbp_per_t
            grain *= (
                1 - tables.lost.grain_lost * share
            ) * tables.prices.grain_gbp_per_t
            shares.append(share)
            money.append(worth * (reed + grain) - seed)
        lodged.append(shares)
        gbp.append(money)
    return {"lodged": lodged, "gbp": gbp}


def _days(work, lucks, season, date, draw):
    gale = work.made.gales
    return zip(
        lucks.gusts.gust[draw].tolist(),
        gale.rain[season].tolist(),
        gale.evapotranspiration[season].tolist(),
        gale.standing[date, season].tolist(),
        strict=True,
    )


def plain_between(day, days, values):
    """A value on a day: straight lines between the table's days, held beyond them."""
    if day <= days[0]:
        return values[0]
    for first, last, low, high in zip(days, days[1:], values, values[1:], strict=False):
        if day <= last:
            return low + (high - low) * (day - first) / (last - first)
    return values[-1]
