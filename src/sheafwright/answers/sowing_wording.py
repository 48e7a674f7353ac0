"""What the grower reads about sowings set side by side.

Odds are years on record. No number is made here, only said.
"""

import datetime

from sheafwright.answers.wording import month_day, near_date
from sheafwright.feeds import units
from sheafwright.feeds.telling import by_family, joined, listed, mark, say, say_n

MOST_NAMED = 3
"""Doubts named one by one."""
ROUND = 10
"""Money is said to so much. [GBP]"""
CHANGES = {
    "crop_earlier": mark("a crop earlier than the book"),
    "crop_later": mark("a crop later than the book"),
    "filling_otherwise": mark("the other book on how grain fills"),
    "losses_halve": mark("half the assumed losses"),
    "losses_double": mark("double the assumed losses"),
    "drying_halves": mark("stooks that dry half as fast"),
    "drying_doubles": mark("stooks that dry twice as fast"),
    "stands_worse": mark("a field that lodges sooner"),
    "stands_better": mark("a field that stands better"),
    "late_sowing_costs": mark(
        "{lost:.0%} of the crop lost by each week of waiting to sow"
    ),
}
GROUND = mark("Whether the ground is fit to drill that day is not asked.")
NO_GUSTS = mark(
    "The record has no gusts to go by, so the share that lodges can't be given: early "
    "and thick sowing look better here than they are, and no stand can be chosen by "
    "these sums."
)
NOT_COUNTED = mark(
    "Not counted: whether the ground is fit, weeds, slugs, rooks, disease and winter "
    "kill; and late sowing costs no more of the crop here than its few tillers do."
)


def paired(clear_from):
    """How sowings are compared, and which gain is called clear."""
    return joined(
        say(
            "All meet the same seasons and are compared year by year; the best of many "
            "looks a little better than it is."
        ),
        say(
            "A gain is called clear from {errors:g} of its standard errors.",
            errors=clear_from,
        ),
    )


def harvested(season_ends, ripe_at):
    """When each crop is cut, and when it is called ripe."""
    return joined(
        say(
            "Each crop is cut on the first day of the binder's window that is dry, "
            "after a dry day; one not cut by {day} is left standing.",
            day=day_of_year(season_ends),
        ),
        say(
            "It is called ripe at ripeness {ripe_at:g}, where 1 is hard dough.",
            ripe_at=ripe_at,
        ),
    )


def latest(winter_wheat_until):
    """What is never called safe."""
    return say(
        "Whatever the sums say, no wheat is called safe that is sown after its class's "
        "latest date, and every winter wheat sown after {day} is at risk.",
        day=day_of_year(winter_wheat_until),
    )


def day_of_year(number):
    """A day of a year without a leap day: 31 October."""
    return near_date(datetime.date(2001, 1, 1) + datetime.timedelta(number - 1))


def sowing(spoken):
    """A date and a density."""
    sown, plants = spoken
    return say(
        "{day} with {plants:g} plants to the m²", day=month_day(sown), plants=plants
    )


def money(gbp):
    """Pounds, rounded."""
    return f"£{round(gbp / ROUND) * ROUND:,}"


def an_acre(gbp):
    """Of so much a hectare."""
    return gbp * units.from_unit(1, "area", "acre")


def less(gbp):
    """So much less money, in words, of what a hectare brings."""
    if gbp < ROUND / 2:
        return say("hardly less")
    return by_family(
        say("{money} less", money=money(gbp)),
        say("{money} less", money=money(an_acre(gbp))),
    )


def best(spoken, gbp, n_seasons, first, last):
    """The sowing that promises most."""
    return say(
        "Sown on {sowing} the crop promises most: {brings} in the mean of {seasons} "
        "seasons, {first} to {last}.",
        sowing=sowing(spoken),
        brings=by_family(
            say("{money} a hectare", money=money(gbp)),
            say("{money} an acre", money=money(an_acre(gbp))),
        ),
        seasons=n_seasons,
        first=first,
        last=last,
    )


def over_date(spoken, gain, n_seasons, as_good):
    """How the best does beside the best of other dates, and which may be as good."""
    says = say(
        "The next date, {sowing}, brings {less}, and more in {won} of {seasons} years",
        sowing=sowing(spoken),
        less=less(gain.gbp),
        won=n_seasons - gain.seasons_won,
        seasons=n_seasons,
    )
    if not as_good:
        return say("{says}.", says=says)
    return say(
        "{says}; by no more than luck behind: {dates}.",
        says=says,
        dates=_dates(as_good),
    )


def over_density(plants, gain, n_seasons):
    """How the best does beside the same date sown thicker or thinner."""
    says = say(
        "With {plants:g} plants it would bring {less}",
        plants=plants,
        less=less(gain.gbp),
    )
    if not gain.clear:
        return say("{says}, no more than luck.", says=says)
    return say(
        "{says}, and less in {won} of {seasons} years.",
        says=says,
        won=gain.seasons_won,
        seasons=n_seasons,
    )


def given_up(costs):
    """What other sowings of the choice do better, each in words."""
    return say("Given up: {costs}.", costs=joined(*costs, by="; "))


def ripe_later(days, sown):
    """It ripens later than the earliest."""
    return say_n(
        "ripe {n} day later than sown on {sown}",
        "ripe {n} days later than sown on {sown}",
        days,
        sown=month_day(sown),
    )


def fewer_spells(spells, others, sown, n_seasons):
    """The stooks have a fit week more seldom."""
    return say(
        "a fit week for the stooks in {spells} of {seasons} years, where {sown} has "
        "{others}",
        spells=spells,
        seasons=n_seasons,
        sown=month_day(sown),
        others=others,
    )


def lodges_more(share, least, spoken):
    """More of it lies."""
    return say(
        "{share:.0%} lies at cutting, where of {sowing} {least:.0%} does",
        share=share,
        sowing=sowing(spoken),
        least=least,
    )


def fit_week(spells, n_seasons):
    """How often the stooks had a fit week."""
    return say(
        "The stooks would have had a fit week in {spells} of {seasons} years.",
        spells=spells,
        seasons=n_seasons,
    )


def out_of_choice(dates):
    """Dates whose cold is less sure than that of others."""
    return say(
        "Short of cold for this wheat, and out of the choice: {dates}.",
        dates=_dates(dates),
    )


def none_safe(status):
    """No date gives the wheat its cold for sure."""
    if status == "at_risk":
        return say(
            "On none of these dates would this wheat be likely to have its cold."
        )
    return say("On none of these dates is this wheat's cold safe.")


def unsettled(changing, tried, dates, lost_per_week):
    """What would make another date best, and which; ``tried`` is how many doubts."""
    if not changing:
        return say(
            "None of the {tried} doubts tried would make another date best.",
            tried=tried,
        )
    says = [say(CHANGES[name], lost=lost_per_week) for name in changing]
    named = listed(says, "or")
    if len(says) > MOST_NAMED:
        named = say(
            "{n} of the {tried} doubts tried, {first} among them,",
            n=len(says),
            tried=tried,
            first=says[0],
        )
    return say(
        "Not settled: {doubts} would make {dates} best.",
        doubts=named,
        dates=_dates(dates, "or"),
    )


def _dates(sowings, joint="and"):
    return listed([month_day(sown) for sown in sowings], joint)
