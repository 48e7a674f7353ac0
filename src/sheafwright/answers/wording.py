"""Every sentence that the grower reads about a season.

Chances are spoken in tenths, summers are possible summers, and a sentence carries its
odds. No number is made here, only said.
"""

import datetime

NO_FORECAST = "No forecast given: the days ahead are drawn from past summers alone."
VALUED = (
    "Waiting is worth what this same advice, followed from tomorrow, would make of "
    "each possible summer; cutting is advised where that is no more than today's worth."
)
STAGE_NAMES = {
    "emergence": "up",
    "first_node": "first node",
    "flag_leaf": "flag leaf out",
    "ear_out": "ear out",
    "flowering": "flowering",
    "watery_ripe": "grain watery ripe",
    "milk": "milk",
    "early_dough": "early dough",
    "soft_dough": "soft dough",
    "hard_dough": "hard dough",
}
CHANGES = {
    "losses_halve": "halving the assumed losses",
    "losses_double": "doubling the assumed losses",
    "drying_halves": "halving the drying rate",
    "drying_doubles": "doubling the drying rate",
}
MOST_NAMED = 5
SURPRISE = (
    " Few possible crops come near what was seen: read it again before believing this."
)


def odds(chance):
    """A chance in words."""
    tenths = round(10 * chance)
    if chance < 0.05:
        return "less than 1 chance in 20"
    if chance > 0.95:
        return "more than 19 chances in 20"
    return f"{tenths} chance{'s' * (tenths != 1)} in 10"


def date(day):
    """A date with its year: 7 August 2025."""
    return f"{day.day} {day:%B} {day.year}"


def weekday(day):
    """A date of these weeks: Thursday 7 August."""
    return f"{day:%A} {day.day} {day:%B}"


def near_date(day):
    """A date of this season: 7 August; never, where there is none."""
    return f"{day.day} {day:%B}" if day else "never this year"


def month_day(pair):
    """A month and a day of any year: 10 October."""
    month, day = pair
    return f"{day} {datetime.date(2000, month, 1):%B}"


def harvests(number):
    """A number of harvests."""
    return f"{number} harvest{'s' * (number != 1)}"


def first_sentence(said):
    """The first sentence, and the rest."""
    first, _dot, rest = said.partition(". ")
    return f"{first.rstrip('.')}.", rest


def listed(words, joint="and"):
    """Words in a list: this, that and the other."""
    *most, last = words
    return f"{', '.join(most)} {joint} {last}" if most else last


# What to do today.


def cut(day, through, worths, waiting_wins, perfect=None):
    """To cut."""
    return (
        f"Cut on {weekday(day)}: {odds(through)} that the stooks come through a fit "
        f"spell. {weighed(*worths, waiting_wins, perfect)}"
    )


def wait(day, worths, waiting_wins, best, perfect=None):
    """To wait."""
    says = f"Wait on {weekday(day)}. {weighed(*worths, waiting_wins, perfect)}"
    return f"{says} The day to aim for is {weekday(best)}." if best else says


def weighed(now, waiting, waiting_wins, perfect=None):
    """Cutting set against waiting: in money and tonnes, if the field's area is known.

    Parameters
    ----------
    perfect : sheafwright.answers.perfect_crop.PerfectCrop, optional
    """
    wins = f"{odds(waiting_wins)} that waiting brings more."
    if perfect:
        return f"{_brings(now, waiting, perfect)}; {wins}"
    if f"{now:.0%}" == f"{waiting:.0%}":
        return f"Now or later, {now:.0%} of a perfect crop may be expected; {wins}"
    return (
        f"Cut now, {now:.0%} of a perfect crop may be expected, and {waiting:.0%} with "
        f"waiting; {wins}"
    )


def _brings(now, waiting, perfect):
    first, then = (f"£{round(each * perfect.gbp, -1):,.0f}" for each in (now, waiting))
    tonnes = (
        f"as {now * perfect.reed_t:.1f} t of sound reed and "
        f"{now * perfect.grain_t:.1f} t of grain do"
    )
    if first == then:
        return f"Now or later it may bring {first}, {tonnes}"
    return f"Cut now it may bring {first}, {tonnes}, and with waiting {then}"


def too_green(day, soft_dough):
    """Not fit to cut: the crop is too green."""
    early, middle, late = soft_dough
    if middle is None:
        return (
            f"Not fit to cut on {weekday(day)}: too green, and it is likelier than not "
            f"that soft dough never comes this year."
        )
    return (
        f"Not fit to cut on {weekday(day)}: too green. Soft dough, when a binder may "
        f"begin, should come about {near_date(middle)}; {odds(0.8)} that it comes "
        f"between {near_date(early)} and {near_date(late)}."
    )


