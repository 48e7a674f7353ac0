"""Every sentence that the grower reads about a season.

Chances are spoken in tenths, summers are possible summers, and a sentence carries its
odds. No number is made here, only said.
"""

import datetime

from sheafwright.feeds.telling import (
    capital,
    dated,
    joined,
    listed,
    mark,
    measured,
    say,
    say_n,
)

DAY_AND_MONTH = mark("{day} {month}")
NO_FORECAST = mark(
    "No forecast given: the days ahead are drawn from past summers alone."
)
VALUED = mark(
    "Waiting is worth what this same advice, followed from tomorrow, would make of "
    "each possible summer; cutting is advised where that is no more than today's worth."
)
STAGE_NAMES = {
    "emergence": mark("up"),
    "first_node": mark("first node"),
    "flag_leaf": mark("flag leaf out"),
    "ear_out": mark("ear out"),
    "flowering": mark("flowering"),
    "watery_ripe": mark("grain watery ripe"),
    "milk": mark("milk"),
    "early_dough": mark("early dough"),
    "soft_dough": mark("soft dough"),
    "hard_dough": mark("hard dough"),
}
CHANGES = {
    "losses_halve": mark("halving the assumed losses"),
    "losses_double": mark("doubling the assumed losses"),
    "drying_halves": mark("halving the drying rate"),
    "drying_doubles": mark("doubling the drying rate"),
}
SIGNS = {
    "grain": mark("grain"),
    "below_ear": mark("below ear"),
    "nodes": mark("nodes"),
}
LEVELS = mark("thumbnail dent"), mark("hard"), mark("green"), mark("yellow")
"""Of signs, beside those that are stages, too."""
STRAW = mark("straw")
MOST_NAMED = 5
SURPRISE = mark(
    "Few possible crops come near what was seen: read it again before believing this."
)


def odds(chance):
    """A chance in words."""
    if chance < 0.05:
        return say("less than 1 chance in 20")
    if chance > 0.95:
        return say("more than 19 chances in 20")
    return say_n("{n} chance in 10", "{n} chances in 10", round(10 * chance))


def date(day):
    """A date with its year: 7 August 2025."""
    return dated(mark("{day} {month} {year}"), day)


def weekday(day):
    """A date of these weeks: Thursday 7 August."""
    return dated(mark("{weekday} {day} {month}"), day)


def near_date(day):
    """A date of this season: 7 August; never, where there is none."""
    return dated(DAY_AND_MONTH, day) if day else say("never this year")


def month_day(pair):
    """A month and a day of any year: 10 October."""
    # Any leap year has every day that there is.
    return dated(DAY_AND_MONTH, datetime.date(2000, *pair))


def harvests(number):
    """A number of harvests."""
    return say_n("{n} harvest", "{n} harvests", number)


# What to do today.


def cut(day, through, worths, waiting_wins, perfect=None):
    """To cut."""
    says = say(
        "Cut on {day}: {odds} that the stooks come through a fit spell.",
        day=weekday(day),
        odds=odds(through),
    )
    return joined(says, weighed(*worths, waiting_wins, perfect))


def wait(day, worths, waiting_wins, best, perfect=None):
    """To wait."""
    return joined(
        say("Wait on {day}.", day=weekday(day)),
        weighed(*worths, waiting_wins, perfect),
        best and say("The day to aim for is {day}.", day=weekday(best)),
    )


def weighed(now, waiting, waiting_wins, perfect=None):
    """Cutting set against waiting: in money and tonnes, if the field's area is known.

    Parameters
    ----------
    perfect : sheafwright.answers.perfect_crop.PerfectCrop, optional
    """
    wins = say("{odds} that waiting brings more", odds=odds(waiting_wins))
    return say(
        "{brings}; {wins}.",
        brings=_brings(now, waiting, perfect) if perfect else _keeps(now, waiting),
        wins=wins,
    )


