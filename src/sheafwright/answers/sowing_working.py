"""What is said of sowings set side by side, and how it was worked out."""

import itertools

from sheafwright.answers import perfect_crop, wording
from sheafwright.answers import sowing_wording as words
from sheafwright.answers.expected_yield import HEIGHT_CLASSES, response_steps
from sheafwright.answers.lodging_working import (
    SOILS,
    husbandry_steps,
    mechanics_steps,
)
from sheafwright.answers.season_past import RIPE_AT
from sheafwright.answers.season_working import (
    development_steps,
    fit_spell_step,
    losses_steps,
)
from sheafwright.answers.working import (
    GIVEN,
    MEASURED,
    THE_RECORD,
    YOU,
    Step,
    step_from_rows,
)
from sheafwright.feeds import outturns, sowing_dates
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, say

FEW_DAYS, FEW_LODGED = 3, 0.02
"""Smaller differences are not spoken of. [d], [0–1]"""


def sentences(answer):
    """The answer, one sentence after another.

    Parameters
    ----------
    answer : sheafwright.answers.sowing_dates.SowingDates
    """
    best, n_seasons = answer.best, answer.n_seasons
    gbp = float(answer.compared.gbp[best].mean())
    years = answer.compared.crops.days.years
    yield words.best(answer.spoken(best), gbp, n_seasons, years[0], years[-1])
    yield from _gains(answer)
    yield from _cold(answer)
    costs = list(_given_up(answer))
    if costs:
        yield words.given_up(costs)
    else:
        yield words.fit_week(answer.fit_spells[best.date], n_seasons)
    if answer.lodged is None:
        yield say(words.NO_GUSTS)
    if answer.gain_over_date:
        yield _unsettled(answer)
    yield say(words.GROUND)


def _gains(answer):
    over_date, over_density = answer.gain_over_date, answer.gain_over_density
    if over_date:
        spoken = answer.spoken(over_date.over)
        dates = [answer.question.dates[date] for date in answer.as_good]
        yield words.over_date(spoken, over_date, answer.n_seasons, dates)
    if over_density and answer.lodged is not None:
        _, plants = answer.spoken(over_density.over)
        yield words.over_density(plants, over_density, answer.n_seasons)


def _cold(answer):
    cold, dates = answer.colds[answer.best.date], answer.question.dates
    if cold.status != "safe":
        yield words.none_safe(cold.status)
        yield wording.cold(cold.status, cold.chance, cold.uneven)
    if left := list(itertools.compress(dates, ~answer.in_choice)):
        yield words.out_of_choice(left)


def _given_up(answer):
    """What other sowings of the choice do better, in words."""
    best, dates = answer.best, answer.question.dates
    chosen = answer.in_choice.nonzero()[0]
    spells, likely = answer.fit_spells, answer.ripe_days[:, 1]
    most = max(chosen, key=lambda date: spells[date])
    if spells[most] > spells[best.date]:
        yield words.fewer_spells(
            spells[best.date], spells[most], dates[most], answer.n_seasons
        )
    soonest = min(chosen, key=lambda date: likely[date])
    later = likely[best.date] - likely[soonest]
    if FEW_DAYS <= later < float("inf"):
        yield words.ripe_later(int(later), dates[soonest])
    if answer.lodged is not None:
        pairs = itertools.product(chosen, range(answer.lodged.shape[1]))
        least = min(pairs, key=lambda pair: answer.lodged[pair])
        if answer.lodged[best] - answer.lodged[least] >= FEW_LODGED:
            spoken = answer.spoken(best._make(least))
            yield words.lodges_more(answer.lodged[best], answer.lodged[least], spoken)


def _unsettled(answer):
    changing = [
        name for name, best in answer.best_if.items() if best.date != answer.best.date
    ]
    dates = dict.fromkeys(answer.best_if[name].date for name in changing)
    sown = [answer.question.dates[date] for date in sorted(dates)]
    lost = sowing_dates.lost_per_week_later()
    return words.unsettled(changing, len(answer.best_if), sown, lost)