def too_wet(day, rain, dry_day, dry_chance):
    """Not fit to cut: it rained."""
    says = f"Not fit to cut on {weekday(day)}: {rain:.1f} mm of rain fell."
    if dry_day is None:
        return says
    return f"{says} {weekday(dry_day)} should be dry enough, by {odds(dry_chance)}."


def too_late(day):
    """Nothing is left to cut for."""
    return (
        f"Too late on {weekday(day)}: by these losses the crop has stood until it is "
        f"worth no more cut for straw than left."
    )


def doubts(holds):
    """Whether other losses or another drying rate would change the advice."""
    changing = [says for name, says in CHANGES.items() if not holds[name]]
    if changing:
        says = listed(changing, "or")
        return f"{says[0].upper()}{says[1:]} would change this advice."
    return (
        "Neither halving nor doubling the assumed losses, or the drying rate, would "
        "change this advice."
    )


CAUTION = (
    "Guards on binder and shaft before it runs, stop it before you clear it, and never "
    "work it alone. Local rules and trained people come first."
)


# The whole season.


def fit_week(chance):
    """Whether a fit week may be hoped for."""
    return (
        f"{_capital(odds(chance))} that a fit spell for the stooks begins while the "
        f"crop is fit to bind."
    )


def season(stages):
    """When the next stages come; ``stages`` maps each to its three dates."""
    said = [
        f"{STAGE_NAMES[name]} about {near_date(likely)}"
        for name, (_, likely, _) in stages.items()
    ]
    early, _, late = list(stages.values())[-1]
    says = _capital(listed(said))
    if early is None:
        return f"{says}."
    ends = f"after {near_date(early)}"
    if late is not None:
        ends = f"between {near_date(early)} and {near_date(late)}"
    last = STAGE_NAMES[list(stages)[-1]]
    return f"{says}; {odds(0.8)} that {last} comes {ends}."


def cold(status, chance_met, uneven):
    """A crop that may not have the cold it needs."""
    if status == "at_risk":
        says = f"{_capital(odds(1 - chance_met))} that it never has the cold it needs"
    else:
        says = f"Its cold is marginal: {odds(chance_met)} that it has what it needs"
    if uneven >= 0.05:
        says += f", and {odds(uneven)} that it comes to ear unevenly"
    return f"{says}."


# The stooks.


def cart_now(day, field, chance):
    """Fit to cart."""
    return f"Cart{_of(field)} now: {odds(chance)} that it is fit on {weekday(day)}."


def cart_from(day, field, chance):
    """Fit to cart by a day ahead."""
    return f"Cart{_of(field)} from {weekday(day)}: {odds(chance)} it is fit by then."


def cart_not_in_sight(last, field, chance):
    """No day ahead by which it is likely fit."""
    return (
        f"Don't count on carting{_of(field)} by {weekday(last)}: {odds(chance)} it is "
        f"fit by then."
    )


def moisture_now(likely, limits):
    """How damp grain and straw are; both map each to a moisture."""
    near = [f"{name} near {100 * each:.0f}%" for name, each in likely.items()]
    may = [f"{100 * each:g}%" for each in limits.values()]
    return (
        f"{_capital(listed(near))} should be what a meter finds; they may be carried "
        f"at {listed(may)}."
    )


def drying_doubts(answer, halved, doubled, last):
    """Whether another drying rate would change the day; None is none up to the last."""
    if answer == halved == doubled:
        return "Neither halving nor doubling the assumed drying rate would change this."
    slower, faster = (
        f"on {weekday(day)}" if day else f"after {weekday(last)}"
        for day in (halved, doubled)
    )
    return (
        f"With half the assumed drying rate the day would fall {slower}, with double "
        f"{faster}."
    )


CARTING_CAUTION = (
    "Straw stacked damp heats and can burn: feel into the heart of several sheaves, "
    "at the band, before the first load. Falls from loads and ricks kill; nobody works "
    "up there alone. Local rules and trained people come first."
)


def _of(field):
    return f" {field}" if field else ""


# The advice replayed.


def replayed(station, n_seasons, advice, rule_name, rule, foresight):
    """What advice, the best plain rule and foresight made of past seasons."""
    told = f"Over {n_seasons} seasons at {station} this advice"
    if advice.worth.mean() <= rule.worth.mean():
        told = f"{told} was no better than a plain rule. It"
    return (
        f"{told} would have kept {advice.worth.mean():.0%} of a perfect crop, the best "
        f"plain rule ({rule_name.replace('_', ' ')}) {rule.worth.mean():.0%}, perfect "
        f"foresight {foresight.worth.mean():.0%}. Crops spoiled: {advice.spoiled} by "
        f"this advice, {rule.spoiled} by the plain rule, {foresight.spoiled} even with "
        f"foresight."
    )