def _keeps(now, waiting):
    if f"{now:.0%}" == f"{waiting:.0%}":
        return say("Now or later, {now:.0%} of a perfect crop may be expected", now=now)
    return say(
        "Cut now, {now:.0%} of a perfect crop may be expected, and {waiting:.0%} with "
        "waiting",
        now=now,
        waiting=waiting,
    )


def _brings(now, waiting, perfect):
    first, then = (f"£{round(each * perfect.gbp, -1):,.0f}" for each in (now, waiting))
    tonnes = say(
        "as {reed} of sound reed and {grain} of grain do",
        reed=measured(now * perfect.reed_t, "t", ".1f"),
        grain=measured(now * perfect.grain_t, "t", ".1f"),
    )
    if first == then:
        return say(
            "Now or later it may bring {money}, {tonnes}", money=first, tonnes=tonnes
        )
    return say(
        "Cut now it may bring {money}, {tonnes}, and with waiting {then}",
        money=first,
        tonnes=tonnes,
        then=then,
    )


def too_green(day, soft_dough):
    """Not fit to cut: the crop is too green."""
    early, middle, late = soft_dough
    if middle is None:
        return say(
            "Not fit to cut on {day}: too green, and it is likelier than not that soft "
            "dough never comes this year.",
            day=weekday(day),
        )
    return joined(
        say("Not fit to cut on {day}: too green.", day=weekday(day)),
        say(
            "Soft dough, when a binder may begin, should come about {middle}; {odds} "
            "that it comes between {early} and {late}.",
            middle=near_date(middle),
            odds=odds(0.8),
            early=near_date(early),
            late=near_date(late),
        ),
    )


def too_wet(day, rain, dry_day, dry_chance):
    """Not fit to cut: it rained."""
    return joined(
        say(
            "Not fit to cut on {day}: {rain} of rain fell.",
            day=weekday(day),
            rain=measured(rain, "mm", ".1f"),
        ),
        dry_day
        and say(
            "{day} should be dry enough, by {odds}.",
            day=weekday(dry_day),
            odds=odds(dry_chance),
        ),
    )


def too_late(day):
    """Nothing is left to cut for."""
    return say(
        "Too late on {day}: by these losses the crop has stood until it is worth no "
        "more cut for straw than left.",
        day=weekday(day),
    )


def doubts(holds):
    """Whether other losses or another drying rate would change the advice."""
    changing = [say(says) for name, says in CHANGES.items() if not holds[name]]
    if changing:
        changes = capital(listed(changing, "or"))
        return say("{changes} would change this advice.", changes=changes)
    return say(
        "Neither halving nor doubling the assumed losses, or the drying rate, would "
        "change this advice."
    )


CAUTION = mark(
    "Guards on binder and shaft before it runs, stop it before you clear it, and never "
    "work it alone. Local rules and trained people come first."
)


# The whole season.


def fit_week(chance):
    """Whether a fit week may be hoped for."""
    return say(
        "{odds} that a fit spell for the stooks begins while the crop is fit to bind.",
        odds=capital(odds(chance)),
    )


def season(stages):
    """When the next stages come; ``stages`` maps each to its three dates."""
    come = [
        say(
            "{stage} about {date}", stage=say(STAGE_NAMES[name]), date=near_date(likely)
        )
        for name, (_, likely, _) in stages.items()
    ]
    early, _, late = list(stages.values())[-1]
    come = capital(listed(come))
    if early is None:
        return say("{stages_come}.", stages_come=come)
    return say(
        "{stages_come}; {odds} that {last} comes {ends}.",
        stages_come=come,
        odds=odds(0.8),
        last=say(STAGE_NAMES[list(stages)[-1]]),
        ends=_between(early, late),
    )


def _between(early, late):
    if late is None:
        return say("after {early}", early=near_date(early))
    return say(
        "between {early} and {late}", early=near_date(early), late=near_date(late)
    )


