"""Sowings followed as a plain script would: a data frame, and loops over its rows.

The frame has a row a day, by date: ``tmin``, ``tmax``, ``day_length``, ``rain`` and the
stooks' drying ``rate``. Nothing here is shared with the engine but its tables.
"""

import datetime
import itertools
import math

PARTS = [0.5 * (1 + math.cos(math.radians(90 / 8 * (2 * r - 1)))) for r in range(1, 9)]
RIPE_AT = 0.95
MARCH = 3
"""Month from whose first day ripe dates are counted."""


def followed(frame, sown, year, tables):
    """Ripe date in days after 1 March, cutting, fit spell, worth and cold of one crop.

    Parameters
    ----------
    frame : pandas.DataFrame
    sown : datetime.date
    year : int
        Of the harvest.
    tables : sheafwright tables by name: phases, filling, window, losses, fit_week, rule
    """
    new_year = datetime.date(year, 1, 1)
    end = new_year + datetime.timedelta(tables.judging.season_ends - 1)
    judged = new_year + datetime.timedelta(tables.rule.judged_on - 1)
    rows = frame.loc[sown:end]
    ripeness, cold = grown(rows, judged, tables)
    march = datetime.date(year, MARCH, 1)
    ripe = first(ripeness, RIPE_AT)
    found = {"ripe": math.nan, "cut": math.nan, "spell": False, "cold": cold}
    found["worth"] = tables.losses.stook.never_cut
    if ripe is not None:
        found["ripe"] = (rows.index[ripe] - march).days
    for place, in_window in cutting_days(frame, rows.index, ripeness, tables):
        date = rows.index[place]
        share, out = stooked(frame, date, tables.losses)
        through = 0 < out <= tables.fit_week.longest_days
        through &= share >= tables.fit_week.least_share
        found["spell"] |= in_window and through
        if math.isnan(found["cut"]):
            found["cut"] = (date - march).days
            passed = first(ripeness, tables.losses.ripeness.full_to)
            over = 0 if passed is None else max(place - passed, 0)
            found["worth"] = worth(ripeness[place], over, share, tables.losses)
    return found


def first(ripeness, level):
    """Place of the first day at a ripeness; None if on none."""
    return next((n for n, ripe in enumerate(ripeness) if ripe >= level), None)


def cutting_days(frame, dates, ripeness, tables):
    """Places of the days to cut on: all in the binder's window, or the first after."""
    opens = first(ripeness, tables.window.opens_at)
    closes = first(ripeness, tables.window.closes_at)
    last = len(dates) if closes is None else closes + tables.window.closes_after
    cut = False
    for place in range(len(dates) if opens is None else opens, len(dates)):
        if place > last and cut:
            return
        if binder_day(frame, dates[place], tables.losses.ripeness):
            yield place, place <= last
            cut = True


def grown(rows, judged, tables):
    """Ripeness on each day from sowing, 0 before flowering; cold by the judged day."""
    phases, filling = tables.phases, tables.filling
    emerging = vernal = turning = shooting = filled = 0.0
    stage, cold, ripeness = "seed", 0.0, []
    for row in rows.itertuples():
        parts = [row.tmin + share * (row.tmax - row.tmin) for share in PARTS]
        warmth = sum(max(t - phases.base_temperature, 0.0) for t in parts) / 8
        if stage != "seed":
            vernal += sum(chill(t, phases.vernal_temperatures) for t in parts) / 8
        if row.Index == judged:
            cold = vernal
        if stage == "seed":
            emerging += warmth
            stage = "leaf" if emerging >= phases.to_emergence else "seed"
        elif stage == "leaf":
            span = phases.vernal_days_full - phases.vernal_days_base
            ready = between((vernal - phases.vernal_days_base) / span)
            light = lit(row.day_length, phases.leafing_day_length, phases)
            turning += warmth * light * ready
            stage = "stem" if turning >= phases.to_double_ridge else "leaf"
        elif stage == "stem":
            shooting += warmth * lit(row.day_length, phases.stem_day_length, phases)
            stage = "grain" if shooting >= phases.to_flowering else "stem"
        else:
            base = filling.base_temperature
            filled += sum(max(t - base, 0.0) for t in parts) / 8
        ripeness.append(filled / filling.thermal_sum)
    return ripeness, cold


def chill(temperature, cardinals):
    """Share of a vernal day that a temperature gives."""
    none, full, until, over = cardinals
    if temperature < full:
        return between((temperature - none) / (full - none))
    return between((over - temperature) / (over - until))


def lit(day_length, base, phases):
    """Share of full speed that the day length allows."""
    return between((day_length - base) / (phases.full_day_length - base))


def between(share):
    """A share held to 0 and 1."""
    return min(max(share, 0.0), 1.0)


def binder_day(frame, date, table):
    """Whether a binder could go: dry that day, and under 1 mm the day before."""
    today, before = frame.at[date, "rain"], date - datetime.timedelta(1)
    return today < table.cutting_rain and frame.at[before, "rain"] < 1


def worth(ripe, over, share, losses):
    """Worth of a cut, as a share of a perfect crop."""
    table = losses.ripeness
    short = max(table.full_from - ripe, 0)
    late = table.over_ripe_loss * over + table.over_ripe_loss_squared * over**2
    value = 1 - table.under_ripe_loss * short - late
    return max(value * share, losses.stook.floor)


def stooked(frame, date, losses):
    """What stooks cut on a day bring home, and after how many days; -1 for never."""
    stook, drying = losses.stook, losses.drying
    dry, fit = per_dry(drying.equilibrium), per_dry(drying.fit_to_carry)
    moisture, lost = per_dry(drying.at_cutting), 0.0
    last = date + datetime.timedelta(stook.longest_days)
    days = list(frame.loc[date:last].itertuples())
    for out, (before, day) in enumerate(itertools.pairwise(days), 1):
        if day.rain >= drying.wet_day_mm:
            moisture += drying.wet_day_gain_dry_basis
        else:
            rate = day.rate / 2 if before.rain >= drying.soaking_mm else day.rate
            moisture = dry + (moisture - dry) * math.exp(-rate)
        steps = zip(stook.rain_loss_mm, stook.rain_loss_share, strict=True)
        lost += max((loss for least, loss in steps if day.rain >= least), default=0.0)
        lost += stook.late_loss_share * (out > stook.free_days)
        rained = before.rain >= drying.carrying_rain_before_mm
        if moisture <= fit and day.rain < drying.carrying_rain_mm and not rained:
            return max(stook.floor, 1 - lost), out
    return stook.never_carted, -1


def per_dry(wet_basis):
    """Moisture per dry matter."""
    return wet_basis / (1 - wet_basis)
