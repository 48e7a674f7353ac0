"""Every sentence that the grower reads about a season.

Chances are spoken in tenths, summers are possible summers, and a sentence carries its
odds. No number is made here, only said.
"""

NO_FORECAST = "No forecast given: the days ahead are drawn from past summers alone."
DEVELOPMENT = (
    "Stages by thermal time in eight parts of the day, slowed by short days and by want "
    "of cold (Weir and others 1984); the dates only say when to walk."
)
VALUED = (
    "Waiting is worth what this same advice, followed from tomorrow, would make of each "
    "possible summer; cutting is advised where that is no more than today's worth."
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


def listed(words, joint="and"):
    """Words in a list: this, that and the other."""
    *most, last = words
    return f"{', '.join(most)} {joint} {last}" if most else last


# What to do today.


def cut(day, through, waiting_wins):
    """To cut."""
    return (
        f"Cut on {weekday(day)}: {odds(through)} that the stooks come through a fit "
        f"spell, and {odds(waiting_wins)} that waiting would bring more."
    )


def wait(day, waiting_wins, best):
    """To wait."""
    aim = f", about {near_date(best)} by the look of it" if best else ""
    return (
        f"Wait on {weekday(day)}: {odds(waiting_wins)} that waiting for a better day"
        f"{aim}, brings more than cutting now."
    )


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
        f"begin, should come about {near_date(middle)}; {odds(0.8)} that it lies "
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


# The whole season.


def fit_week(chance):
    """Whether a fit week may be hoped for."""
    return (
        f"{_capital(odds(chance))} of a fit spell for the stooks on some day while the "
        f"crop is fit to bind."
    )


def season(stages):
    """When the next stages come; ``stages`` is pairs of name and date."""
    said = [f"{STAGE_NAMES[name]} about {near_date(day)}" for name, day in stages]
    return f"{_capital(listed(said))}."


def cold_at_risk(chance_met, uneven):
    """A crop that may not have had its cold."""
    says = f"{_capital(odds(1 - chance_met))} that it never has the cold it needs"
    if uneven >= 0.05:
        says += f", and {odds(uneven)} that it comes to ear unevenly"
    return f"{says}."


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


def crop_prior(flowering_sd, filling_sd):
    """How far possible crops are from the book."""
    return (
        f"Possible crops are drawn around the book: warmth to flowering within "
        f"{flowering_sd:.0%} of it, and from flowering to hard dough within "
        f"{filling_sd:.0%}, two times in three; in two forms of grain filling."
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
    return says + SURPRISE * surprise


def stages_seen(seen):
    """Stages that the grower saw; ``seen`` maps a stage to its date."""
    said = [f"{STAGE_NAMES[name]} on {near_date(day)}" for name, day in seen.items()]
    return f"Seen by you: {listed(said)}; the crop is grown on from there."


def signs(levels, surprise):
    """Signs of ripening seen."""
    said = [f"{kind.replace('_', ' ')} {level}" for kind, level in levels.items()]
    says = f"Signs seen by you: {listed(said)}; crops that show them count for more."
    return says + SURPRISE * surprise


def forecast(source, n_leads, age):
    """A forecast given."""
    old = f", {age} day{'s' * (age != 1)} old" if age else ""
    return (
        f"Forecast of rain for {n_leads} day{'s' * (n_leads != 1)}{old}: {source}. "
        f"Believed less from day to day."
    )


def summers(n_summers, n_years, refused):
    """How possible summers are drawn."""
    says = (
        f"{n_summers:,} possible summers, of whole days drawn from {n_years} years at "
        f"the station, this one aside."
    )
    if refused:
        years = listed([str(each.harvest_year) for each in refused])
        says += f" Not learned from: {years}, as {refused[0].why}."
    return says


def losses(path):
    """The table of losses."""
    whose = "your own table" if path else "the package's table"
    return f"Losses by ripeness, rain on the stooks and days out, from {whose}."


def stooks(rate, fit_to_carry):
    """How stooks dry."""
    return (
        f"Grain in the stook nears its driest by {rate:.0%} on a fair August day, and "
        f"is carted at {fit_to_carry:.0%} moisture with no water on it."
    )


def fit_spell(longest_days, least_share):
    """What is called a fit spell."""
    return (
        f"A fit spell is one that stooks come through, showers and all: carted within "
        f"{longest_days} days with {least_share:.0%} of their worth kept."
    )


def _capital(text):
    return text[0].upper() + text[1:]