def cold(status, chance_met, uneven):
    """A crop that may not have the cold it needs."""
    if status == "at_risk":
        says = say(
            "{odds} that it never has the cold it needs",
            odds=capital(odds(1 - chance_met)),
        )
    else:
        says = say(
            "Its cold is marginal: {odds} that it has what it needs",
            odds=odds(chance_met),
        )
    if uneven < 0.05:
        return say("{says}.", says=says)
    return say(
        "{says}, and {odds} that it comes to ear unevenly.",
        says=says,
        odds=odds(uneven),
    )


# The stooks.


def cart_now(day, field, chance):
    """Fit to cart."""
    return say(
        "{cart} now: {odds} that it is fit on {day}.",
        cart=_cart(field),
        odds=odds(chance),
        day=weekday(day),
    )


def cart_from(day, field, chance):
    """Fit to cart by a day ahead."""
    return say(
        "{cart} from {day}: {odds} it is fit by then.",
        cart=_cart(field),
        odds=odds(chance),
        day=weekday(day),
    )


def _cart(field):
    return say("Cart {field}", field=field) if field else say("Cart")


def cart_not_in_sight(last, field, chance):
    """No day ahead by which it is likely fit."""
    carting = say("carting {field}", field=field) if field else say("carting")
    return say(
        "Don't count on {carting} by {day}: {odds} it is fit by then.",
        carting=carting,
        odds=odds(chance),
        day=weekday(last),
    )


def moisture_now(likely, limits):
    """How damp grain and straw are; both map each to a moisture."""
    near = [
        say("{what} near {moisture:.0%}", what=say(name), moisture=each)
        for name, each in likely.items()
    ]
    return say(
        "{near} should be what a meter finds; they may be carried at {limits}.",
        near=capital(listed(near)),
        limits=listed([f"{100 * each:g}%" for each in limits.values()]),
    )


def drying_doubts(answer, halved, doubled, last):
    """Whether another drying rate would change the day; None is none up to the last."""
    if answer == halved == doubled:
        return say(
            "Neither halving nor doubling the assumed drying rate would change this."
        )
    slower, faster = (
        say("on {day}", day=weekday(day))
        if day
        else say("after {day}", day=weekday(last))
        for day in (halved, doubled)
    )
    return say(
        "With half the assumed drying rate the day would fall {slower}, with double "
        "{faster}.",
        slower=slower,
        faster=faster,
    )


CARTING_CAUTION = mark(
    "Straw stacked damp heats and can burn: feel into the heart of several sheaves, "
    "at the band, before the first load. Falls from loads and ricks kill; nobody works "
    "up there alone. Local rules and trained people come first."
)


# The advice replayed.


def replayed(station, n_seasons, advice, rule_name, rule, foresight):
    """What advice, the best plain rule and foresight made of past seasons."""
    over = say(
        "Over {seasons} seasons at {station} this advice",
        seasons=n_seasons,
        station=station,
    )
    if advice.worth.mean() <= rule.worth.mean():
        over = say("{over} was no better than a plain rule. It", over=over)
    return joined(
        say(
            "{over} would have kept {advice:.0%} of a perfect crop, the best plain "
            "rule ({rule_name}) {rule:.0%}, perfect foresight {foresight:.0%}.",
            over=over,
            advice=advice.worth.mean(),
            rule_name=say(RULE_NAMES[rule_name]),
            rule=rule.worth.mean(),
            foresight=foresight.worth.mean(),
        ),
        say(
            "Crops spoiled: {advice} by this advice, {rule} by the plain rule, "
            "{foresight} even with foresight.",
            advice=advice.spoiled,
            rule=rule.spoiled,
            foresight=foresight.spoiled,
        ),
    )


