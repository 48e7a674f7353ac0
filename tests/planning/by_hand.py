"""A cropping plan checked, and the best one found, with none of the model's code.

Everything is worked out again from the tables as they lie on the disk and from lists of
crops by name: no state, no network, no solver but SciPy's for the hours of one plan.
"""

import datetime
import itertools
import tomllib
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

DATA = Path(__file__).parents[2] / "src/sheafwright/data"
CROPS = "autumn_wheat", "late_wheat", "oats", "roots", "ley"
WHEATS = CROPS[:2]
SOLD = *WHEATS, "oats"


TRIALS = 200


def table(name):
    """Section to row to value."""
    said = tomllib.loads((DATA / f"{name}.toml").read_text("utf-8"))
    return {
        section: {row: each["value"] for row, each in rows.items()}
        for section, rows in said.items()
    }


ROTATION, PERFECT = table("rotation"), table("worth")["perfect_crop"]
RULES = ROTATION["rules"]


def last_run(history, names):
    """How many of these stand at the end of a history."""
    return len(list(itertools.takewhile(lambda crop: crop in names, history[::-1])))


def is_ley(crop):
    return crop in ("ley", "grass")


def since_ley(history):
    """The last ley's length, and the crops after it; None where there is none."""
    after = list(itertools.takewhile(lambda crop: not is_ley(crop), history[::-1]))
    if len(after) == len(history):
        return None
    before = history[: len(history) - len(after)]
    return last_run(before, ("ley", "grass")), after


def may_follow(history, crop):
    """Whether the rotation's rules let a crop follow on a list of crops."""
    if crop == "ley":
        return True
    ley, standing = since_ley(history), last_run(history, ("ley", "grass"))
    if 0 < standing < RULES["least_ley"]:
        return False
    if ley is None or len(ley[1]) >= RULES["arable_most"]:
        return False
    return crop not in WHEATS or wheat_may_follow(history, *ley)


def wheat_may_follow(history, length, after):
    """Likewise for wheat, after a ley of some length and what was grown since."""
    running = last_run(history, WHEATS)
    if running >= RULES["wheats_running"]:
        return False
    if not running and any(each in WHEATS for each in history):
        others = {*CROPS, "grass", "beans"} - set(WHEATS)
        if last_run(history, others) < RULES["break_years"]:
            return False
    if len(after) + 1 > RULES["wheat_within"]:
        return False
    return length < RULES["long_ley"] or "roots" in after


def rows_of_crops(field, years):
    """Every row of crops that the rotation allows in a field."""
    found = [[]]
    for _ in years:
        found = [
            [*row, crop]
            for row in found
            for crop in CROPS
            if crop not in field.without and may_follow([*field.history, *row], crop)
        ]
    return found


def sold_as(field, crop, year):
    """0 organic, 1 in conversion, 2 neither."""
    if field.conversion_from is None:
        return 2
    back, month, day = ROTATION[crop]["sown"]
    start = field.conversion_from
    if datetime.date(year - back, month, day) >= start.replace(year=start.year + 2):
        return 0
    cut = datetime.date(year, *ROTATION[crop]["cut"])
    return 1 if cut >= start.replace(year=start.year + 1) else 2


def hectare(field, row, place, year):
    """Straw and all other worth of a hectare, by kind of season. [t ha⁻¹, GBP ha⁻¹]"""
    crop, ground = row[place], ROTATION["ground"]
    said, past = ROTATION[crop], [*field.history, *row[:place]]
    share = np.array(said["yield_by_season"])
    wages = sum(said["work_h_per_ha"]) * ROTATION["hands"]["gbp_per_h"]
    straw, brought = 0 * share, share * said.get("keep_gbp_per_ha", 0)
    if crop in WHEATS:
        harvest = len(since_ley(past)[1])
        crop_of = said["share_of_perfect"]
        crop_of *= ground["yield_by_harvest"][min(harvest, 2)]
        crop_of *= 1 - ground["lodged_by_harvest"][min(harvest, 2)]
        crop_of *= ground["second_wheat"] if past[-1] in WHEATS else 1
        straw = crop_of * PERFECT["reed_t_per_ha"] * share
        grain = crop_of * PERFECT["grain_t_per_ha"]
    else:
        grain = said.get("grain_t_per_ha", 0)
    if crop in SOLD:
        price = said["grain_gbp_per_t"][sold_as(field, crop, year)]
        brought = brought + share * grain * price
    cost = said["cost_gbp_per_ha"] + wages
    if crop == "ley" and not (past and is_ley(past[-1])):
        cost += ground["sow_ley_gbp_per_ha"]
    return straw, brought - cost


