"""What the grower reads about sowings set side by side.

Odds are years on record. No number is made here, only said.
"""

import datetime

from sheafwright.answers.wording import listed, month_day, near_date

MOST_NAMED = 3
"""Doubts named one by one."""
ROUND = 10
"""Money is said to so much. [GBP]"""
CHANGES = {
    "crop_earlier": "a crop earlier than the book",
    "crop_later": "a crop later than the book",
    "filling_otherwise": "the other book on how grain fills",
    "losses_halve": "half the assumed losses",
    "losses_double": "double the assumed losses",
    "drying_halves": "stooks that dry half as fast",
    "drying_doubles": "stooks that dry twice as fast",
    "stands_worse": "a field that lodges sooner",
    "stands_better": "a field that stands better",
    "late_sowing_costs": "{:.0%} of the crop lost by each week of waiting to sow",
}
GROUND = "Whether the ground is fit to drill that day is not asked."
NO_GUSTS = (
    "The record has no gusts to go by, so the share that lodges can't be given: early "
    "and thick sowing look better here than they are, and no stand can be chosen by "
    "these sums."
)
PAIRED = (
    "All meet the same seasons and are compared year by year; the best of many looks a "
    "little better than it is. A gain is called clear from {:g} of its standard errors."
)
HARVESTED = (
    "Each crop is cut on the first day of the binder's window that is dry, after a dry "
    "day; one not cut by {} is left standing. It is called ripe at ripeness {:g}, "
    "where 1 is hard dough."
)
LATEST = (
    "Whatever the sums say, no wheat is called safe that is sown after its class's "
    "latest date, and every winter wheat sown after {} is at risk."
)
NOT_COUNTED = (
    "Not counted: whether the ground is fit, weeds, slugs, rooks, disease and winter "
    "kill; and late sowing costs no more of the crop here than its few tillers do."
)


def day_of_year(number):
    """A day of a year without a leap day: 31 October."""
    return near_date(datetime.date(2001, 1, 1) + datetime.timedelta(number - 1))


def sowing(spoken):
    """A date and a density."""
    sown, plants = spoken
    return f"{month_day(sown)} with {plants:g} plants to the m²"


def money(gbp):
    """Pounds, rounded."""
    return f"£{round(gbp / ROUND) * ROUND:,}"


def less(gbp):
    """So much less money, in words."""
    return f"{money(gbp)} less" if gbp >= ROUND / 2 else "hardly less"


def best(spoken, gbp, n_seasons, first, last):
    """The sowing that promises most."""
    return (
        f"Sown on {sowing(spoken)} the crop promises most: {money(gbp)} a hectare in "
        f"the mean of {n_seasons} seasons, {first} to {last}."
    )


def over_date(spoken, gain, n_seasons, as_good):
    """How the best does beside the best of other dates, and which may be as good."""
    says = (
        f"The next date, {sowing(spoken)}, brings {less(gain.gbp)}, and more in "
        f"{n_seasons - gain.seasons_won} of {n_seasons} years"
    )
    if not as_good:
        return f"{says}."
    return f"{says}; by no more than luck behind: {listed([*map(month_day, as_good)])}."


def over_density(plants, gain, n_seasons):
    """How the best does beside the same date sown thicker or thinner."""
    says = f"With {plants:g} plants it would bring {less(gain.gbp)}"
    if not gain.clear:
        return f"{says}, no more than luck."
    return f"{says}, and less in {gain.seasons_won} of {n_seasons} years."


def given_up(costs):
    """What other sowings of the choice do better, each in words."""
    return f"Given up: {'; '.join(costs)}."


def ripe_later(days, sown):
    """It ripens later than the earliest."""
    return f"ripe {days} days later than sown on {month_day(sown)}"


def fewer_spells(spells, others, sown, n_seasons):
    """The stooks have a fit week more seldom."""
    return (
        f"a fit week for the stooks in {spells} of {n_seasons} years, where "
        f"{month_day(sown)} has {others}"
    )


def lodges_more(share, least, spoken):
    """More of it lies."""
    return f"{share:.0%} lies at cutting, where of {sowing(spoken)} {least:.0%} does"


def fit_week(spells, n_seasons):
    """How often the stooks had a fit week."""
    return f"The stooks would have had a fit week in {spells} of {n_seasons} years."


def out_of_choice(dates):
    """Dates whose cold is less sure than that of others."""
    said = listed([month_day(sown) for sown in dates])
    return f"Short of cold for this wheat, and out of the choice: {said}."


def none_safe(status):
    """No date gives the wheat its cold for sure."""
    if status == "at_risk":
        return "On none of these dates would this wheat be likely to have its cold."
    return "On none of these dates is this wheat's cold safe."


def unsettled(changing, tried, dates, lost_per_week):
    """What would make another date best, and which; ``tried`` is how many doubts."""
    if not changing:
        return f"None of the {tried} doubts tried would make another date best."
    says = [CHANGES[name].format(lost_per_week) for name in changing]
    named = listed(says, "or")
    if len(says) > MOST_NAMED:
        named = f"{len(says)} of the {tried} doubts tried, {says[0]} among them,"
    return f"Not settled: {named} would make {listed(dates, 'or')} best."