RULE_NAMES = {
    "fixed_date": mark("fixed date"),
    "first_fit_day": mark("first fit day"),
    "wait_for_dry_days": mark("wait for dry days"),
    "ripeness_sign": mark("ripeness sign"),
}
PLAIN_RULES = {
    "fixed_date": mark("cutting on the same date every year"),
    "first_fit_day": mark("cutting on the first day that is fit"),
    "wait_for_dry_days": mark("waiting for some dry days together"),
    "ripeness_sign": mark("cutting as soon as the crop shows that it is ripe"),
}


def spoiled_below(share, rule):
    """What is called spoiled, and which plain rule is meant."""
    return joined(
        say(
            "A crop is spoiled that brings less than {share:.0%} of what a perfect one "
            "does.",
            share=share,
        ),
        say("The plain rule that did best is {rule}.", rule=say(PLAIN_RULES[rule])),
    )


def sown_every_year(month, day):
    """What was replayed."""
    return say("Sown on {day} in every year.", day=month_day((month, day)))


LEFT_OUT = mark(
    "Each season is judged with its own harvest year and one on each side left out of "
    "all that the advice learned from and that the plain rules were set by."
)
REPLAYED_WITHOUT_FORECASTS = mark("No forecasts: each day knows its season so far.")


def modelled_forecasts(skill):
    """Forecasts made from what then came."""
    return say(
        "Forecasts are made from what then came, as good as real ones: of the error of "
        "a chance said from past years alone they save, by day ahead, {days}.",
        days=joined(*(f"{each:.2f}" for each in skill), by=", "),
    )


# How it was worked out.


def record(station, first, last, asked):
    """The weather record."""
    says = say(
        "Weather of {station} from {first} to {last}",
        station=station,
        first=date(first),
        last=date(last),
    )
    if asked and asked != last:
        says = say(
            "{says}, the last day on record before {asked}",
            says=says,
            asked=date(asked),
        )
    return say("{says}; nothing after it is looked at.", says=says)


def altitude_assumed(altitude):
    """Height above the sea was not given."""
    return say(
        "Height above the sea not given, so {altitude} taken.",
        altitude=measured(altitude, "m"),
    )


def station_and_field(days, rain_ratio, rain_sd, warmth, warmth_sd):
    """How the field differs from its station, and how sure that is."""
    known = say("No readings of your own")
    if days:
        known = say("{days} days of your own readings", days=days)
    return joined(
        say("The station is not the field."),
        say(
            "{known}: the field's rain is taken as {ratio:.2f} times the station's "
            "(likely {low:.2f} to {high:.2f}), its days {warmth:+.1f} °C (give or take "
            "{warmth_sd:.1f}).",
            known=known,
            ratio=rain_ratio,
            low=rain_ratio * 2.718 ** (-rain_sd),
            high=rain_ratio * 2.718**rain_sd,
            warmth=warmth,
            warmth_sd=warmth_sd,
        ),
    )


def to_flowering(emergence, double_ridge, flowering, base):
    """The book's sums of warmth up to flowering."""
    return joined(
        say(
            "Up after {emergence:g} °C d above {base:g} °C, in flower after "
            "{flowering:g} °C d more, slowed by short days and by want of cold.",
            emergence=emergence,
            base=base,
            flowering=double_ridge + flowering,
        ),
        say("The dates only say when to walk."),
    )


def second_opinion(flowering, hard, *, same, parts):
    """What another scheme says of both, each as the first and the second have it."""
    (flower, other_flower), (dough, other_dough) = flowering, hard
    said = {"flowering": near_date(other_flower), "hard": near_date(other_dough)}
    if same:
        return say(
            "A second scheme, of smooth curves in place of sums, says much the same: "
            "in flower about {flowering}, hard about {hard}.",
            **said,
        )
    return joined(
        say(
            "A second scheme, of smooth curves in place of sums, has it in flower "
            "about {flowering} and hard about {hard}; the first says "
            "{first_flowering} and {first_hard}.",
            **said,
            first_flowering=near_date(flower),
            first_hard=near_date(dough),
        ),
        parts
        and say(
            "They part by more than either doubts: go by what you see in the field."
        ),
    )


