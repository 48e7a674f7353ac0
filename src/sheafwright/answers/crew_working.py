"""How a plan for the next half-days was worked out, from the rows that it used."""

from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.working import GIVEN, Step, step_from_rows
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import by_family, mark, measured, say, say_n
from sheafwright.feeds.units import in_unit
from sheafwright.planning.crew.problem import BOTHER_GBP


def crew_steps(answer):
    """Every `Step` of a `CrewAnswer`."""
    return tuple(_steps(answer))


def telling_steps(answer):
    """What a field wins, and how good the plan is proven."""
    steps = crew_steps(answer)
    return steps[1], steps[-1]


def _steps(answer):
    work, losses = shipped("work_rates"), shipped("losses")["stook"]
    half, rates = work["half_day"], answer.problem.rates
    yield _asked(answer)
    yield from _field_wins(answer.question.fields, losses)
    yield perfect_crop(1.0).step
    yield step_from_rows(
        say(
            "Stooks win, by the chance that they are fit, what each day's chance of a "
            "shower until they next may be carted would take, {shower:.0%} a shower, "
            "and {late:.0%} for each day out after {free} days.",
            shower=losses["rain_loss_share"].value[0],
            late=losses["late_loss_share"].value,
            free=losses["free_days"].value,
        ),
        losses["rain_loss_share"],
        losses["late_loss_share"],
        losses["free_days"],
    )
    yield step_from_rows(
        say("Each half-day's delay is taken to cost {money}.", money=_delay(half)),
        half["delay"],
    )
    yield from _half_days(half, work["day"])
    yield from _rates(rates, work)
    yield _proven(answer)


def _field_wins(fields, losses):
    """By roll-outs, by the place in the queue, or by either."""
    followed = [field for field in fields if field.if_left is not None]
    if followed:
        yield Step(
            say(
                "A field wins what its own advice expects of cutting on a day, over "
                "what it brings if it is left until after the last half-day and costs "
                "the others then, each followed through the same possible summers."
            ),
            mark("Roll-outs through possible summers"),
            "from memory",
        )
    if len(followed) < len(fields) or not fields:
        yield _by_queue(losses["never_cut"], some=bool(followed))


def _by_queue(never_cut, some):
    says = say(
        "A field wins what its own advice expects of cutting on a day, over the "
        "best day after the last half-day on which the binder may have come round "
        "to it; a crop left standing keeps {share:.0%}.",
        share=never_cut.value,
    )
    if some:
        says = say("Of fields that were not followed: {says}", says=says)
    return step_from_rows(says, never_cut)


def _delay(half):
    gbp = half["delay"].value
    return by_family(
        say("£{gbp:g} a hectare", gbp=gbp),
        say("£{gbp:.2f} an acre", gbp=gbp / in_unit(1, "area", "acre")),
    )


def _asked(answer):
    question = answer.question
    says = say(
        "{fields}, {stooks}, {people} and {binders} in {half_days}.",
        fields=say_n("{n} field to cut", "{n} fields to cut", len(question.fields)),
        stooks=say_n("{n} to cart", "{n} to cart", len(question.stooks)),
        people=say_n("{n} person", "{n} people", len(question.people)),
        binders=say_n("{n} binder", "{n} binders", len(question.binders)),
        half_days=say_n("{n} half-day", "{n} half-days", len(question.half_days)),
    )
    return Step(says, mark("You, and each field's own advice"), GIVEN)


def _half_days(half, day):
    yield step_from_rows(
        say(
            "A morning has {morning:g} fit hours, an afternoon {afternoon:g}, and "
            "{share:.0%} of them after a shower in the morning; a hand works "
            "{hours:g} hours in either.",
            morning=half["morning_fit"].value,
            afternoon=half["afternoon_fit"].value,
            share=half["after_shower"].value,
            hours=day["hand_hours"].value / 2,
        ),
        half["morning_fit"],
        half["afternoon_fit"],
        half["after_shower"],
        day["hand_hours"],
    )
    yield step_from_rows(
        say(
            "A half-day is planned on if the chance that it is dry is at least "
            "{chance:.0%}, and so are stooks that are fit by such a chance.",
            chance=half["least_chance"].value,
        ),
        half["least_chance"],
    )


def _rates(rates, work):
    binder = work["binder"]
    yield step_from_rows(
        say(
            "The binder cuts {area} an hour with {hands} hands, and loses {move:g} "
            "hours by a move to another farm.",
            area=measured(rates.binder, "ha", ".2f"),
            hands=rates.binder_hands,
            move=rates.move,
        ),
        *(binder[name] for name in ("width", "speed", "efficiency", "hands")),
        work["half_day"]["move"],
    )
    yield step_from_rows(
        say(
            "To set up the sheaves of {one} takes {hours:.1f} hours of hands, untied "
            "ones and all.",
            one=measured(1, "ha"),
            hours=rates.stooking,
        ),
        work["stooking"]["area_a_day"],
        work["twine"]["mis_ties"],
        work["twine"]["tying"],
        *shipped("sheaves")["sheaves"].values(),
    )
    yield step_from_rows(
        say(
            "To cart the sheaves of {one} takes {hours:.1f} hours of hands, {crew} or "
            "more together.",
            one=measured(1, "ha"),
            hours=rates.carting,
            crew=rates.carting_hands,
        ),
        *work["carting"].values(),
        *work["cart"].values(),
    )


def _proven(answer):
    worth = answer.plan.worth
    says = say(
        "This plan is worth £{worth:,.0f}; that none is worth over £{bound:,.0f} is "
        "proven.",
        worth=worth,
        bound=answer.plan.bound,
    )
    if answer.changed is not None:
        says = say(
            "{says} Whoever is told otherwise, or a binder sent elsewhere, counts "
            "£{bother:g} against a change.",
            says=says,
            bother=BOTHER_GBP,
        )
    standing = "from memory" if answer.changed is None else "assumed"
    return Step(says, mark("A constraint program, solved by CP-SAT"), standing)
