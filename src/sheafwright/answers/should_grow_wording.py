"""Every sentence that a newcomer reads before the first acre."""

from sheafwright.answers.budget_wording import USES, month, pounds
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n

VERDICTS = {
    "not_yet": mark("Not yet: {why}"),
    "for_love": mark(
        "It would cost you money in most years: grow it for other reasons, or not."
    ),
    "may_suit": mark("It may suit you: begin with less than you mean to end with."),
}
WHY = {
    "no_buyer": mark("first find a thatcher who would buy it."),
    "few_hands": mark("there are too few hands for carting and the drum."),
}
THINGS = {
    "seed": mark("seed for the first field"),
    "tractor": mark("a tractor, used"),
    "binder": mark("a binder, made good"),
    "binder_parts": mark("canvas, knotter parts and knife sections"),
    "twine": mark("twine"),
    "contractor": mark("ploughing and drilling by a contractor"),
    "hire": mark("hire of machines that are not yours"),
    "meter": mark("a moisture meter with a long probe"),
    "covers": mark("sheets and ropes for a rick"),
    "safety": mark("masks for dust, gloves, boots, first aid"),
    "certification": mark("the certificate, a year"),
    "insurance": mark("liability insurance, a year"),
}
LESSONS = (
    mark("Ask two thatchers what they would buy, how long, and at what price."),
    mark("Help a grower through one harvest before you sow: cut, stook and cart."),
    mark("Learn to set a knotter, and to stop a binder before anyone touches it."),
    mark("Build a stook that stands a gale; judge by hand and meter when it is fit."),
    mark("Read a rick's heat, and know whom to ring before it is too hot."),
    mark("Learn what the law says of seed, before you take any from a friend."),
    mark("Stand at a drum and comb for a day with those who work one."),
    mark("Keep a record from the first day: field, seed, hours, bundles and buyers."),
)
LEAVES = mark(
    "With every hour paid it leaves {likely} ({low} to {high} in 8 years of 10)."
)
LACKS = mark(
    "With every hour paid it lacks {likely} ({low} to {high} in 8 years of 10)."
)
CAUTION = mark(
    "Binders, drums, ricks and carts kill and maim: nobody works them who was not "
    "shown, and local codes and trained people come first."
)


def verdict(answer):
    """Whether to."""
    why = next((name for name in WHY if name in answer.reasons), "no_buyer")
    words = VERDICTS[answer.verdict]
    if answer.verdict == "not_yet":
        return say(words, why=say(WHY[why]))
    return say(words)


def good_years(answer):
    """How often the straw comes home."""
    return say(
        "In about {n:.0f} years of 10 most of the straw would come home fit to comb.",
        n=answer.good_years,
    )


def hours(answer):
    """How many, and when most."""
    busiest = answer.busiest
    return say(
        "{area} takes about {hours:,.0f} hours of hands from seed to cheque; the month "
        "with most is {month}: {most:,.0f}.",
        area=measured(answer.question.area, "ha", ".3g"),
        hours=answer.budget.hours,
        month=month(busiest.year, busiest.month),
        most=busiest.hours,
    )


def money(answer):
    """What is left or lacking, and its band."""
    band = answer.budget.margin_band
    return say(
        LEAVES if band["p50"] >= 0 else LACKS,
        likely=pounds(abs(band["p50"])),
        low=pounds(band["p10"]),
        high=pounds(band["p90"]),
    )


def lessons():
    """What to learn first."""
    return tuple(say(each) for each in LESSONS)


def reason(answer, name):
    """One reason not to."""
    return REASONS[name](answer)


def _no_buyer(answer):
    return joined(
        say("Nobody has said that they would buy it."),
        say("Straw that no thatcher wants is worth what feed straw is."),
    )


def _few_hands(answer):
    return say_n(
        "Carting or the drum wants {n} pair of hands at once, and you have {hands}.",
        "Carting or the drum wants {n} pairs of hands at once, and you have {hands}.",
        answer.hands_wanted,
        hands=answer.question.hands,
    )


def _lacks(answer):
    return say(
        "With every hour paid it lacks money as often as not; it leaves £{each:.2f} "
        "for an hour of your own.",
        each=max(answer.budget.pays_an_hour, 0),
    )


def _weather(answer):
    return say(
        "In {n:.0f} years of 10 rain or wind would spoil most of the straw.",
        n=10 - answer.good_years,
    )


def _rich(answer):
    return joined(
        say("Rich ground lays tall wheat, and its straw is soft and rots early."),
        say("Let other crops take from it for some years first."),
    )


def _better(answer):
    better = [use for use in answer.budget.uses if use.chance_better >= 0.5]
    return say(
        "The same ground would leave more, as often as not, under {uses}, for far "
        "fewer hours.",
        uses=listed([say(USES[use.name]) for use in better], "or"),
    )


def _no_binder(answer):
    return joined(
        say("Binders are old, few and fond of breaking: parts are sought, not bought."),
        say("Until you have one, a neighbour's binder decides when you cut."),
    )


def _buyer_unsure(answer):
    return say("A thatcher who has only talked has not bought: ask for a letter.")


def _conversion(answer):
    return say(
        "Straw is organic only from ground converted for two years before it was sown; "
        "until then it has no premium."
    )


def _waiting(answer):
    lowest = answer.budget.lowest
    return say(
        "You pay for up to two years before the cheque: by {month} {gbp} are out.",
        month=month(lowest.year, lowest.month),
        gbp=pounds(-min(lowest.balance, 0)),
    )


def _danger(answer):
    return say(
        "The work is hard, dusty and dangerous, and it comes when others are on "
        "holiday."
    )


REASONS = {
    "no_buyer": _no_buyer,
    "few_hands": _few_hands,
    "lacks": _lacks,
    "weather": _weather,
    "rich": _rich,
    "better": _better,
    "no_binder": _no_binder,
    "buyer_unsure": _buyer_unsure,
    "conversion": _conversion,
    "waiting": _waiting,
    "danger": _danger,
}