PLAIN_RULES = {
    "fixed_date": "cutting on the same date every year",
    "first_fit_day": "cutting on the first day that is fit",
    "wait_for_dry_days": "waiting for some dry days together",
    "ripeness_sign": "cutting as soon as the crop shows that it is ripe",
}


def spoiled_below(share, rule):
    """What is called spoiled, and which plain rule is meant."""
    return (
        f"A crop is spoiled that brings less than {share:.0%} of what a perfect one "
        f"does. The plain rule that did best is {PLAIN_RULES[rule]}."
    )


def sown_every_year(month, day):
    """What was replayed."""
    return f"Sown on {month_day((month, day))} in every year."


LEFT_OUT = (
    "Each season is judged with its own harvest year and one on each side left out of "
    "all that the advice learned from and that the plain rules were set by."
)
REPLAYED_WITHOUT_FORECASTS = "No forecasts: each day knows its season so far."


def modelled_forecasts(skill):
    """Forecasts made from what then came."""
    days = ", ".join(f"{each:.2f}" for each in skill)
    return (
        f"Forecasts are made from what then came, as good as real ones: of the error "
        f"of a chance said from past years alone they save, by day ahead, {days}."
    )


# How it was worked out.


def record(station, first, last, asked):
    """The weather record."""
    says = f"Weather of {station} from {date(first)} to {date(last)}"
    if asked and asked != last:
        says += f", the last day on record before {date(asked)}"
    return f"{says}; nothing after it is looked at."


def altitude_assumed(altitude):
    """Height above the sea was not given."""
    return f"Height above the sea not given, so {altitude:g} m taken."


def station_and_field(days, rain_ratio, rain_sd, warmth, warmth_sd):
    """How the field differs from its station, and how sure that is."""
    low, high = rain_ratio * 2.718 ** (-rain_sd), rain_ratio * 2.718**rain_sd
    known = f"{days} days of your own readings" if days else "No readings of your own"
    return (
        f"The station is not the field. {known}: the field's rain is taken as "
        f"{rain_ratio:.2f} times the station's (likely {low:.2f} to {high:.2f}), its "
        f"days {warmth:+.1f} °C (give or take {warmth_sd:.1f})."
    )


def to_flowering(emergence, double_ridge, flowering, base):
    """The book's sums of warmth up to flowering."""
    return (
        f"Up after {emergence:g} °C d above {base:g} °C, in flower after "
        f"{double_ridge + flowering:g} °C d more, slowed by short days and by want of "
        f"cold. The dates only say when to walk."
    )


def grain_filling(forms, soft_dough):
    """The book's sums of warmth after flowering; ``forms`` is of (sum, base)."""
    said = [f"{total:g} °C d above {base:g} °C" for total, base in forms]
    return (
        f"Hard dough {listed(said, 'or')} after flowering; soft dough at "
        f"{soft_dough:.0%} of that."
    )


def crop_prior(flowering_sd, filling_sd, weights):
    """How far possible crops are from the book."""
    likely = listed([f"{weight:.0%}" for weight in weights])
    return (
        f"Possible crops are drawn about the book: sums to flowering within "
        f"{flowering_sd:.0%} of it and sums to hard dough within {filling_sd:.0%}, 7 "
        f"chances in 10; the two forms of grain filling in {likely} of them."
    )


def own_dates(used, left_out, factors, surprise):
    """What the grower's own past dates teach."""
    flowering, filling = factors
    says = (
        f"{used} of your own seasons teach that the crop here takes {flowering:.2f} "
        f"times the book's warmth to flower, and {filling:.2f} times from there to "
        f"hard dough."
    )
    if left_out:
        says += f" {left_out} more lie outside the record, or are still to come."
    return says + (SURPRISE if surprise else "")


def stages_seen(seen):
    """Stages that the grower saw; ``seen`` maps a stage to its date."""
    said = [f"{STAGE_NAMES[name]} on {near_date(day)}" for name, day in seen.items()]
    return f"Seen by you: {listed(said)}; the crop is grown on from there."


def signs(levels, surprise):
    """Signs of ripening seen."""
    said = [f"{kind.replace('_', ' ')} {level}" for kind, level in levels.items()]
    says = f"Signs seen by you: {listed(said)}; crops that show them count for more."
    return says + (SURPRISE if surprise else "")


