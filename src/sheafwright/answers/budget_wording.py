"""Every sentence that the grower reads about a budget."""

from sheafwright.answers.prices import per_area, per_weight
from sheafwright.answers.wording import odds
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n

INPUTS = {
    "crop": mark("weight of the crop"),
    "kept": mark("reed that comes through the weather"),
    "reed_price": mark("price of reed"),
    "grain_price": mark("price of grain"),
    "hours": mark("hours of hands"),
    "repairs": mark("repairs"),
    "reed_share": mark("reed from the sheaves"),
    "grain_share": mark("grain from the sheaves"),
}
USES = {
    "milling_wheat": mark("milling wheat"),
    "oats": mark("oats"),
    "feed_wheat": mark("feed wheat with its straw baled"),
    "ley": mark("a ley"),
}
SHORT_USES = USES | {"feed_wheat": mark("feed wheat, baled")}
MONTHS = (
    mark("January {year}"),
    mark("February {year}"),
    mark("March {year}"),
    mark("April {year}"),
    mark("May {year}"),
    mark("June {year}"),
    mark("July {year}"),
    mark("August {year}"),
    mark("September {year}"),
    mark("October {year}"),
    mark("November {year}"),
    mark("December {year}"),
)
SHORT_MONTHS = (
    mark("Jan {year}"),
    mark("Feb {year}"),
    mark("Mar {year}"),
    mark("Apr {year}"),
    mark("May {year}"),
    mark("Jun {year}"),
    mark("Jul {year}"),
    mark("Aug {year}"),
    mark("Sep {year}"),
    mark("Oct {year}"),
    mark("Nov {year}"),
    mark("Dec {year}"),
)
ASSUMED = mark(
    "Most of its numbers are assumed until you put in your own: it shows how they hang "
    "together, not what you will earn."
)
NOT_IN_IT = mark(
    "No rent, no payment for the land and no tax is in it; yours would change all uses "
    "of the field alike."
)


LEAVES = mark(
    "{area} of tall wheat should leave about {each}, {whole} in all, when every hour "
    "is paid."
)
LACKS = mark(
    "{area} of tall wheat should lack about {each}, {whole} in all, when every hour is "
    "paid."
)


def pounds(gbp):
    """Whole pounds, which may be lacking."""
    if round(gbp) < 0:
        return say("−£{gbp:,.0f}", gbp=-gbp)
    # No minus before what rounds to nothing.
    return say("£{gbp:,.0f}", gbp=abs(gbp))


def pence(amount):
    """An exact amount."""
    whole, rest = divmod(abs(amount), 100)
    if amount < 0:
        return say("−£{whole:,}.{rest:02d}", whole=whole, rest=rest)
    return say("£{whole:,}.{rest:02d}", whole=whole, rest=rest)


def area_price(gbp_per_ha):
    """By the hectare or acre, which may be lacking."""
    if gbp_per_ha < 0:
        return say("−{price}", price=per_area(-gbp_per_ha))
    return per_area(gbp_per_ha)


def years_of_ten(chance):
    """How often, in whole years."""
    return say_n("{n} year of 10", "{n} years of 10", round(10 * chance))


def month(year, number):
    """Such as March 2027."""
    return say(MONTHS[number - 1], year=year)


def leaves(answer):
    """What is left, with its band, and how often something is lacking."""
    band, area = answer.margin_band, answer.area
    says = LEAVES if band["p50"] >= 0 else LACKS
    return joined(
        say(
            says,
            area=measured(area, "ha", ".3g"),
            each=per_area(abs(band["p50"]) / area),
            whole=pounds(abs(band["p50"])),
        ),
        say(
            "In 8 years of 10 it is between {low} and {high}; the odds that it lacks "
            "something are {odds}.",
            low=pounds(band["p10"]),
            high=pounds(band["p90"]),
            odds=odds(answer.chance_of_loss),
        ),
    )


def likely_and_middle(answer):
    """Why the likely crop and the middle one of possible years leave different sums."""
    likely, middle = float(answer.likely.margin), answer.margin_band["p50"]
    words = LIKELY_IS_MORE if likely >= middle else LIKELY_IS_LESS
    return say(
        words,
        likely=area_price(likely / answer.area),
        middle=area_price(middle / answer.area),
    )


LIKELY_IS_MORE = mark(
    "The likely crop, with every number at its likely value, comes to {likely}; the "
    "middle one of the possible years, which the answer above tells, to {middle}: more "
    "goes wrong with a crop than goes better than likely."
)
LIKELY_IS_LESS = mark(
    "The likely crop, with every number at its likely value, comes to {likely}; the "
    "middle one of the possible years, which the answer above tells, to {middle}: more "
    "goes better than likely with a crop than goes wrong."
)


def breaks_even(answer):
    """At which price of reed."""
    band = answer.break_even_band
    return say(
        "Reed pays for everything at {likely} ({low} to {high}).",
        likely=per_weight(band["p50"]),
        low=per_weight(band["p10"]),
        high=per_weight(band["p90"]),
    )


def beside(uses):
    """Which other uses leave more as often as not."""
    better = [each for each in uses if each.chance_better >= 0.5]
    if not better:
        best = max(uses, key=lambda each: each.chance_better)
        if best.chance_better < 0.05:
            return say(
                "No other use of the field leaves more in as much as 1 year of 20; "
                "{use} comes nearest.",
                use=say(USES[best.name]),
            )
        return say_n(
            "Of other uses of the field, {use} comes nearest: more is left in {n} "
            "year of 10.",
            "Of other uses of the field, {use} comes nearest: more is left in {n} "
            "years of 10.",
            round(10 * best.chance_better),
            use=say(USES[best.name]),
        )
    names = [say(USES[each.name]) for each in better]
    return say("More would be left, as often as not, by {uses}.", uses=listed(names))


def most_out(lowest):
    """The month in which most is laid out."""
    if lowest.balance >= 0:
        return ""
    return say(
        "Most is laid out by {month}: {gbp}.",
        month=month(lowest.year, lowest.month),
        gbp=pounds(-lowest.balance),
    )


def weightiest(answer):
    """What makes it most uncertain."""
    first, second, *_ = answer.what_matters
    return say(
        "What is left hangs most on the {first}, and then on the {second}.",
        first=say(INPUTS[first]),
        second=say(INPUTS[second]),
    )


def an_hour(answer):
    """What is left for hands, by the hour."""
    gbp = answer.pays_an_hour
    if gbp < 0:
        return say("The likely crop leaves nothing for the hours of hands.")
    return say(
        "The likely crop leaves £{gbp:.2f} for each of its {hours:,.0f} hours of "
        "hands.",
        gbp=gbp,
        hours=answer.hours,
    )


def doubts():
    """What it does not know."""
    return joined(say(ASSUMED), say(NOT_IN_IT))