def left(field, row):
    """Worth of the ley that stands at the end. [GBP ha⁻¹]"""
    stood = (
        last_run([*field.history, *row], ("ley", "grass")) if row[-1] == "ley" else 0
    )
    each = ROTATION["ground"]["ley_left_gbp_per_ha"]
    return min(stood, RULES["least_ley"]) * each


def sales(straw, buyers):
    """What the straw brings, by arrays. [GBP]"""
    brought = 0 * straw
    every = [(1e12, PERFECT["reed_gbp_per_t"])]
    for most, price in sorted(buyers, key=lambda each: -each[1]) or every:
        sold = np.minimum(straw, most)
        brought, straw = brought + sold * price, straw - sold
    return brought + straw * ROTATION["straw"]["surplus_gbp_per_t"]


def less_risk(worths, caution):
    """Mean and worst quarter of seasons, the seasons being the last axis."""
    chance = np.array(ROTATION["seasons"]["chance"])
    order = np.argsort(worths, axis=-1)
    by_worst = np.take_along_axis(worths, order, axis=-1)
    up_to = np.cumsum(chance[order], axis=-1)
    worst = ROTATION["seasons"]["worst_share"]
    taken = np.diff(np.minimum(up_to, worst), axis=-1, prepend=0)
    return (1 - caution) * worths @ chance + caution * (by_worst * taken).sum(
        -1
    ) / worst


def scores(question, choices):
    """Score of every combination of the fields' rows, before any seed plot.

    Parameters
    ----------
    question : CroppingQuestion
    choices : list of list of list of str
        By field: rows of crops.
    """
    years = range(question.first_year, question.first_year + question.years)
    fields = [field for field in question.fields if not field.keep_in_grass]
    straw = money = end = 0
    for axis, (field, rows) in enumerate(zip(fields, choices, strict=True)):
        both = np.array(
            [[hectare(field, row, n, y) for n, y in enumerate(years)] for row in rows]
        )
        shape = [1] * len(fields)
        shape[axis] = len(rows)
        both = field.area_ha * both.reshape(*shape, *both.shape[1:])
        straw, money = straw + both[..., 0, :], money + both[..., 1, :]
        lefts = [field.area_ha * left(field, row) for row in rows]
        end = end + np.array(lefts).reshape(shape)
    worths = money + sales(straw, question.buyers)
    caution = question.values.get("seasons", {}).get(
        "caution", ROTATION["seasons"]["caution"]
    )
    return less_risk(worths, caution).sum(-1) + end


def broken(question, plan):
    """What a plan breaks, in words; nothing where it keeps every rule.

    Parameters
    ----------
    question : CroppingQuestion
    plan : dict of str to list of str
        Field to its crops.
    """
    yield from misfits(question, plan)
    if plots(question, plan) is None:
        yield "hours, binder or seed do not suffice"


def misfits(question, plan):
    """What a plan breaks besides the limits of hours, binder and seed."""
    years = range(question.first_year, question.first_year + question.years)
    fields = {f.name: f for f in question.fields if not f.keep_in_grass}
    if plan.keys() != fields.keys():
        yield "another set of fields"
    yield from _misgrown(plan, fields, years)
    for pin in question.pins:
        if plan[pin.field][years.index(pin.year)] != pin.crop:
            yield f"{pin} is not kept"
    yield from _orders(question, plan, fields, years)
    yield from _mixed(question, plan, fields, years)


def _misgrown(plan, fields, years):
    for name, row in plan.items():
        past = list(fields[name].history)
        for year, crop in zip(years, row, strict=True):
            if not may_follow(past, crop):
                yield f"{name} {year} {crop} breaks the rotation"
            if crop in fields[name].without:
                yield f"{name} {year} {crop} was not to grow there"
            past.append(crop)


def _orders(question, plan, fields, years):
    for wanted in question.wanted:
        place, area = years.index(wanted.year), 0
        for name, row in plan.items():
            crop, field = row[place], fields[name]
            kind = {"oats": "corn"}.get(crop, "wheat" if crop in WHEATS else crop)
            if wanted.crop not in (crop, kind):
                continue
            if wanted.organic and sold_as(field, crop, wanted.year):
                continue
            area += field.area_ha
        if not wanted.least_ha - 1e-6 <= area <= wanted.most_ha + 1e-6:
            yield f"{area:g} ha of {wanted}"


def _mixed(question, plan, fields, years):
    for place, year in enumerate(years):
        seen = {}
        for name, row in plan.items():
            if variety := question.varieties.get(row[place]):
                organic = sold_as(fields[name], row[place], year) == 0
                seen.setdefault(variety, set()).add(organic)
        if any(len(each) > 1 for each in seen.values()):
            yield f"one variety both organic and not in {year}"