def grain_filling(forms, soft_dough):
    """The book's sums of warmth after flowering; ``forms`` is of (sum, base)."""
    sums = [
        say("{total:g} °C d above {base:g} °C", total=total, base=base)
        for total, base in forms
    ]
    return say(
        "Hard dough {sums} after flowering; soft dough at {soft_dough:.0%} of that.",
        sums=listed(sums, "or"),
        soft_dough=soft_dough,
    )


def crop_prior(flowering_sd, filling_sd, weights):
    """How far possible crops are from the book."""
    return say(
        "Possible crops are drawn about the book: sums to flowering within "
        "{flowering:.0%} of it and sums to hard dough within {filling:.0%}, 7 chances "
        "in 10; the two forms of grain filling in {likely} of them.",
        flowering=flowering_sd,
        filling=filling_sd,
        likely=listed([f"{weight:.0%}" for weight in weights]),
    )


def own_dates(used, left_out, factors, surprise):
    """What the grower's own past dates teach."""
    flowering, filling = factors
    return joined(
        say(
            "{used} of your own seasons teach that the crop here takes {flowering:.2f} "
            "times the book's warmth to flower, and {filling:.2f} times from there to "
            "hard dough.",
            used=used,
            flowering=flowering,
            filling=filling,
        ),
        left_out
        and say(
            "{left_out} more lie outside the record, or are still to come.",
            left_out=left_out,
        ),
        surprise and say(SURPRISE),
    )


def stages_seen(seen):
    """Stages that the grower saw; ``seen`` maps a stage to its date."""
    each = [
        say("{stage} on {date}", stage=say(STAGE_NAMES[name]), date=near_date(day))
        for name, day in seen.items()
    ]
    return say(
        "Seen by you: {seen}; the crop is grown on from there.", seen=listed(each)
    )


def signs(levels, surprise):
    """Signs of ripening seen."""
    each = [
        say("{sign} {level}", sign=say(SIGNS[kind]), level=say(level))
        for kind, level in levels.items()
    ]
    return joined(
        say(
            "Signs seen by you: {signs}; crops that show them count for more.",
            signs=listed(each),
        ),
        surprise and say(SURPRISE),
    )


def forecast(source, n_leads, age):
    """A forecast given."""
    days = say_n(
        "Forecast of rain for {n} day", "Forecast of rain for {n} days", n_leads
    )
    if age:
        old = say_n("{n} day old", "{n} days old", age)
        days = say("{days}, {old}", days=days, old=old)
    return joined(
        say("{days}: {source}.", days=days, source=source),
        say("Believed less from day to day."),
    )


def summers(n_summers, n_years):
    """How possible summers are drawn."""
    return say(
        "{summers:,} possible summers, of whole days drawn one after another from "
        "{years} years at the station, this one aside.",
        summers=n_summers,
        years=n_years,
    )


def refused(harvests):
    """Harvests not learned from; each with its year and why."""
    each = [
        say("{year} ({why})", year=harvest.harvest_year, why=harvest.why)
        for harvest in harvests[:MOST_NAMED]
    ]
    if len(harvests) > MOST_NAMED:
        each.append(say("{n} more", n=len(harvests) - MOST_NAMED))
    return say("Not learned from: {harvests}.", harvests=listed(each))


def rain_losses(depths, shares, free_days, late):
    """What rain and days out cost."""
    return say(
        "A day with {wet} of rain on the stooks takes {takes}% of a perfect crop; each "
        "day out after {free_days:g} takes {late:g}%.",
        wet=listed([measured(each, "mm") for each in depths], "or"),
        takes=listed([f"{100 * share:g}" for share in shares], "or"),
        free_days=free_days,
        late=100 * late,
    )