def sowing_steps(answer):
    """Every `Step`, in the order that they were taken.

    Parameters
    ----------
    answer : sheafwright.answers.sowing_dates.SowingDates
    """
    clear = _judging()["clear_from"]
    return (
        *answer.compared.crops.days.known.steps,
        answer.variety.step,
        *_ground(answer.question.ground),
        *development_steps(),
        _latest(),
        _harvested(),
        *losses_steps(answer.question.losses, answer.losses),
        fit_spell_step(),
        *_stood(answer),
        *response_steps(),
        *_worth(),
        step_from_rows(words.paired(clear.value), clear),
        step_from_rows(
            words.NOT_COUNTED,
            shipped("sowing_dates")["unsettled"]["lost_per_week_later"],
        ),
    )


def telling_steps(answer):
    """The few on which the choice turns.

    Parameters
    ----------
    answer : as in `sowing_steps`
    """
    *_, paired, not_counted = sowing_steps(answer)
    gusts, *stood = _stood(answer)
    return _harvested(), gusts, *stood[-1:], paired, not_counted


def _ground(ground):
    says = say(
        "A wheat of the class {height_class} on {soil} of nitrogen index {index}, as "
        "given or usual.",
        height_class=say(HEIGHT_CLASSES[ground.height_class]),
        soil=say(SOILS[ground.soil]),
        index=ground.nitrogen_index,
    )
    yield Step(says, YOU, GIVEN)
    rows = shipped("nitrogen")["bands"]
    yield step_from_rows(
        mark("An index stands for a range of nitrogen; any supply in it is as likely."),
        *rows.values(),
    )


def _latest():
    rows = shipped("vernalisation")["latest_sowing"]
    until = _judging()["winter_wheat_until"]
    return step_from_rows(words.latest(until.value), *rows.values(), until)


def _harvested():
    ends = _judging()["season_ends"]
    return step_from_rows(words.harvested(ends.value, RIPE_AT), ends)


def _judging():
    return shipped("sowing_dates")["judging"]


def _stood(answer):
    gale = answer.compared.gales
    if gale is None:
        yield Step(words.NO_GUSTS, THE_RECORD, MEASURED)
        return
    yield gale.step
    yield from mechanics_steps(answer.question.ground.soil)
    yield from husbandry_steps()
    lost = shipped("sowing_dates")["lodged"]
    says = joined(
        say(
            "Where a crop lies, {reed:.0%} of its reed and {grain:.0%} of its grain "
            "are lost.",
            reed=lost["reed_lost"].value,
            grain=lost["grain_lost"].value,
        ),
        say(
            "What it bears is assumed: trust the comparison more than the share that "
            "lies."
        ),
    )
    yield step_from_rows(says, *lost.values())


def _worth():
    seed = shipped("sowing_dates")["seed"]
    grain, price = (row.value for row in seed.values())
    yield step_from_rows(
        say(
            "Seed of {grain:g} g a thousand at £{price:.0f} a tonne is taken off; the "
            "later it is sown, the less of it comes up.",
            grain=grain,
            price=price,
        ),
        *seed.values(),
        *shipped("sowing")["established_by_date"].values(),
    )
    yield step_from_rows(
        mark("The drum makes reed of part of the sheaves' straw."),
        *outturns.usual_rows(combed=True).values(),
    )
    prices = perfect_crop.yields()
    rows = perfect_crop.yield_rows()
    yield step_from_rows(
        say(
            "Reed brings £{reed:.0f} a tonne and grain £{grain:.0f}, of which the "
            "harvest leaves its share.",
            reed=prices.reed_gbp_per_t,
            grain=prices.grain_gbp_per_t,
        ),
        rows["reed_gbp_per_t"],
        rows["grain_gbp_per_t"],
    )