def plots(question, plan):
    """Hectares of seed plot by year at the least, or None where it can't be done.

    One linear program: work by week within the hours and the binder's days, and seed
    from one plot to the next.
    """
    n_years, columns = question.years, question.years
    areas, firsts = _areas(question, plan)
    equal, hours, binder = [], {}, {}
    for place, number in itertools.product(range(n_years), range(len(CROPS))):
        for weeks, each, by_binder in _works(ROTATION[CROPS[number]], place):
            here = dict(zip(weeks, itertools.count(columns), strict=False))
            columns += len(here)
            equal.append((dict.fromkeys(here.values(), 1), areas[place, number]))
            for week, column in here.items():
                hours.setdefault(week, {})[column] = each
                binder.setdefault(week, {})[column] = by_binder
    most = [(row, _hours(question, week)) for week, row in hours.items()]
    hands = ROTATION["hands"]
    cut = hands["binder_ha_per_day"] * hands["cutting_days_per_week"] * question.binders
    most += [(row, cut) for row in binder.values()]
    most += [({place: 1}, firsts[place]) for place in range(n_years)]
    if question.increase:
        most += list(_seed(question.increase, n_years, question.first_year))
    found = linprog(
        [1] * n_years + [0] * (columns - n_years),
        *_matrix(most, columns),
        *_matrix(equal, columns),
        bounds=(0, None),
    )
    return found.x[:n_years] if found.success else None


def _areas(question, plan):
    """Hectares by year and crop, and of first wheats by year."""
    areas, firsts = np.zeros((question.years, len(CROPS))), np.zeros(question.years)
    for field in question.fields:
        past = list(field.history)
        for place, crop in enumerate(plan.get(field.name, ())):
            areas[place, CROPS.index(crop)] += field.area_ha
            if crop in WHEATS and not (past and past[-1] in WHEATS):
                firsts[place] += field.area_ha
            past.append(crop)
    return areas, firsts


def _works(said, place):
    """Weeks, hours and whether the binder does it, of each work of a crop."""
    rows = "work_first_week", "work_last_week", "work_h_per_ha", "work_by_binder"
    for begin, end, hours, by_binder in zip(*(said[r] for r in rows), strict=True):
        yield range(52 * place + begin, 52 * place + end + 1), hours, by_binder


def _seed(increase, n_years, first):
    """Seed sown of each plot is no more than is left of the plots before."""
    sown = ROTATION["seed_plot"]["sown_kg_per_ha"]
    kept = ROTATION["seed_plot"]["kept_kg_per_ha"]
    for place in range(n_years):
        row = dict.fromkeys(range(place), sown - kept) | {place: sown}
        yield row, increase.seed_kg
        if first + place == increase.year:
            yield {place: -1}, -increase.wanted_ha


def _hours(question, week):
    of_year, hours = (week - 1) % 52 + 1, question.hours_a_week
    for busy in question.busy:
        if busy.first_week <= of_year <= busy.last_week:
            hours = busy.hours_a_week
    return hours


def _matrix(rows, columns):
    left, right = np.zeros((len(rows), columns)), np.array([right for _, right in rows])
    for number, (row, _) in enumerate(rows):
        left[number, list(row)] = list(row.values())
    return left, right


def best(question, most):
    """The best score of all plans, by trying every one; -inf where none is possible.

    None where that would mean more combinations of rows than `most`, or a linear
    program for more than `TRIALS` of them.
    """
    years = range(question.first_year, question.first_year + question.years)
    fields = [field for field in question.fields if not field.keep_in_grass]
    pins = {(pin.field, pin.year): pin.crop for pin in question.pins}
    choices = [
        [
            row
            for row in rows_of_crops(field, years)
            if all(
                pins.get((field.name, year), crop) == crop
                for year, crop in zip(years, row, strict=True)
            )
        ]
        for field in fields
    ]
    if np.prod([len(rows) for rows in choices]) > most:
        return None
    if not all(choices):
        return -np.inf
    found, bounds, trials = -np.inf, scores(question, choices), 0
    for place in np.argsort(-bounds, axis=None):
        where = np.unravel_index(place, bounds.shape)
        if bounds[where] <= found:
            break
        plan = {
            field.name: rows[n]
            for field, rows, n in zip(fields, choices, where, strict=True)
        }
        if any(misfits(question, plan)):
            continue
        trials += 1
        if trials > TRIALS:
            return None
        if (there := plots(question, plan)) is not None:
            cost = there.sum() * ROTATION["seed_plot"]["cost_gbp_per_ha"]
            found = max(found, bounds[where] - cost)
    return found