def ripeness_losses(full_from, full_to, under, over):
    """What cutting green or over-ripe costs."""
    return say(
        "Full worth from ripeness {full_from:.2f} to {full_to:.2f}, where 1 is hard "
        "dough: {under:g}% less for each hundredth before, and from {over:g}% a day, "
        "faster and faster, after.",
        full_from=full_from,
        full_to=full_to,
        under=under,
        over=100 * over,
    )


def stooks(rate, at_cutting, fit_to_carry):
    """How stooks dry."""
    return say(
        "Grain is cut at {at_cutting:.0%} moisture and nears its driest at a rate of "
        "{rate:g} a fair August day; stooks are carted at {fit:.0%}, with no water on "
        "them.",
        at_cutting=at_cutting,
        rate=rate,
        fit=fit_to_carry,
    )


def cut_on(day):
    """When the stooks were set up."""
    return say("Cut and stooked on {day}, as given.", day=date(day))


def readings(n_readings, n_days):
    """Meter readings, or none."""
    if not n_readings:
        return say(
            "No meter reading since: the rate is the table's, with all its doubt."
        )
    return say(
        "{readings} on {days}, those of a day taken together.",
        readings=say_n("{n} meter reading", "{n} meter readings", n_readings),
        days=say_n("{n} day", "{n} days", n_days),
    )


def reading_surprise(what, day):
    """A reading that no rate leads to."""
    return say(
        "No likely rate leads to the {what} read on {day}: read it again, in the heart "
        "of several sheaves, before believing this.",
        what=say(what),
        day=near_date(day),
    )


def rate_learned(what, table, mean, sd):
    """The drying rate before the readings and after."""
    return say(
        "{what} dries at a rate of {table:g} a fair day by the table; now {mean:.2f}, "
        "give or take {sd:.2f}.",
        what=capital(say(what)),
        table=table,
        mean=mean,
        sd=sd,
    )


def stooked(what, at_cutting, gain, limit):
    """How grain or straw begins, takes up rain, and ends."""
    return say(
        "{what} begins at {at_cutting:.0%} moisture, takes up {gain:g}% of its dry "
        "weight on a wet day, and may be carried at {limit:.0%}.",
        what=capital(say(what)),
        at_cutting=at_cutting,
        gain=100 * gain,
        limit=limit,
    )


def wet_days(wet, soaking, today, before):
    """What rain keeps sheaves from drying and from being carried."""
    return say(
        "Nothing dries on a day with {wet} of rain or more, and half as much after "
        "{soaking}; nothing is carried on a day with {today}, or after one with "
        "{before}.",
        wet=measured(wet, "mm"),
        soaking=measured(soaking, "mm"),
        today=measured(today, "mm"),
        before=measured(before, "mm"),
    )


def drying_air(warmth, dampest):
    """Air in which sheaves dry."""
    return say(
        "Sheaves dry in the air of the warmer hours, {warmth:.0%} of the way from the "
        "day's lowest temperature to its highest, no damper than {dampest:.0%}.",
        warmth=warmth,
        dampest=dampest,
    )


def curves(what, n_curves):
    """Curves by which the air is judged."""
    return say(
        "How dry that air can leave the {what} is judged by {n} curves; each possible "
        "summer takes one.",
        what=say(what),
        n=n_curves,
    )


def dew(measured_air, humidity, depth):
    """When dew lies."""
    when = say("every morning, as neither humidity nor dewpoint is measured")
    if measured_air:
        when = say(
            "after a night with a humidity of {humidity:.0%}, or one at its dewpoint",
            humidity=humidity,
        )
    return say(
        "Dew lies {when}; {depth} of the day's evaporation take it off.",
        when=when,
        depth=measured(depth, "mm"),
    )


def fit_spell(longest_days, least_share):
    """What is called a fit spell."""
    return say(
        "A fit spell is one that stooks come through, showers and all: carted within "
        "{days} days with {share:.0%} of their worth kept.",
        days=longest_days,
        share=least_share,
    )