def forecast(source, n_leads, age):
    """A forecast given."""
    old = f", {age} day{'s' * (age != 1)} old" if age else ""
    return (
        f"Forecast of rain for {n_leads} day{'s' * (n_leads != 1)}{old}: {source}. "
        f"Believed less from day to day."
    )


def summers(n_summers, n_years):
    """How possible summers are drawn."""
    return (
        f"{n_summers:,} possible summers, of whole days drawn one after another from "
        f"{n_years} years at the station, this one aside."
    )


def refused(harvests):
    """Harvests not learned from; each with its year and why."""
    said = [f"{each.harvest_year} ({each.why})" for each in harvests[:MOST_NAMED]]
    if len(harvests) > MOST_NAMED:
        said.append(f"{len(harvests) - MOST_NAMED} more")
    return f"Not learned from: {listed(said)}."


def rain_losses(depths, shares, free_days, late):
    """What rain and days out cost."""
    wet = listed([f"{depth:g}" for depth in depths], "or")
    takes = listed([f"{100 * share:g}" for share in shares], "or")
    return (
        f"A day with {wet} mm of rain on the stooks takes {takes}% of a perfect crop; "
        f"each day out after {free_days:g} takes {100 * late:g}%."
    )


def ripeness_losses(full_from, full_to, under, over):
    """What cutting green or over-ripe costs."""
    return (
        f"Full worth from ripeness {full_from:.2f} to {full_to:.2f}, where 1 is hard "
        f"dough: {under:g}% less for each hundredth before, and from {100 * over:g}% "
        f"a day, faster and faster, after."
    )


def stooks(rate, at_cutting, fit_to_carry):
    """How stooks dry."""
    return (
        f"Grain is cut at {at_cutting:.0%} moisture and nears its driest at a rate of "
        f"{rate:g} a fair August day; stooks are carted at {fit_to_carry:.0%}, with no "
        f"water on them."
    )


def cut_on(day):
    """When the stooks were set up."""
    return f"Cut and stooked on {date(day)}, as given."


def readings(n_readings, n_days):
    """Meter readings, or none."""
    if not n_readings:
        return "No meter reading since: the rate is the table's, with all its doubt."
    return (
        f"{n_readings} meter reading{'s' * (n_readings != 1)} on {n_days} "
        f"day{'s' * (n_days != 1)}, those of a day taken together."
    )


def reading_surprise(what, day):
    """A reading that no rate leads to."""
    return (
        f" No likely rate leads to the {what} read on {near_date(day)}: read it again, "
        f"in the heart of several sheaves, before believing this."
    )


def rate_learned(what, table, mean, sd):
    """The drying rate before the readings and after."""
    return (
        f"{_capital(what)} dries at a rate of {table:g} a fair day by the table; now "
        f"{mean:.2f}, give or take {sd:.2f}."
    )


def stooked(what, at_cutting, gain, limit):
    """How grain or straw begins, takes up rain, and ends."""
    return (
        f"{_capital(what)} begins at {at_cutting:.0%} moisture, takes up "
        f"{100 * gain:g}% of its dry weight on a wet day, and may be carried at "
        f"{limit:.0%}."
    )


def wet_days(wet, soaking, today, before):
    """What rain keeps sheaves from drying and from being carried."""
    return (
        f"Nothing dries on a day with {wet:g} mm of rain or more, and half as much "
        f"after {soaking:g} mm; nothing is carried on a day with {today:g} mm, or "
        f"after one with {before:g} mm."
    )


def drying_air(warmth, dampest):
    """Air in which sheaves dry."""
    return (
        f"Sheaves dry in the air of the warmer hours, {warmth:.0%} of the way from the "
        f"day's lowest temperature to its highest, no damper than {dampest:.0%}."
    )


def curves(what, n_curves):
    """Curves by which the air is judged."""
    return (
        f"How dry that air can leave the {what} is judged by {n_curves} curves; each "
        f"possible summer takes one."
    )


def dew(measured, humidity, depth):
    """When dew lies."""
    when = f"after a night with a humidity of {humidity:.0%}, or one at its dewpoint"
    if not measured:
        when = "every morning, as neither humidity nor dewpoint is measured"
    return f"Dew lies {when}; {depth:g} mm of the day's evaporation take it off."


def fit_spell(longest_days, least_share):
    """What is called a fit spell."""
    return (
        f"A fit spell is one that stooks come through, showers and all: carted within "
        f"{longest_days} days with {least_share:.0%} of their worth kept."
    )


def _capital(text):
    return text[0].upper() + text[1:]
