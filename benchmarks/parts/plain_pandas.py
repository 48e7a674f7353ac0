"""A plain script, as a handy nephew would write it: data frames and loops over rows."""

import math

import pandas as pd


def valued(case):
    """Paths of the case, and the worth of each cutting day: two lists of lists."""
    day_of_year, half_window = case.days.calendar
    record = pd.DataFrame({"rain": case.rain, "rate": case.rate, "gain": case.gain})
    record["usable"] = case.days.usable
    record["next_usable"] = record.usable.shift(-1, fill_value=False)
    record["next_day_of_year"] = pd.Series(day_of_year).shift(-1, fill_value=0)
    paths = []
    for start, luck in zip(case.start, case.luck, strict=True):
        dates = day_of_year[start] + 1 + pd.RangeIndex(len(luck))
        days = [int(start)]
        for number, date in zip(luck, dates, strict=True):
            alike = record.iloc[case.days.nearest[days[-1]]]
            days.append(next_day(alike, case.n_near, date, half_window, number))
        paths.append(days)
    return paths, [worths(record.iloc[days], case) for days in paths]


def next_day(alike, n_near, date, half_window, number):
    """The day after one of the days alike, chosen by a number from 0 to 1."""
    alike = alike[alike.usable & alike.next_usable].head(n_near)
    ranks = pd.Series(range(1, n_near + 1), dtype=float)
    nearness = (1 / ranks) / (1 / ranks).sum()
    weight = pd.Series(nearness.head(len(alike)).to_numpy(), index=alike.index)
    apart = (alike.next_day_of_year - date).abs()
    weight[(apart > half_window) & (apart < 366 - half_window)] *= 1e-12
    passed = weight.cumsum()
    place = (passed < number * passed.iloc[-1]).sum()
    return int(alike.index[place]) + 1


def worths(summer, case):
    """Worth of cutting on each day of a summer, a list."""
    table, stook = case.losses.ripeness, case.losses.stook
    ripeness, over, found = case.ripeness, -1, []
    for cutting in range(case.n_cuts):
        if cutting:
            ripeness += summer.gain.iloc[cutting]
        over += ripeness >= table.full_to
        late = max(over, 0)
        short = max(table.full_from - ripeness, 0)
        loss = table.over_ripe_loss * late + table.over_ripe_loss_squared * late**2
        ripe = 1 - table.under_ripe_loss * short - loss
        share = stook_share(summer.iloc[cutting:], case.losses)
        found.append(max(ripe * share, stook.floor))
    return found


def stook_share(rows, losses):
    """What stooks cut on the first of the rows bring home."""
    stook, drying = losses.stook, losses.drying
    dry, fit = per_dry(drying.equilibrium), per_dry(drying.fit_to_carry)
    moisture, lost, before = per_dry(drying.at_cutting), 0.0, None
    for out, day in enumerate(rows.head(stook.longest_days + 1).itertuples()):
        if before is not None:
            if day.rain >= drying.wet_day_mm:
                moisture += drying.wet_day_gain_dry_basis
            else:
                rate = day.rate / 2 if before >= drying.soaking_mm else day.rate
                moisture = dry + (moisture - dry) * math.exp(-rate)
            for least, share in zip(
                reversed(stook.rain_loss_mm),
                reversed(stook.rain_loss_share),
                strict=True,
            ):
                if day.rain >= least:
                    lost += share
                    break
            if out > stook.free_days:
                lost += stook.late_loss_share
            no_water = (
                day.rain < drying.carrying_rain_mm
                and before < drying.carrying_rain_before_mm
            )
            if moisture <= fit and no_water:
                return max(stook.floor, 1 - lost)
        before = day.rain
    return stook.never_carted


def per_dry(wet_basis):
    """Moisture per dry matter."""
    return wet_basis / (1 - wet_basis)
